package passage

import (
	"math"

	"boat/hoveshort/provisions/quantity"
)

// minutesPerDegree makes miles of degrees: one minute of a great circle is one
// nautical mile on the sphere of radius 3437.7468 nm. The ellipsoid differs by up
// to 0.3 %.
const minutesPerDegree = 60

// GreatCircle is the shortest distance between two places on the sphere, by the
// haversine, which keeps its digits at short distances; the date line is no line to
// it. Source: NGA Pub. 9 (American Practical Navigator), The Sailings.
func GreatCircle(a, b Position) quantity.Distance {
	north := math.Sin(radians(b.Lat-a.Lat) / 2)
	east := math.Sin(radians(b.Lon-a.Lon) / 2)
	h := north*north + math.Cos(radians(a.Lat))*math.Cos(radians(b.Lat))*east*east
	angle := 2 * math.Asin(math.Sqrt(math.Min(1, math.Max(0, h))))
	return quantity.Distance(degrees(angle) * minutesPerDegree)
}

// RouteLength is the sum of the great circles from point to point; 0 for fewer
// than two points.
func RouteLength(route []Position) quantity.Distance {
	var sum quantity.Distance
	for i := 1; i < len(route); i++ {
		sum += GreatCircle(route[i-1], route[i])
	}
	return sum
}

// Known says whether p is a place on the earth: latitude within 90 degrees of the
// equator, longitude within a turn.
func (p Position) Known() bool {
	return math.Abs(p.Lat) <= 90 && math.Abs(p.Lon) <= 360
}

func radians(deg float64) float64 { return deg * math.Pi / 180 }
func degrees(rad float64) float64 { return rad * 180 / math.Pi }
