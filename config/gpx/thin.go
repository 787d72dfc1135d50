package gpx

import "math"

// MostThinned is how many points a line may have to be thinned, near ones already left out.
const MostThinned = 20_000

// Thinned is the line with as few of its points as keep every other within so many nautical
// miles of the way between those that stay; the ends stay. ok is false where it has too many
// points to be thinned.
//
// The method is that of Douglas and Peucker (Cartographica 10, 1973; from memory), on a flat
// sea: over the miles that a point may be off, the curve of the earth does not matter.
func (l Line) Thinned(within float64) (thin Line, ok bool) {
	points := apart(l.Points, within/4)
	if len(points) > MostThinned {
		return l, false
	}
	if len(points) < 3 {
		return Line{Name: l.Name, Points: points}, true
	}
	stays := make([]bool, len(points))
	stays[0], stays[len(points)-1] = true, true
	for spans := [][2]int{{0, len(points) - 1}}; len(spans) > 0; {
		span := spans[len(spans)-1]
		spans = spans[:len(spans)-1]
		if at, off := farthest(points, span); off > within {
			stays[at] = true
			spans = append(spans, [2]int{span[0], at}, [2]int{at, span[1]})
		}
	}
	thin.Name = l.Name
	for i, p := range points {
		if stays[i] {
			thin.Points = append(thin.Points, p)
		}
	}
	return thin, true
}

// apart leaves out points that are nearer than so many miles to the one before; the ends stay.
func apart(points []Point, miles float64) []Point {
	var list []Point
	for i, p := range points {
		if i == 0 || i == len(points)-1 || length(between(list[len(list)-1], p)) >= miles {
			list = append(list, p)
		}
	}
	return list
}

// farthest is the point within a span that is farthest off the way between its ends.
func farthest(points []Point, span [2]int) (at int, off float64) {
	a, b := points[span[0]], points[span[1]]
	way := between(a, b)
	for i := span[0] + 1; i < span[1]; i++ {
		if d := offWay(between(a, points[i]), way); d > off {
			at, off = i, d
		}
	}
	return at, off
}

// offWay is how far p is from the way that begins at nought and goes to b.
func offWay(p, b [2]float64) float64 {
	long := b[0]*b[0] + b[1]*b[1]
	if long == 0 {
		return length(p)
	}
	along := min(1, max(0, (p[0]*b[0]+p[1]*b[1])/long))
	return length([2]float64{p[0] - along*b[0], p[1] - along*b[1]})
}

// between is how many miles b is north and east of a, the shorter way round.
func between(a, b Point) [2]float64 {
	east := math.Remainder(b.Lon-a.Lon, 360)
	return [2]float64{60 * (b.Lat - a.Lat), 60 * east * math.Cos((a.Lat+b.Lat)/2*math.Pi/180)}
}

func length(v [2]float64) float64 { return math.Hypot(v[0], v[1]) }
