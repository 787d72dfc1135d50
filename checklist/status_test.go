package checklist

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A status stands beside the name of a thing aboard: "open" beside a
// seacock must not be read as how the seacock is.
func TestNoStatusReadsAsTheStateOfTheThing(t *testing.T) {
	for status, want := range map[Status]string{
		StatusRight: "right", StatusNotRight: "not right", StatusCouldNotLook: "could not look", StatusNotAboard: "not aboard", StatusOpen: "not answered",
		StatusStale: "too long ago", StatusVoid: "void", StatusWaits: "waits", StatusOutside: "out of limits", StatusNotNeeded: "not now",
	} {
		assert.Equal(t, want, status.Words())
	}
}
