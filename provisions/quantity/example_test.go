package quantity_test

import (
	"fmt"

	"boat/hoveshort/provisions/quantity"
)

func Example() {
	aboard, _ := quantity.ParseVolume("58 US gal")
	fmt.Println(aboard.Down(quantity.Metric), "are aboard,", aboard.Down(quantity.US))

	_, err := quantity.ParseVolume("58 gal")
	fmt.Println(err)

	keeps, _ := quantity.ParsePeriod("18 months")
	bought, _ := quantity.ParseDate("2025-08-31")
	fmt.Println("keeps until", keeps.AfterDate(bought))
	// Output:
	// 219 L are aboard, 58 US gal
	// "58 gal" could be US or imperial; write "58 US gal" or "58 imp gal"
	// keeps until 2027-02-28
}
