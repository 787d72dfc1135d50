package passage

import (
	"fmt"
	"math"

	"github.com/golang/geo/s2"

	"boat/hoveshort/provisions/quantity"
)

// The sea is taken for a sphere, as the sailings of the trade do. Against the
// ellipsoid WGS84 a distance may be out by 0.5 %: it is too long by up to 0.49 % on a
// meridian near the equator, too short by 0.18 % along the equator and by up to 0.51 %
// near a pole. Over the 43 published geodesics of the tests (GeographicLib) the worst
// are 0.48 % too long and 0.46 % too short, and 0.2 degrees in the initial course.

// minutesPerDegree makes miles of degrees: one minute of a great circle is one
// nautical mile on the sphere of radius 3437.7468 nm.
const minutesPerDegree = 60

// Course is a direction over the ground in degrees from true north, from 0 to under 360.
type Course float64

// String is the course as it is steered: whole degrees in three figures, "007".
func (c Course) String() string {
	return fmt.Sprintf("%03.0f", math.Mod(math.Round(float64(c)), turn))
}

// courseOf is the direction of so much north and so much east.
func courseOf(north, east float64) Course {
	return Course(math.Mod(degrees(math.Atan2(east, north))+turn, turn))
}

// GreatCircle is the shortest distance between two places on the sphere, by the
// haversine, which keeps its digits at short distances; the date line is no line to
// it. Source: NGA Pub. 9 (American Practical Navigator), The Sailings.
func GreatCircle(a, b Position) quantity.Distance {
	return quantity.Distance(a.latLng().Distance(b.latLng()).Degrees() * minutesPerDegree)
}

// InitialCourse is the course on which the great circle from a to b begins; on the
// way it changes. At a pole it is told from the meridian that a names. It is not ok
// where every course serves, which is at b itself and at its antipodes, nor where one of
// them is no place on the earth. Source: NGA Pub. 9, The Sailings.
func InitialCourse(a, b Position) (c Course, ok bool) {
	// nowhere is the sine of a way that is none: some hundredths of a millimetre, far
	// above the float crumbs.
	const nowhere = 1e-12
	if !a.Known() || !b.Known() {
		return 0, false
	}

	sinA, cosA := math.Sincos(radians(a.Lat))
	sinB, cosB := math.Sincos(radians(b.Lat))
	sinEast, cosEast := math.Sincos(radians(eastward(a, b)))
	north := cosA*sinB - sinA*cosB*cosEast
	east := sinEast * cosB
	if math.Hypot(north, east) < nowhere {
		return 0, false
	}
	return courseOf(north, east), true
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

func (p Position) latLng() s2.LatLng { return s2.LatLngFromDegrees(p.Lat, p.Lon) }

// eastward is how far b lies east of a in degrees, the shorter way round: -180 to 180.
func eastward(a, b Position) float64 { return math.Remainder(b.Lon-a.Lon, turn) }

func radians(deg float64) float64 { return deg * math.Pi / 180 }
func degrees(rad float64) float64 { return rad * 180 / math.Pi }
