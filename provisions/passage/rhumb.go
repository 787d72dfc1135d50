package passage

import (
	"math"

	"boat/hoveshort/provisions/quantity"
)

// Rhumb is the way from a to b on one course, and that course, by Mercator sailing
// on the sphere, the shorter way round: tan C = DLo/(M2-M1), D = (L2-L1)/cos C, and
// along a parallel D = DLo*cos L. Source: NGA Pub. 9 (American Practical Navigator),
// 2024, art. 910.
//
// To and from a pole it is a meridian. The course is 0 where the distance is. Both may be
// NaN where one of the two is no place on the earth (Known).
//
// The difference of the meridional parts is taken as one,
// M2-M1 = 2 artanh(sin((L2-L1)/2) / cos((L1+L2)/2)), which is the same and loses no
// digits on a course nearly east or west.
func Rhumb(a, b Position) (quantity.Distance, Course) {
	north, east := radians(b.Lat-a.Lat), radians(eastward(a, b))
	if a.isPole() || b.isPole() {
		east = 0
	}
	middle := math.Cos(radians(a.Lat+b.Lat) / 2)
	parts := 2 * math.Atanh(within1(math.Sin(north/2)/middle))

	scale := middle // of a degree of longitude against one of latitude
	if north != 0 {
		scale = north / parts
	}
	way := math.Hypot(north, scale*east)
	return quantity.Distance(degrees(way) * minutesPerDegree), courseOf(north, scale*east)
}

func (p Position) isPole() bool { return math.Abs(p.Lat) == 90 }

// within1 keeps float crumbs near a pole from leaving what artanh knows; 1 makes it infinite.
func within1(v float64) float64 { return math.Max(-1, math.Min(1, v)) }
