package passage

import (
	"math"

	"boat/hoveshort/provisions/quantity"
)

const (
	// estimatedBurn is the fuel burnt per unit of shaft work where no curve was
	// measured, 0.30 L/kWh: a small natural-breathing diesel at 34 %, the thirsty
	// end of 0.29 to 0.30. Source: reckoned from a trade text's 0.325 to 0.450
	// lb/bhp-h and diesel's heating value (US DOE, Alternative Fuels Data Center).
	estimatedBurn = 0.30

	// leastBurn is the least that is planned on without a curve, 0.5 L/h: the
	// cubic law falls to nothing at low revs, an engine does not. Common practice, no source.
	leastBurn = 0.5

	// propellerExponent is the cubic propeller law of a fixed-pitch screw.
	// Source: 40 CFR 1042 Appendix II, cycles E3 and E5 (ISO 8178-4).
	propellerExponent = 3
)

// HasCurve says whether there are the two rows that a curve needs.
func (e Engine) HasCurve() bool { return len(e.Curve) >= 2 }

// SpeedAt is the speed with a clean bottom in smooth water: exact on a row,
// linear between rows. It is not ok outside the rows or without a curve.
func (e Engine) SpeedAt(rpm int) (quantity.Speed, bool) {
	v, ok := e.at(rpm, func(r CurveRow) (float64, bool) { return float64(r.Speed), true })
	return quantity.Speed(v), ok
}

// BurnAt is the fuel burnt an hour: of the curve, or without a curve estimated
// from the rated power by the cubic law at 0.30 L/kWh, never below 0.5 L/h. It is
// not ok outside the rows, nor where neither a curve nor the rating is given.
func (e Engine) BurnAt(rpm int) (burn quantity.Flow, estimated, ok bool) {
	if !e.HasCurve() {
		burn, ok = e.burnFromPower(rpm)
		return burn, ok, ok
	}

	v, ok := e.at(rpm, func(r CurveRow) (float64, bool) { return float64(r.Burn), true })
	return quantity.Flow(v), false, ok
}

// BurnUnderWay is BurnAt for the revs of a Span. A defect's cap may hold these
// below the curve's first row, where BurnAt knows nothing; she is then taken to
// burn what that row says, which is more than she will.
func (e Engine) BurnUnderWay(rpm int) (burn quantity.Flow, estimated, ok bool) {
	if e.HasCurve() && rpm > 0 && rpm < e.Curve[0].RPM {
		rpm = e.Curve[0].RPM
	}
	return e.BurnAt(rpm)
}

// CoolantAt is the normal coolant temperature; ok is as for SpeedAt.
func (e Engine) CoolantAt(rpm int) (quantity.Temperature, bool) {
	v, ok := e.at(rpm, func(r CurveRow) (float64, bool) { return float64(r.Coolant), true })
	return quantity.Temperature(v), ok
}

// OilAt is the normal oil pressure. It is known on a row that gives it, and
// between two rows that both do.
func (e Engine) OilAt(rpm int) (quantity.Pressure, bool) {
	v, ok := e.at(rpm, func(r CurveRow) (float64, bool) { return given(r.Oil) })
	return quantity.Pressure(v), ok
}

// SeaAt is the sea temperature at which the curve's coolant and raw water were
// read; ok is as for OilAt.
func (e Engine) SeaAt(rpm int) (quantity.Temperature, bool) {
	v, ok := e.at(rpm, func(r CurveRow) (float64, bool) { return given(r.Sea) })
	return quantity.Temperature(v), ok
}

// RawOutAt is the normal temperature of the raw water after the exchanger; ok is
// as for OilAt.
func (e Engine) RawOutAt(rpm int) (quantity.Temperature, bool) {
	v, ok := e.at(rpm, func(r CurveRow) (float64, bool) { return given(r.RawOut) })
	return quantity.Temperature(v), ok
}

func given[T ~float64](v *T) (float64, bool) {
	if v == nil {
		return 0, false
	}
	return float64(*v), true
}

// at reads one column of the curve.
func (e Engine) at(rpm int, column func(CurveRow) (float64, bool)) (float64, bool) {
	if !e.HasCurve() {
		return 0, false
	}

	for i, row := range e.Curve {
		if row.RPM == rpm {
			return column(row)
		}
		if i > 0 && e.Curve[i-1].RPM < rpm && rpm < row.RPM {
			return between(e.Curve[i-1], row, rpm, column)
		}
	}
	return 0, false
}

func between(low, high CurveRow, rpm int, column func(CurveRow) (float64, bool)) (float64, bool) {
	a, okA := column(low)
	b, okB := column(high)
	if !okA || !okB {
		return 0, false
	}
	share := float64(rpm-low.RPM) / float64(high.RPM-low.RPM)
	return a + (b-a)*share, true
}

func (e Engine) burnFromPower(rpm int) (quantity.Flow, bool) {
	if rpm <= 0 || e.RatedRPM <= 0 || !(e.RatedPower > 0) {
		return 0, false
	}
	load := math.Pow(float64(rpm)/float64(e.RatedRPM), propellerExponent)
	return quantity.Flow(math.Max(leastBurn, float64(e.RatedPower)*estimatedBurn*load)), true
}
