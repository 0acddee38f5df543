// Package verdict judges a whole visit: it lets the data flow from question to question,
// closes what the visit put right, and orders the work.
package verdict

import (
	"maps"
	"slices"

	"gaugebook.dev/calc/closing"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/visit"
)

// Judge says what is to be said of a visit. The order in which wheels, readings
// and observations are given changes nothing.
func Judge(v visit.Visit) Verdict {
	v = v.InOrder()
	if !v.Vehicle.Class.Judged() {
		return notJudged(v)
	}
	law := questions.Law(questions.LawIn{Vehicle: v.Vehicle, Use: v.Use, Books: v.Books, Own: v.Own, AsOf: v.AsOf})
	v.Vehicle = law.Vehicle
	laws, labels := law.Laws, v.Labels()
	doubts := questions.Doubts(questions.DoubtsIn{Labels: labels, Gauge: v.DepthGauge, Wheels: v.Wheels, Odometers: v.Odometers})
	v = withoutDoubts(v, doubts)
	wheels, road := v.Wheels, v.OnRoad()
	laws.Vehicle, labels = v.Vehicle, v.Labels()
	depths := tread.Context{Vehicle: v.Vehicle, Books: law.Books, AsOf: v.AsOf, Wintry: v.Wintry}

	damage := questions.Damage(questions.DamageIn{Laws: laws, Wheels: wheels})
	treads := questions.Tread(questions.TreadIn{Context: depths, Gauge: v.DepthGauge, Wheels: road})
	fitted := questions.Fitted(questions.TreadIn{Context: depths, Gauge: v.DepthGauge, Wheels: v.Fitted()})
	winter := questions.Winter(questions.TreadIn{Context: depths, Gauge: v.DepthGauge, Wheels: road})
	age := questions.Age(questions.AgeIn{Laws: laws, AsOf: v.AsOf, Wheels: wheels})
	axles := questions.Axles(questions.AxlesIn{Context: depths, Treads: treads.Treads})
	air := questions.Air(questions.AirIn{Laws: laws, Labels: labels, Conditions: v.Conditions, Lamp: v.Lamp, Wheels: wheels})
	towing := questions.Towing(questions.TowingIn{Laws: laws, Labels: labels, Tows: v.Use.Tows, Wheels: road, Airs: air.Airs})
	load := questions.Load(questions.LoadIn{Laws: laws, Scale: v.Scale(), Wheels: wheels, Airs: air.Airs})
	heat := questions.Heat(questions.HeatIn{Laws: laws, Wheels: road, Airs: air.Airs})
	holes := questions.Holes(questions.HolesIn{Laws: laws, Wheels: wheels, Treads: treads.Treads, Airs: air.Airs})
	wear := questions.Wear(questions.WearIn{Labels: labels, Work: v.Work, Gauge: v.DepthGauge, Earlier: v.Earlier, Wheels: road, Treads: treads.Treads})
	fitment := questions.Fitment(questions.FitmentIn{
		Laws: laws, AsOf: v.AsOf, Labels: labels, Maker: v.Maker, Report: v.SpareReport, Shown: v.SpeedShown, Wheels: wheels, Treads: treads.Treads,
	})
	carrying := questions.Carrying(questions.CarryingIn{Scale: v.Scale(), Wheels: wheels, Airs: air.Airs, Fits: fitment.Fits})
	scrapped := union(damage.Scrapped, fitment.Scrapped)
	moved := questions.Moved(questions.MovedIn{Rotating: v.Rotating, Wheels: road, Treads: treads.Treads})
	rotated := questions.Rotation(questions.RotationIn{
		Vehicle: v.Vehicle, Rotating: v.Rotating, Gauge: v.DepthGauge, Day: v.Day, Wheels: road, Treads: treads.Treads,
		Causes: wear.Uncured, Due: wear.Missed, Scrapped: scrapped, InDoubt: moved.InDoubt, Airs: air.Airs, Repairs: holes.Repairs,
	})
	trend := questions.Trend(questions.TrendIn{
		Laws: laws, Day: v.Day, Odometer: v.Odometer.Unit, Gauge: v.DepthGauge, Wheels: road, Treads: treads.Treads, InDoubt: doubts.Distance || doubts.Copied, Moved: v.Rotating.Moved,
		Depths: slices.Concat(treads.Causes(), winter.Causes(), axles.Causes()),
	})
	loss := questions.Loss(questions.LossIn{Labels: labels, Conditions: v.Conditions, Day: v.Day, Wheels: road, Airs: air.Airs})
	sensors := questions.Sensors(questions.SensorIn{
		Monitoring: v.Monitoring, Reset: v.Reset, Lamp: v.Lamp, LampLeft: v.LampLeft, Labels: labels, Wheels: wheels,
		Airs: air.Airs, Silent: damage.Silent, Unexplained: air.Lamp,
	})
	fasteners := questions.Fasteners(questions.FastenerIn{Vehicle: v.Vehicle, Each: v.EachWheel, Torque: v.Torque, Wheels: wheels})
	spare := questions.Spare(questions.SpareIn{
		Labels: labels, Report: v.SpareReport, LockingKey: v.LockingKey, AsOf: v.AsOf, Wheels: wheels, Tread: depths, Gauge: v.DepthGauge, Tows: v.Use.Tows,
		Watched: v.Watched(), Lamp: v.Lamp,
	})
	var causes []questions.Cause // only a complaint stands on them
	if len(v.Complaints) > 0 {
		causes = slices.Concat(damage.Causes(), axles.Causes(), air.Causes(), wear.Causes(), sensors.Causes())
	}
	complaints := questions.Complaints(questions.ComplaintIn{
		Complaints: v.Complaints, Vehicle: v.Vehicle, Lamp: v.Lamp, Wheels: wheels, Airs: air.Airs, Causes: causes,
	})
	looked := questions.Looked(questions.LookedIn{
		Vehicle: v.Vehicle, Spare: v.Spare, Wheels: wheels, Airs: air.Airs, Repairs: holes.Repairs,
		ValveWrong: slices.Concat(damage.ValveWrong, fitment.ValveWrong),
	})

	all := questions.Together(law.Answer, doubts.Answer, damage.Answer, treads.Answer, fitted, winter, age, axles, air.Answer, heat, towing, load.Answer, holes.Answer,
		wear.Answer, fitment.Answer, moved.Answer, rotated.Answer, trend, loss, sensors, fasteners.Answer, spare.Answer, complaints.Answer, looked.Answer)
	left := closing.AsLeft(closing.In{Visit: v, Tread: depths, Findings: all.Findings, PutRight: fasteners.PutRight, Torqued: fasteners.Recorded, NoAir: air.NoAir(), ToSet: air.ToSet(), Device: air.Device(), AsLabel: fitment.AsLabel})
	work := order.Of(order.In{Visit: v, Books: law.Books, Findings: all.Findings, Left: left, Facts: order.Facts{
		Treads: treads.Treads, Air: air, Load: load, Holes: holes, Wear: wear, Fitment: fitment,
		Map: rotated.Map, Fasteners: fasteners, Unseen: complaints.Unseen, Scrapped: scrapped,
	}})
	rims := questions.Rims(questions.RimsIn{Labels: labels, Conditions: v.Conditions, Wheels: wheels, Opened: order.Opened(work)})
	all.Findings, all.Asked = append(all.Findings, rims.Findings...), append(all.Asked, rims.Asked...)
	return Verdict{
		Findings: all.Findings, Closed: left.Readings, Done: left.Done, Work: work, Wheels: summaries(v, spare.With(treads.Treads), air.Airs),
		Repairs: holes.Repairs, Checked: all.Checked, NotLooked: looked.NotLooked, NotJudged: slices.Concat(v.Recorded, all.NotJudged),
		Unanswered: all.Asked, Books: law.Books, Fits: carrying.Fits, Axles: carrying.Axles,
		Rotation: Rotation{rotated.Result, moved.Unrecorded, rotated.Pace}, Airs: air.Airs,
	}.inOrder()
}

