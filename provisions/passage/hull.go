package passage

import (
	"math"

	"boat/hoveshort/provisions/quantity"
)

const (
	// hullFactor is the speed-length ratio of a displacement hull, 1.34 kn per root
	// foot. Source: marine surveyors' lexicon; wave theory gives 1.3407.
	hullFactor = 1.34

	metresPerFoot = 0.3048 // exact, NIST SP 811 B.8
)

// HullSpeed is the speed of a wave as long as the waterline, which a displacement hull
// hardly passes: 1.34*sqrt(feet). It is 0 for no waterline.
func HullSpeed(waterline quantity.Length) quantity.Speed {
	if !(waterline > 0) {
		return 0
	}
	return quantity.Speed(hullFactor * math.Sqrt(float64(waterline)/metresPerFoot))
}
