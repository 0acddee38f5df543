package trend

import (
	"math"
	"slices"

	"gaugebook.dev/calc/unit"
)

// Pace is how far a vehicle is driven in a day, from the last place and day known.
// Slow and Fast are the least and the most of any month or longer on record.
type Pace struct {
	From             unit.Distance
	Day              unit.Date
	Slow, Mean, Fast unit.Distance // a day
}

// PaceTold is a pace that somebody told, from a place and a day.
func PaceTold(perDay, from unit.Distance, day unit.Date) Pace {
	return Pace{From: from, Day: day, Slow: perDay, Mean: perDay, Fast: perDay}
}

// PaceOf takes the pace from the days of points that were measured; ok is false
// where they span less than a month or no distance.
func PaceOf(points []Point) (p Pace, ok bool) {
	var known []Point
	for _, q := range points {
		if !q.Day.IsZero() && !q.Assumed {
			known = append(known, q)
		}
	}
	if len(known) < 2 {
		return Pace{}, false
	}
	slices.SortFunc(known, func(a, b Point) int { return a.Day.Compare(b.Day) })
	month := int(book.Limit("pace").Value.Number)
	first, last := known[0], known[len(known)-1]
	p = Pace{From: last.Run, Day: last.Day}
	if first.Day.DaysUntil(last.Day) < month || last.Run <= first.Run {
		return Pace{}, false
	}
	p.Mean = perDay(first, last)
	p.Slow, p.Fast = p.Mean, p.Mean
	from := first
	for _, to := range known {
		if from.Day.DaysUntil(to.Day) < month || to.Day.DaysUntil(last.Day) < month && to.Day != last.Day {
			continue // what is left of the record is no month: it belongs to this stretch
		}
		p.Slow, p.Fast = min(p.Slow, perDay(from, to)), max(p.Fast, perDay(from, to))
		from = to
	}
	p.Slow = max(p.Slow, 0)
	return p, true
}

func perDay(from, to Point) unit.Distance {
	return (to.Run - from.Run) / unit.Distance(from.Day.DaysUntil(to.Day))
}

// Days are when a crossing is, the zero Date where no day can be told. The
// interval is that of the distance, driven at the fastest and the slowest pace on
// record.
type Days struct{ At, Earliest, Latest unit.Date }

// Dates tells a crossing by the calendar.
func (p Pace) Dates(c Crossing) Days {
	return Days{
		At:       p.date(c.At, p.Mean, p.Mean, math.Round),
		Earliest: p.date(c.Earliest, p.Fast, p.Slow, math.Floor),
		Latest:   p.date(c.Latest, p.Slow, p.Fast, math.Ceil),
	}
}

// date is when a place is reached at one pace if it lies ahead, or was passed at
// another. Nothing is told of more than a lifetime of a tire away.
func (p Pace) date(at *unit.Distance, ahead, behind unit.Distance, round func(float64) float64) unit.Date {
	const lifetime = 30 * 365
	if at == nil || p.Day.IsZero() {
		return unit.Date{}
	}
	pace := ahead
	if *at < p.From {
		pace = behind
	}
	days := float64(*at-p.From) / float64(pace)
	if math.IsNaN(days) || math.Abs(days) > lifetime {
		return unit.Date{}
	}
	return p.Day.After(int(round(days)))
}
