// Hoveshort decides before a leg whether she is fit to go, and whether what is aboard
// lasts the slow passage with the reserve untouched.
//
// This package knows everybody: it picks the boat folder, the clock and the streams,
// and has one file a command. What a command decides, checklist decided; what it
// prints, it prints from the Assessment.
package main

import (
	"os"

	_ "boat/hoveshort/tui/quiet" // before the screen library, by its import path: it would ask the terminal and wait
)

func main() {
	os.Exit(run(osEnv(), os.Args[1:]))
}
