package passage

import (
	"time"

	"boat/hoveshort/provisions/quantity"
)

// Engine is the auxiliary diesel as the boat's file describes it.
type Engine struct {
	RatedRPM     int
	RatedPower   quantity.Power // 0: not given
	CruiseRPM    int
	CoolantMax   quantity.Temperature // never above
	OilMinIdle   quantity.Pressure    // 0: not given
	Hours        float64              // opening hour-meter, until the record knows better
	ChargingBurn quantity.Flow        // engine run for the batteries alone
	Charging     time.Duration        // a day without other engine hours
	Curve        []CurveRow           // at least two rows of rising rpm, or none
}

// CurveRow is what is normal at these revs: clean bottom, smooth water, clean cooling.
type CurveRow struct {
	RPM     int
	Speed   quantity.Speed
	Burn    quantity.Flow
	Coolant quantity.Temperature
	Oil     *quantity.Pressure    // nil: not given; likewise below
	Sea     *quantity.Temperature // of the sea when Coolant and RawOut were read
	RawOut  *quantity.Temperature // raw water after the exchanger
}
