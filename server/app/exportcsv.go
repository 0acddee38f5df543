package app

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
)

// write writes the records of a kind as CSV. A visit that was corrected is told by its
// correction alone.
func (k csvKind) write(to io.Writer, each func(func(*rows.Exported) error) error, written func()) error {
	corrected := map[string]bool{}
	if k.many {
		err := each(func(r *rows.Exported) error {
			if c := r.GetInspection().GetCorrects(); c != nil {
				corrected[c.GetInspectionId()] = true
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	out := csv.NewWriter(to)
	if err := out.Write(k.columns); err != nil {
		return err
	}
	err := each(func(r *rows.Exported) error {
		if corrected[r.GetInspection().GetId()] {
			return nil
		}
		of := k.rows(r)
		if len(of) > 0 {
			written()
		}
		for _, row := range of {
			var values []string
			for _, column := range k.columns {
				values = append(values, row[column])
			}
			if err := out.Write(values); err != nil {
				return err
			}
		}
		return nil
	})
	out.Flush()
	if err != nil {
		return err
	}
	return out.Error()
}

// decimalNumber is a number as it is read again.
func decimalNumber(n float64) string { return strconv.FormatFloat(n, 'f', -1, 64) }

func depthAsRead(d *pb.Depth) (value, unit string) {
	switch as := d.GetAsRead().(type) {
	case *pb.Depth_Millimeters:
		return decimalNumber(as.Millimeters), "mm"
	case *pb.Depth_ThirtySecondsInch:
		return decimalNumber(as.ThirtySecondsInch), "1/32 in"
	}
	return "", ""
}

func pressureAsRead(p *pb.Pressure) (value, unit string) {
	switch as := p.GetAsRead().(type) {
	case *pb.Pressure_Kilopascals:
		return decimalNumber(as.Kilopascals), "kPa"
	case *pb.Pressure_Bar:
		return decimalNumber(as.Bar), "bar"
	case *pb.Pressure_Psi:
		return decimalNumber(as.Psi), "psi"
	}
	return "", ""
}

func distanceAsRead(d *pb.Distance) (value, unit string) {
	switch as := d.GetAsRead().(type) {
	case *pb.Distance_Kilometers:
		return decimalNumber(as.Kilometers), "km"
	case *pb.Distance_Miles:
		return decimalNumber(as.Miles), "mi"
	}
	return "", ""
}

// visitRows are a visit's: one for each wheel, and more where a place was read more than once
// or in another unit. Readings as found and across the tread are told.
func visitRows(r *rows.Exported) (all []map[string]string) {
	in := r.GetInspection()
	if in == nil {
		return nil
	}
	for _, w := range in.GetWheels() {
		all = append(all, wheelRows(w)...)
	}
	if len(all) == 0 {
		all = []map[string]string{{}}
	}
	for _, row := range all {
		row["visit"], row["vehicle"] = in.GetId(), in.GetVehicleId()
		row["odometer"], row["odometer_unit"] = distanceAsRead(in.GetOdometer())
		if d := in.GetLocalDate(); d != nil {
			row["date"] = fmt.Sprintf("%04d-%02d-%02d", d.GetYear(), d.GetMonth(), d.GetDay())
		}
		switch {
		case in.GetTakenTime() != nil:
			row["time"] = in.GetTakenTime().AsTime().Format(time.RFC3339Nano)
		case in.GetLocalDate() == nil:
			row["time"] = r.GetCountedTime().AsTime().Format(time.RFC3339Nano)
		}
	}
	return all
}

func wheelRows(w *pb.WheelReport) []map[string]string {
	all := []map[string]string{{}}
	put := func(column, unitColumn, value, unit string) {
		i := slices.IndexFunc(all, func(row map[string]string) bool {
			return row[column] == "" && (row[unitColumn] == "" || row[unitColumn] == unit)
		})
		if i < 0 {
			i = len(all)
			all = append(all, map[string]string{})
		}
		all[i][column], all[i][unitColumn] = value, unit
	}
	for _, t := range w.GetTread() {
		across := int(t.GetPlace().GetAcross()) - 1
		value, unit := depthAsRead(t.GetDepth())
		if value != "" && across >= 0 && across < len(acrossColumns) && t.GetPhase() != pb.Phase_PHASE_AS_LEFT {
			put(acrossColumns[across], "depth_unit", value, unit)
		}
	}
	for _, p := range w.GetPressures() {
		if value, unit := pressureAsRead(p.GetPressure()); value != "" && p.GetPhase() != pb.Phase_PHASE_AS_LEFT {
			put("pressure", "pressure_unit", value, unit)
		}
	}
	for _, row := range all {
		row["position"], row["tire"] = w.GetPosition(), w.GetTireId()
	}
	return all
}

// vehicleRows are a vehicle's one. An axle whose label has another unit than the first is told
// without its pressure.
func vehicleRows(r *rows.Exported) []map[string]string {
	v := r.GetVehicle()
	if v == nil {
		return nil
	}
	person := v.GetCustomerData()
	row := map[string]string{
		"vehicle": v.GetId(), "tag": v.GetTag(),
		"plate": person.GetPlate(), "customer": person.GetCustomer(), "contact": person.GetContact(), "vehicle_identification": person.GetVehicleIdentification(),
	}
	if c := v.GetVehicleClass(); c != pb.VehicleClass_VEHICLE_CLASS_UNSPECIFIED {
		row["class"] = strings.ToLower(strings.ReplaceAll(strings.TrimPrefix(c.String(), "VEHICLE_CLASS_"), "_", " "))
	}
	var dual []string
	for i, a := range v.GetAxles().GetAxles() {
		name := strconv.Itoa(i + 1)
		row["axles"] = name
		if a.GetWheels() == pb.AxleWheels_AXLE_WHEELS_DUAL {
			dual = append(dual, name)
		}
		value, unit := pressureAsRead(a.GetColdNormalLoad())
		if value == "" || row["pressure_unit"] != "" && row["pressure_unit"] != unit {
			continue
		}
		row["pressure_"+name], row["pressure_unit"] = value, unit
	}
	row["dual_axles"] = strings.Join(dual, " ")
	return []map[string]string{row}
}

func tireRows(r *rows.Exported) []map[string]string {
	t := r.GetTire()
	if t == nil {
		return nil
	}
	wall := t.GetSidewall()
	return []map[string]string{{"tire": t.GetId(), "marking": wall.GetMarking(), "identification": wall.GetIdentification(), "load_range": wall.GetLoadRange()}}
}
