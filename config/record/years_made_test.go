package record

import (
	"flag"
	"testing"
)

// yearsIn is where a record of ten years is left, for the benchmarks that run the program itself (testdata/bench).
var yearsIn = flag.String("years", "", "leave a record of ten years in this boat folder")

func TestTenYearsAreLeftForTheBenchmarks(t *testing.T) {
	const passages = 100
	dir, pages := *yearsIn, passages
	if dir == "" {
		dir, pages = t.TempDir(), 2
	}
	yearsOfPages(t, dir, pages)
	report, err := Verify(dir)
	if err != nil || len(report.Faults) > 0 || report.Bytes == 0 {
		t.Fatalf("not a record: %v %v", err, report.Faults)
	}
}
