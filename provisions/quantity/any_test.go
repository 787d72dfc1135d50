package quantity

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAGaugeReadInAnotherUnitIsToldWithoutTheConversionsDigits(t *testing.T) {
	for text, want := range map[string]string{"180F": "82.222 °C", "82.5C": "82.5 °C", "45psi": "3.103 bar", "5.25kn": "5.25 kn"} { // NIST SP 811: 82.22 °C, 3.1026 bar
		a, err := ParseAny(text)
		require.NoError(t, err)
		assert.Equal(t, want, a.Told(Metric), text)
	}
}