// classNames say which class is not judged here.
var classNames = map[layout.Class]finding.Recorded{
	layout.Motorcycle: finding.RecordedClassMotorcycle, layout.Farm: finding.RecordedClassFarm, layout.Earthmover: finding.RecordedClassEarthmover,
	layout.Military: finding.RecordedClassMilitary, layout.Race: finding.RecordedClassRace, layout.UnknownClass: finding.RecordedClassNotJudgedHere,
}

// notJudged answers for a class of vehicle that is not judged here.
func notJudged(v visit.Visit) Verdict {
	return Verdict{
		NotJudged: append(slices.Clone(v.Recorded), visit.NotJudged{Code: classNames[v.Vehicle.Class]}),
		Rotation:  Rotation{Result: rotation.For(rotation.Vehicle{Layout: v.Vehicle})},
	}.inOrder()
}

func union(a, b map[layout.Position]bool) map[layout.Position]bool {
	all := maps.Clone(a)
	maps.Copy(all, b)
	return all
}

// withoutDoubts is a visit without what contradicts itself.
func withoutDoubts(v visit.Visit, doubts questions.DoubtsAnswer) visit.Visit {
	v.Wheels, v.Vehicle.Axles = doubts.Wheels, doubts.Axles
	if doubts.Copied { // what the tires lost since then is not known
		v.Rotating.Before = nil
	}
	if doubts.Distance { // how far the vehicle ran between visits is not known
		v.Rotating.Before = nil
		for i := range v.Wheels {
			v.Wheels[i].History.Here, v.Wheels[i].History.OnTire = nil, nil
		}
	}
	return v
}
