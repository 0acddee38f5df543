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

// damageKinds are the findings of what is seen of a tire.
var damageKinds = []Kind{
	{Code: DamageBulge, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Law: LawSeparation, Work: WorkTireReplace, Caution: CautionBulge, Scrap: true, LetDown: LetDownAlways, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageSeparation, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Law: LawSeparation, Work: WorkTireReplace, Caution: CautionBulge, Scrap: true, LetDown: LetDownAlways, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageRadialRipple, Urgency: BeforeDriving, Still: true, Of: OfTire, Measured: Nothing, Limit: Nothing, Law: LawSeparation, Work: WorkTireReplace, Caution: CautionZipper, Scrap: true, LetDown: LetDownAlways, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageRetreadEdgeLifting, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Law: LawSeparation, Work: WorkTireReplace, Caution: CautionDamagedTire, Scrap: true, LetDown: LetDownLarge, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageCut, Urgency: ThisVisit, LeavesOpen: true, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTireLookClosely, LetDown: LetDownLarge, Again: AgainWhole, Left: LeftNothing, Cured: []Done{DoneProbed}},
	{Code: DamageCutToCord, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Law: LawCut, Work: WorkTireReplace, Caution: CautionDamagedTire, Scrap: true, LetDown: LetDownAlways, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageCurbScuff, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageRubbing, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkReferSteeringSuspension, Caution: CautionLifting, LetDown: LetDownLarge, Again: AgainWhole, Left: LeftNothing, Cured: []Done{DoneSteeringPartRenewed, DoneSuspensionPartRenewed}},
	{Code: DamageCordShowing, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Law: LawCordExposed, Work: WorkTireReplace, Caution: CautionDamagedTire, Scrap: true, LetDown: LetDownAlways, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageChunking, Urgency: ThisVisit, LeavesOpen: true, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTireLookClosely, LetDown: LetDownLarge, Again: AgainWhole, Left: LeftNothing, Cured: []Done{DoneProbed}},
	{Code: DamageTornLug, Urgency: ThisVisit, LeavesOpen: true, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTireLookClosely, LetDown: LetDownLarge, Again: AgainWhole, Left: LeftNothing, Cured: []Done{DoneProbed}},
	{Code: DamageEdgeWornSmooth, Urgency: ThisVisit, LeavesOpen: true, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTireLookClosely, Again: AgainWhole, Left: LeftNothing, Cured: []Done{DoneProbed}},
	{Code: DamageStoneDrilling, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageInwardDent, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageCracksFine, Urgency: Note, Of: OfTire, Measured: Nothing, Limit: Nothing, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageCracksOpen, Urgency: ThisVisit, LeavesOpen: true, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTireLookClosely, LetDown: LetDownLarge, Again: AgainWhole, Left: LeftNothing, Cured: []Done{DoneProbed}},
	{Code: DamageCracksJoined, Urgency: ThisVisit, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTireReplace, Caution: CautionDamagedTire, Scrap: true, LetDown: LetDownLarge, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageCracksToCord, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Law: LawCordExposed, Work: WorkTireReplace, Caution: CautionDamagedTire, Scrap: true, LetDown: LetDownAlways, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageDualsRubbing, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Pair: true, Work: WorkWheelClearSpace, Caution: CautionLifting, LetDown: LetDownLarge, Again: AgainWhole, Left: LeftNothing, Cured: []Done{DoneDualsCleared}},
	{Code: DamageBlistering, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Law: LawSeparation, Work: WorkTireReplace, Caution: CautionDamagedTire, Scrap: true, LetDown: LetDownAlways, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageBead, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTireReplace, Caution: CautionDamagedTire, Scrap: true, LetDown: LetDownLarge, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageLinerSplit, Urgency: BeforeDriving, Of: OfTire, Measured: Nothing, Limit: Nothing, Work: WorkTireReplace, Caution: CautionDamagedTire, Scrap: true, LetDown: LetDownLarge, Again: AgainWhole, Left: LeftNothing},
	{Code: DamageCutLimit, Urgency: BeforeDriving, Of: OfTire, Measured: Length, Limit: Length, Caution: CautionDamagedTire, LetDown: LetDownLarge, Again: AgainWhole, Left: LeftNothing, Cured: []Done{DoneProbed}},
}

// damageFacts are the evidence about what is seen of a tire.
var damageFacts = []FactKind{
	{Code: FactDamageSize, Amount: Length},
}
