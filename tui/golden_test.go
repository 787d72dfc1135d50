package tui

import (
	"fmt"
	"testing"
	"time"

	"github.com/charmbracelet/x/exp/golden"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// signedRecord is a record with a sign-off in it, and what came after.
func signedRecord(t *testing.T) *bench {
	b := newBench(t, fitBoat(), allGood()...)
	b.keys("7", "s").types("A. Skipper").keys("enter", "y")
	b.now = b.now.Add(time.Hour)
	b.add(checklist.Sound{Tank: "diesel", Level: "140 L"})
	b.add(checklist.Event{What: "seacock moved"})
	return b.restart()
}

// TestScreensLookAsReviewed compares every screen with the picture that was looked at.
func TestScreensLookAsReviewed(t *testing.T) {
	screens := []struct {
		name string
		make func(*testing.T) *bench
	}{
		{"ready", func(t *testing.T) *bench { return newBench(t, wanting()) }},
		{"ready-group-opened", func(t *testing.T) *bench { return newBench(t, wanting()).keys("j", "j", "j", "j", "o", "j") }},
		{"ready-accept", func(t *testing.T) *bench {
			return newBench(t, wanting()).keys("G", "k", "k", "a").types("the new one is ordered")
		}},
		{"ready-nothing-in-the-way", func(t *testing.T) *bench { return newBench(t, fitBoat(), allGood()...) }},
		{"ready-clock", func(t *testing.T) *bench {
			b := newBench(t, fitBoat(), allGood()...)
			b.now = b.now.Add(-time.Hour)
			return b.restart().keys("G", "k", "k", "enter")
		}},
		{"ready-happened", func(t *testing.T) *bench { return newBench(t, fitBoat(), allGood()...).keys("e") }},
		{"ready-signed", func(t *testing.T) *bench {
			d := fitBoat()
			d.Services = wanting().Services
			b := newBench(t, d, allGood()...).keys("a").types("no yard here").keys("enter")
			return b.keys("7", "s").types("A. Skipper").keys("enter", "G", "y", "1", "G", "k")
		}},
		{"ready-cannot-make-it", func(t *testing.T) *bench {
			d := fitBoat()
			d.Plan.Legs[0].Current = -20
			return newBench(t, d)
		}},
		{"stores", func(t *testing.T) *bench {
			return newBench(t, wanting(), checklist.Sound{Tank: "after water", Level: "62 %"}).keys("3")
		}},
		{"stores-food", func(t *testing.T) *bench { return newBench(t, wanting()).keys("3", "G") }},
		{"stores-sound", func(t *testing.T) *bench { return newBench(t, wanting()).keys("3", "s").types("62 gal").keys("enter") }},
		{"stores-first", func(t *testing.T) *bench { return newBench(t, wanting()).keys("3", "right") }},
		{"stores-taking", func(t *testing.T) *bench {
			return newBench(t, wanting()).keys("3", "right", "right", "enter").types("2").keys("enter")
		}},
		{"stores-used", func(t *testing.T) *bench {
			b := newBench(t, wanting())
			for i, level := range []string{"190 L", "180 L", "165 L", "150 L"} {
				b.now = evening.Add(time.Duration(i-4) * 24 * time.Hour)
				b.add(checklist.Sound{Tank: "forward water", Level: level})
				b.add(checklist.Sound{Tank: "after water", Level: "50 L"})
			}
			b.now = evening
			return b.restart().keys("3", "left")
		}},
		{"rounds", func(t *testing.T) *bench { return newBench(t, wanting()).keys("4") }},
		{"walk-check", func(t *testing.T) *bench { return newBench(t, wanting()).keys("4", "enter") }},
		{"walk-reading", func(t *testing.T) *bench {
			return newBench(t, wanting()).keys("4", "enter", "j", "j", "j", "v").types("12.1 V")
		}},
		{"walk-waits", func(t *testing.T) *bench { return newBench(t, wanting()).keys("4", "enter", "j", "j") }},
		{"walk-not-right", func(t *testing.T) *bench { return newBench(t, wanting()).keys("4", "enter", "n").types("stiff") }},
		{"walk-grade", func(t *testing.T) *bench {
			return newBench(t, wanting()).keys("4", "enter", "G", "k", "k", "n").types("a strand is broken").keys("enter")
		}},
		{"walk-closing", func(t *testing.T) *bench {
			return newBench(t, fitBoat(), allGood()[:8]...).keys("4", "enter", "j")
		}},
		{"walk-resumed", func(t *testing.T) *bench {
			b := newBench(t, fitBoat(), allGood()[:5]...)
			b.now = b.now.Add(23 * time.Minute)
			return b.restart().keys("4", "enter")
		}},
		{"walk-remains", func(t *testing.T) *bench {
			acts := append(allGood(), checklist.Answer{Check: "hatches", Answer: checklist.CouldNotLook})
			return newBench(t, fitBoat(), acts...).keys("4", "enter", "c", "d")
		}},
		{"record", func(t *testing.T) *bench { return signedRecord(t).keys("7") }},
		{"record-leave", func(t *testing.T) *bench { return signedOff(t).keys("d") }},
		{"record-leave-refused", func(t *testing.T) *bench { return newBench(t, fitBoat(), allGood()...).keys("7", "d") }},
		{"record-under-way", atNoon},
		{"record-noon", func(t *testing.T) *bench { return atNoon(t).keys("n") }},
		{"ready-under-way", func(t *testing.T) *bench { return atNoon(t).keys("1") }},
		{"record-in", func(t *testing.T) *bench { return atNoon(t).keys("a", "enter") }},
		{"record-proof", toProve},
		{"record-noon-decide", func(t *testing.T) *bench { return decided(t).types("no, it falls") }},
		{"record-change", func(t *testing.T) *bench { return atNoon(t).keys("c").types("to another place").keys("enter") }},
		{"record-close", func(t *testing.T) *bench { return atNoon(t).keys("a", "enter", "C", "enter", "enter") }},
		{"passage-under-way", func(t *testing.T) *bench { return atNoon(t).keys("2", "right") }},
		{"rounds-under-way", func(t *testing.T) *bench { return toProve(t).keys("4") }},
		{"record-refused", func(t *testing.T) *bench { return newBench(t, wanting()).keys("7", "s") }},
		{"record-moved", func(t *testing.T) *bench {
			return newBench(t, fitBoat(), allGood()...).keys("7", "m").types("09:00").keys("enter")
		}},
		{"record-confirm", func(t *testing.T) *bench {
			return newBench(t, fitBoat(), allGood()...).keys("7", "s").types("A. Skipper").keys("enter")
		}},
		{"record-read", func(t *testing.T) *bench { return signedRecord(t).keys("7", "enter") }},
		{"record-read-on", func(t *testing.T) *bench { return signedRecord(t).keys("7", "enter", "pgdown") }},
		{"help", func(t *testing.T) *bench { return newBench(t, wanting()).keys("?") }},
		{"not-on-the-disk", func(t *testing.T) *bench {
			b := newBench(t, wanting())
			b.fails = errDiskFull
			return b.keys("4", "enter", "c")
		}},
	}
	for _, s := range screens {
		for _, z := range []size{{80, 24}, {60, 20}, {40, 12}} {
			t.Run(fmt.Sprintf("%s-%dx%d", s.name, z.w, z.h), func(t *testing.T) {
				golden.RequireEqual(t, s.make(t).size(z.w, z.h).view())
			})
		}
	}
}

func TestGlyphSetsLookAsReviewed(t *testing.T) {
	for name, glyphs := range map[string]Glyphs{"box": Box, "ascii": ASCII} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t, wanting())
			b.m.settings.Glyphs = glyphs
			b.m.facts.look.glyphs = newGlyphs(glyphs)
			golden.RequireEqual(t, b.size(80, 24).view())
		})
	}
}

func TestBarFillsNeverBeyondTheMarkWhileShort(t *testing.T) {
	g := newGlyphs(ASCII)
	for _, c := range []struct {
		name                    string
		length, endurance, last float64
		want                    string
	}{
		{"nothing at all", 10, 0, 0, "............|..."},
		{"the reserve alone", 10, 0, 5, "======......|..."},
		{"just short", 10, 9.99, 9.99, "###########.|..."},
		{"just enough", 10, 10, 10, "############|..."},
		{"half", 10, 5, 10, "######======|..."},
		{"beyond the bar", 10, 40, 50, "############|##>"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := stretchOf(c.length, c.endurance, c.last)
			golden := g.bar(s, 16)
			if golden != c.want {
				t.Errorf("bar of %v: got %q, want %q", s, golden, c.want)
			}
		})
	}
}

func TestWordsOfDays(t *testing.T) {
	s := stretchOf(13.81, 6.89, 8)
	s.Hard, s.Short = passage.Slow, 42
	if got := lasts(passage.Water, s, quantity.Metric, false); got != "6.8 days to the reserve, slow case 13.9: 42 L short" {
		t.Error(got)
	}
}
