package provisions

import (
	"math"
	"strconv"

	"boat/hoveshort/provisions/quantity"
)

// Form is the form of a tank, of which its full depth alone tells the share at any dip.
type Form string

// The forms. A tank that is none of them wants a sounding table.
const (
	// Rectangular has upright sides: of the depth h of H it holds h/H. Source: V = L*W*h, section 7 of the reference.
	Rectangular Form = "rectangular"

	// HorizontalCylinder lies on its side and has flat ends; its depth is the inside diameter.
	// Source: circular segment times length, r^2*acos((r-h)/r) - (r-h)*sqrt(2*r*h - h^2);
	// section 7 of the reference, with two published guides to dipping a tank; Perry's Chemical
	// Engineers' Handbook, section 10, from memory.
	HorizontalCylinder Form = "horizontal cylinder"

	// Wedge is a triangle with its point down, as wide at the top as it ever is: (h/H)^2.
	// Source: V = L*b*h^2/(2H), section 7 of the reference.
	Wedge Form = "wedge"
)

// Forms are all forms, in the order in which they are offered.
var Forms = [3]Form{Rectangular, HorizontalCylinder, Wedge}

// Shape is a tank of a known form; the zero Shape is none.
type Shape struct {
	Form  Form
	Depth quantity.Length // inside, from the bottom to the brim where it is dipped; above 0
}

// IsZero says that no shape is given.
func (s Shape) IsZero() bool { return s == Shape{} }

// Share is how much of the full tank is in it at a depth, 0 at the bottom to 1 at the full
// depth. The error is a *quantity.Error: no depth between these two.
func (s Shape) Share(depth quantity.Length) (quantity.Share, error) {
	h := float64(depth / s.Depth)
	if depth >= 0 && depth-s.Depth <= onRow {
		h = min(h, 1)
	}
	if !(h >= 0 && h <= 1) {
		return 0, &quantity.Error{
			Problem: millimetres(depth) + " is not in a tank that is " + millimetres(s.Depth) + " deep",
			Cure:    "write 0 mm to " + millimetres(s.Depth),
		}
	}
	switch s.Form {
	case Rectangular:
		return quantity.Share(h), nil
	case Wedge:
		return quantity.Share(h * h), nil
	case HorizontalCylinder:
		return quantity.Share(segment(h)), nil
	}
	return 0, &quantity.Error{
		Problem: strconv.Quote(string(s.Form)) + " is no form of a tank",
		Cure:    `write "rectangular", "horizontal cylinder" or "wedge", or a dip table`,
	}
}

// segment is the part of a circle's area below a depth that is the share h of its diameter:
// with r = 1/2 the formula over pi/4 is (acos(1-2h) - (1-2h)*2*sqrt(h - h^2)) / pi.
func segment(h float64) float64 {
	up := 1 - 2*h
	return min(1, max(0, (math.Acos(up)-up*2*math.Sqrt(h-h*h))/math.Pi))
}

// CanBeDipped says whether a depth tells how much is in the tank.
func (t Tank) CanBeDipped() bool { return len(t.Dip) > 0 || !t.Shape.IsZero() }

// byShape is what the tank holds at a depth, by its shape.
func (t Tank) byShape(depth quantity.Length) (Amount, error) {
	share, err := t.Shape.Share(depth)
	return Amount(share) * t.Capacity, err
}
