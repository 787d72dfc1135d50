// Package quantity holds the amounts a passage is reckoned in: litres, kilograms, miles, knots, degrees, hours, dates.
//
// Each amount is a type of its own, so that a fuel tank cannot be compared with a sack of rice. Inside, every value is kept
// in one canonical unit; text always carries its unit:
//
//	v, err := quantity.ParseVolume("58 US gal") // 219.55… litres
//	v.String()                                  // the exact value in litres; parsing it gives v again
//	v.Down(quantity.Metric)                     // "219 L": for people, what is aboard is rounded down
//	v.Up(quantity.US)                           // "58 US gal": what is needed is rounded up
//
// The types are named float64, not whole units: formulas multiply rates, shares and hours, and figures handed on are
// not rounded. Rounding happens only in In, Down, Up and the Rough functions, which print for people.
//
// Words: a Dimension is a kind of amount (volume, mass, …); an Any is an amount of whichever kind its text says; a Period
// is calendar months and a duration; a Date is a civil date, of no time zone.
//
// Every error of a Parse… function or an UnmarshalText is an *Error: what is wrong and what would be right.
package quantity
