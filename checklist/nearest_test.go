package checklist

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNearestWord(t *testing.T) {
	words := []string{"capacity", "oil", "fuel", "speed"}
	for s, want := range map[string]string{"capcity": "capacity", "CAPACITY": "capacity", "capaicty": "capacity", "cpacty": "capacity",
		"oli": "oil", "fule": "fuel", "speeed": "speed", "spd": "", "water": "", "": "", "capacityxyz": "", "ol": "oil"} {
		assert.Equal(t, want, Nearest(s, words), s)
	}
	assert.Empty(t, Nearest(strings.Repeat("x", 1<<20), words))
}
