package checklist

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestDeparturesAsTyped(t *testing.T) {
	zone := time.FixedZone("", 13*60*60)
	now := time.Date(2026, 10, 18, 18, 0, 0, 0, zone)
	for text, want := range map[string]string{
		"19:30": "2026-10-18T19:30:00+13:00", "07:00": "2026-10-19T07:00:00+13:00", "18:00": "2026-10-18T18:00:00+13:00",
		"20 Oct 09:00": "2026-10-20T09:00:00+13:00", "Tue 20 Oct 09:00": "2026-10-20T09:00:00+13:00", "2 Jan 06:00": "2027-01-02T06:00:00+13:00",
		"2026-10-20 09:00": "2026-10-20T09:00:00+13:00", "2026-10-20T09:00+12:00": "2026-10-20T09:00:00+12:00",
	} {
		got, err := ParseDeparture(text, now)
		require.NoError(t, err, text)
		assert.Equal(t, want, got.Format(time.RFC3339), text)
	}
	for text, want := range map[string]error{
		"17 Oct 09:00": errPast, "2025-10-20 09:00": errPast, "0001-01-01T00:00Z": errPast,
		"": errNoMoment, "tomorrow": errNoMoment, "25:00": errNoMoment, "29 Feb 09:00": errNoMoment, "9": errNoMoment,
	} {
		_, err := ParseDeparture(text, now)
		assert.ErrorIs(t, err, want, text)
	}
	back, err := ParseDeparture("as planned", now)
	require.NoError(t, err)
	assert.True(t, back.IsZero())
}
