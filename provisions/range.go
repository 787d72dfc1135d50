package provisions

import (
	"slices"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// RangeRow is how far the fuel that can be counted on takes her at one row of the curve,
// in smooth water without wind or current: a head sea takes from it what no curve knows.
type RangeRow struct {
	RPM      int
	Speed    quantity.Speed    // with the fouling
	Burn     quantity.Flow     // the engine's; where the heater runs the miles count its burn too
	Whole    quantity.Distance // with the reserve whole
	LastDrop quantity.Distance
	Cruise   bool    // the row's revs are cruise_rpm
	Further  float64 // share by which Whole is more than at cruise_rpm; 0.41: 41 % further
	Capped   bool    // a defect allows no such revs; the passage below is then at those it allows

	// The passage in the slow case with every leg at these revs, where it is then made.
	Made   bool
	Later  time.Duration // than as planned; negative: earlier; 0 where the plan's slow case is not made
	Arrive time.Time
	Fuel   Amount // used
	InHand Days   // days from that arrival to the season's end; negative: too late; Never: no season is given
}

// ranges are the miles under engine, one row a row of the curve, from what is available
// at the first stretch's beginning: miles = litres / (litres an hour) * knots.
func (s Situation) ranges(r Reckoning) []RangeRow {
	fuel, ok := r.Resources[passage.Fuel].First()
	if !ok || !s.Boat.Engine.HasCurve() {
		return nil
	}

	h := newHousehold(s.Boat, s.Plan)
	cruise := s.milesALitre(h, s.Boat.Engine.CruiseRPM)
	list := make([]RangeRow, 0, len(s.Boat.Engine.Curve))
	for _, row := range s.Boat.Engine.Curve {
		speed, _ := s.Boat.Engine.MotoringAt(row.RPM, s.Trim)
		far := s.milesALitre(h, row.RPM)
		out := RangeRow{
			RPM: row.RPM, Speed: speed, Burn: row.Burn,
			Whole:    quantity.Distance(max(0, float64(fuel.Available-fuel.Reserve)) * far),
			LastDrop: quantity.Distance(max(0, float64(fuel.Available)) * far),
			Cruise:   row.RPM == s.Boat.Engine.CruiseRPM,
			Capped:   s.Trim.RPMCap > 0 && row.RPM > s.Trim.RPMCap,
		}
		if cruise > 0 {
			out.Further = far/cruise - 1
		}
		s.passageAt(&out, h, r)
		list = append(list, out)
	}
	return list
}

// milesALitre is how far a litre takes her at these revs, the heater's burn counted
// where it runs; 0 outside the curve and where no burn is given.
func (s Situation) milesALitre(h household, rpm int) float64 {
	speed, ok := s.Boat.Engine.MotoringAt(rpm, s.Trim)
	burn, _, known := s.Boat.Engine.BurnAt(rpm)
	if !ok || !known || burn <= 0 {
		return 0
	}
	return float64(speed) / (float64(burn) + h.heater/dayHours)
}

// passageAt fills in the slow passage with every leg at the row's revs.
func (s Situation) passageAt(row *RangeRow, h household, r Reckoning) {
	plan := s.Plan
	plan.Legs = slices.Clone(plan.Legs)
	for i := range plan.Legs {
		plan.Legs[i].RPM = row.RPM
	}
	c := h.follow(passage.Run(plan, s.Boat.Engine, passage.Slow, r.Depart, s.Trim))
	if !c.voyage.Made() {
		return
	}

	row.Made = true
	row.Arrive = c.voyage.Arrive()
	row.Fuel = c.figures().Fuel
	row.InHand = inHand(plan.Before, row.Arrive)
	if planned := r.Cases[passage.Slow].Voyage; len(planned.Arrivals) > 0 {
		row.Later = row.Arrive.Sub(planned.Arrive())
	}
}

// inHand is how many days an arrival is before the day of the season's end, on which
// she must be in: that day is already too late. It begins at midnight in the arrival's
// own offset, which is the departure's.
func inHand(before quantity.Date, arrive time.Time) Days {
	if before.IsZero() {
		return Days{Never: true}
	}
	return Days{Days: before.In(arrive.Location()).Sub(arrive).Hours() / dayHours}
}
