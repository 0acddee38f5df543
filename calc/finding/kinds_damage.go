package finding

// Findings of what is seen of a tire.
const (
	DamageBulge              Code = "damage.bulge"
	DamageSeparation         Code = "damage.separation"
	DamageRadialRipple       Code = "damage.radial-ripple"
	DamageRetreadEdgeLifting Code = "damage.retread-edge-lifting"
	DamageCut                Code = "damage.cut"
	DamageCutToCord          Code = "damage.cut-to-cord"
	DamageCurbScuff          Code = "damage.curb-scuff"
	DamageRubbing            Code = "damage.rubbing"
	DamageCordShowing        Code = "damage.cord-showing"
	DamageChunking           Code = "damage.chunking"
	DamageTornLug            Code = "damage.torn-lug"
	DamageEdgeWornSmooth     Code = "damage.edge-worn-smooth"
	DamageStoneDrilling      Code = "damage.stone-drilling"
	DamageInwardDent         Code = "damage.inward-dent"
	DamageCracksFine         Code = "damage.cracks-fine"
	DamageCracksOpen         Code = "damage.cracks-open"
	DamageCracksJoined       Code = "damage.cracks-joined"
	DamageCracksToCord       Code = "damage.cracks-to-cord"
	DamageDualsRubbing       Code = "damage.duals-rubbing"
	DamageBlistering         Code = "damage.blistering"
	DamageBead               Code = "damage.bead"
	DamageLinerSplit         Code = "damage.liner-split"
	DamageCutLimit           Code = "damage.cut-limit"
)

// Evidence about what is seen of a tire.
const (
	FactDamageSize Fact = "damage.size"
)
