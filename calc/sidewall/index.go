package sidewall

import (
	"math"

	"gaugebook.dev/calc/unit"
)

// indexKilograms is the load of each load index from 0 to 200, one tire alone
// (ISO 4000-1, UN Regulations 30 and 54): the preferred numbers of ISO 3, series
// R80, from 4.5 on, some of them rounded to halves of a step. Read in published
// tables up to 180; 181 to 200 are from memory, ten times the entry 80 lower.
var indexKilograms = [...]float64{
	45, 46.2, 47.5, 48.7, 50, 51.5, 53, 54.5, 56, 58, // 0
	60, 61.5, 63, 65, 67, 69, 71, 73, 75, 77.5, // 10
	80, 82.5, 85, 87.5, 90, 92.5, 95, 97.5, 100, 103, // 20
	106, 109, 112, 115, 118, 121, 125, 128, 132, 136, // 30
	140, 145, 150, 155, 160, 165, 170, 175, 180, 185, // 40
	190, 195, 200, 206, 212, 218, 224, 230, 236, 243, // 50
	250, 257, 265, 272, 280, 290, 300, 307, 315, 325, // 60
	335, 345, 355, 365, 375, 387, 400, 412, 425, 437, // 70
	450, 462, 475, 487, 500, 515, 530, 545, 560, 580, // 80
	600, 615, 630, 650, 670, 690, 710, 730, 750, 775, // 90
	800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030, // 100
	1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360, // 110
	1400, 1450, 1500, 1550, 1600, 1650, 1700, 1750, 1800, 1850, // 120
	1900, 1950, 2000, 2060, 2120, 2180, 2240, 2300, 2360, 2430, // 130
	2500, 2575, 2650, 2725, 2800, 2900, 3000, 3075, 3150, 3250, // 140
	3350, 3450, 3550, 3650, 3750, 3875, 4000, 4125, 4250, 4375, // 150
	4500, 4625, 4750, 4875, 5000, 5150, 5300, 5450, 5600, 5800, // 160
	6000, 6150, 6300, 6500, 6700, 6900, 7100, 7300, 7500, 7750, // 170
	8000, 8250, 8500, 8750, 9000, 9250, 9500, 9750, 10000, 10300, // 180
	10600, 10900, 11200, 11500, 11800, 12150, 12500, 12850, 13200, 13600, // 190
	14000, // 200
}

// IndexLoad gives the load of a load index; false outside 0 to 200.
func IndexLoad(index int) (unit.Mass, bool) {
	if index < 0 || index >= len(indexKilograms) {
		return 0, false
	}
	return unit.MustMass(indexKilograms[index], unit.Kilograms), true
}

// PrintedPounds gives a load rating as a sidewall prints it beside its
// kilograms: rounded to the nearest whole pound (49 CFR 571.139 S5.5.4(b)).
func PrintedPounds(m unit.Mass) unit.Amount {
	return unit.Amount{Number: math.Round(m.In(unit.Pounds)), Unit: unit.Pounds}
}

// PrintedPSI gives a pressure as a sidewall prints it beside its kilopascals:
// rounded up to the next whole psi (49 CFR 571.139 S5.5.4(a)). The table of
// 49 CFR 571.138 rounds 340 kPa down, to 49 psi; a sidewall says 50.
func PrintedPSI(p unit.Pressure) unit.Amount {
	return unit.Amount{Number: math.Ceil(p.In(unit.PSI) - closeness), Unit: unit.PSI}
}
