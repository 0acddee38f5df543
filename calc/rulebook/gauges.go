package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/unit"
)

// Subjects of the book of gauges.
const (
	DepthGaugeQuality  Subject = "accuracy of a tread depth gauge"
	LengthGaugeQuality Subject = "accuracy of a length measured by hand"
)

// gauges is always on: how well tread and damage are measured when nothing better was
// told. Gauges of pressure stand in the book of pressure, tapes in that of fitment.
var gauges = Book{
	ID: "gauges", Version: 2, Title: "Gauges of tread depth and length (binds nobody)",
	Limits: []Limit{
		handGauge("depth-graduation", DepthGaugeQuality, thirtySeconds(1), "a depth gauge that nothing was told of", "One graduation of 1/32 in, whatever unit was typed."),
		handGauge("depth-by-hand", DepthGaugeQuality, thirtySeconds(0.4), "a depth gauge graduated in thirty-seconds, and one that nothing was told of", "Read with a standard deviation of 0.40/32 in."),
		handGauge("depth-by-hand-metric", DepthGaugeQuality, tread(0.32), "any other graduated depth gauge", "Read with a standard deviation of 0.32 mm."),
		handGauge("depth-electronic", DepthGaugeQuality, tread(0.15), "an electronic depth gauge or scanner", "Read with a standard deviation of 0.15 mm."),
		handGauge("depth-fine", DepthGaugeQuality, tread(0.1), "a depth gauge of steps as fine as this or finer", "It is taken for an electronic one."),
		handGauge("depth-zero", DepthGaugeQuality, thirtySeconds(1), "a depth gauge whose accuracy was not told", "Its zero is off by up to 1/32 in either way, alike at all readings of all visits: it counts for the life of a tire, and falls out of differences."),
		handGauge("length-graduation", LengthGaugeQuality, millimeters(0.5), "a cut or a distance on a tire", "One graduation of 0.5 mm."),
		handGauge("length-repeatability", LengthGaugeQuality, millimeters(0.2), "a cut or a distance on a tire", "Read with a standard deviation of 0.2 mm."),
	},
}

func handGauge(id string, of Subject, value unit.Amount, text, says string) Limit {
	return Limit{
		ID: id, Subject: of, Value: value, Applies: Scope{Text: text},
		Authority: finding.CommonPractice, Citation: practice, Known: finding.FromMemory, Says: says,
	}
}
