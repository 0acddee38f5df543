package rulebook

// places are the books of law in the order they are shown: of each place the newest.
var places = []*Book{
	&usLight,
	&usCA, &usIL, &usMD, &usNC, &usRI, &usWA, &usVA, &usGA, &usMN, &usPA, &usTX, &usMI, &usCO, &usOR,
	&usCommercial, &usHeavyModel,
	&ukLight, &ukHeavy,
	&euDE, &euAT, &euFR, &euES, &euIT, &euPT, &euSK, &euCZ, &euFI, &euSE,
	&euDK, &euBE, &euIE, &euPL, &euLT,
	&winterSI, &winterEE, &winterLV, &euBG, &euRO, &euHR, &euHU, &euFloor,
	&ch, &no, &noNorth,
	&caBC, &caON, &caQC, &ar, &cl, &co, &dominican, &auWA, &nz,
}
