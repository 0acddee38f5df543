package finding

// Where someone could be hurt.
const (
	CautionWheelFastening           Caution = "caution.wheel-fastening"
	CautionLeakOrFlat               Caution = "inflation.caution-leak-or-flat" // flat or leaking
	CautionDeflate                  Caution = "inflation.caution-deflate"      // steel body
	CautionRunLow                   Caution = "inflation.caution-run-low"      // car and fabric body
	CautionAddingAir                Caution = "inflation.caution-adding-air"   // any air put in
	CautionNeverBleed               Caution = "inflation.caution-never-bleed"  // warm tires
	CautionPunctureNoAir            Caution = "puncture.no-air"
	CautionPunctureZipper           Caution = "puncture.zipper"
	CautionPunctureTrainedRepairer  Caution = "puncture.trained-repairer"
	CautionPunctureDemount          Caution = "puncture.demount"
	CautionPunctureDemountTruck     Caution = "puncture.demount-truck"
	CautionPunctureSealantFlammable Caution = "puncture.sealant-flammable"
	CautionLookBeforeAir            Caution = "caution.look-before-air"
	CautionDamagedTire              Caution = "caution.damaged-tire"
	CautionBulge                    Caution = "caution.bulge"
	CautionLifting                  Caution = "caution.lifting"
	CautionZipper                   Caution = "caution.zipper"
	CautionOverload                 Caution = "caution.overload"
	CautionDefer                    Caution = "caution.defer" // whom all of them defer to, told once beside those told in brief
)

// cautionKinds are the cautions.
var cautionKinds = []CautionKind{
	{Code: CautionWheelFastening, OfAct: true},
	{Code: CautionLeakOrFlat},
	{Code: CautionDeflate, Gravity: 4},
	{Code: CautionRunLow, Gravity: 2},
	{Code: CautionAddingAir, OfAct: true},
	{Code: CautionNeverBleed, OfAct: true},
	{Code: CautionPunctureNoAir},
	{Code: CautionPunctureZipper},
	{Code: CautionPunctureTrainedRepairer},
	{Code: CautionPunctureDemount, Gravity: 1},
	{Code: CautionPunctureDemountTruck, Gravity: 3},
	{Code: CautionPunctureSealantFlammable},
	{Code: CautionLookBeforeAir},
	{Code: CautionDamagedTire},
	{Code: CautionBulge},
	{Code: CautionLifting},
	{Code: CautionZipper},
	{Code: CautionOverload},
	{Code: CautionDefer, OfAct: true},
}
