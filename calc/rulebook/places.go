package rulebook

// places are the books of law in the order they are shown: of each place the newest.
var places = []*Book{
	&usLight,
	&usCA, &usIL, &usMD, &usNC, &usRI, &usWA, &usVA, &usGA, &usMN,
	&usCommercial, &usHeavyModel,
	&ukLight, &ukHeavy,
	&euDE, &euAT, &euFR, &euES, &euIT, &euPT, &euSK, &euCZ, &euFI, &euSE,
	&winterSI, &winterEE, &winterLV, &euFloor,
	&ch, &no, &noNorth,
	&caBC, &caON, &caQC, &ar, &cl, &auWA, &nz,
}
