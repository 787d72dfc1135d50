package signalk

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const hers = "urn:mrn:signalk:uuid:c0d79334-4e25-4245-8892-54e8ccc8021d"

var at = time.Date(2026, 10, 18, 4, 28, 0, 0, time.UTC)

const stamp = `"timestamp":"2026-10-18T04:28:00Z"`

func delta(context, stamp, path, value string) string {
	if context != "" {
		context = `"context":"` + context + `",`
	}
	return `{` + context + `"updates":[{"source":{"label":"x","type":"NMEA2000"},` + stamp + `,"values":[{"path":"` + path + `","value":` + value + `}]}]}`
}

// The forms of a message after Signal K Specification 1.7: Data Model (full, sparse), Delta Format,
// Streaming API (hello). The values are ours.
func TestEveryFormTellsTheSame(t *testing.T) {
	level := `{"tanks":{"fuel":{"0":{"currentLevel":{"value":0.25,` + stamp + `}}}}}`
	rows := []struct{ name, text string }{
		{"full, self named", `{"version":"1.7.0","self":"` + hers + `","vessels":{"` + hers + `":` + level + `,"urn:mrn:imo:mmsi:123456789":{"tanks":{"fuel":{"0":{"currentLevel":{"value":0.9}}}}}}}`},
		{"full, self named by its path", `{"self":"vessels.` + hers + `","vessels":{"` + hers + `":` + level + `}}`},
		{"sparse", `{"vessels":{"self":` + level + `}}`},
		{"a single vessel", level},
		{"all vessels, hers by MMSI", `{"urn:mrn:imo:mmsi:999000123":` + level + `,"urn:mrn:imo:mmsi:123456789":{}}`},
		{"delta", delta("vessels.self", stamp, "tanks.fuel.0.currentLevel", "0.25")},
		{"delta without context", delta("", stamp, "tanks.fuel.0.currentLevel", "0.25")},
		{"deltas of a stream", `{"name":"n","version":"1.7.0","self":"vessels.` + hers + `","roles":["main"],` + stamp + `}` + "\n" +
			delta("vessels."+hers, `"timestamp":"2026-10-18T04:27:00Z"`, "tanks.fuel.0.currentLevel", "0.5") + "\n" +
			delta("vessels."+hers, stamp, "tanks.fuel.0.currentLevel", "0.25") + "\n" +
			delta("vessels."+hers, `"timestamp":"2026-10-18T04:20:00Z"`, "tanks.fuel.0.currentLevel", "0.75") + "\n" +
			delta("vessels.urn:mrn:imo:mmsi:123456789", stamp, "tanks.fuel.0.currentLevel", "0.9") + "\n"},
		{"a list of deltas", "\ufeff[" + delta("vessels.self", stamp, "tanks.fuel.0.currentLevel", "0.25") + "]"},
	}
	for _, row := range rows {
		model, err := Read([]byte(row.text), Own{MMSI: "999000123"})
		require.NoError(t, err, row.name)
		assert.Equal(t, map[string]Value{"tanks.fuel.0.currentLevel": {Number: 0.25, IsNumber: true, At: at}}, model.Values, row.name)
		assert.Equal(t, []string{"tanks.fuel.0.currentLevel"}, model.Useful())
	}
	assert.Len(t, rows, 9)
}

func TestAValueIsWhatItsNodeSays(t *testing.T) {
	model, err := Read([]byte(`{"propulsion":{"main":{"label":"m","coolantTemperature":{"meta":{"units":"K","zones":[{"value":1}]},"value":354,`+stamp+
		`,"values":{"a.1":{"value":2},"b.2":{"value":3}}},"oilPressure":{"value":null,`+stamp+`},"state":{"value":"started"},"runTime":{"value":1,"timestamp":"2014-08-15-16:00:05.538"}}}}`), Own{})
	require.NoError(t, err)
	assert.Equal(t, map[string]Value{
		"propulsion.main.coolantTemperature": {Number: 354, IsNumber: true, At: at, Unit: "K"},
		"propulsion.main.oilPressure":        {IsNull: true, At: at},
		"propulsion.main.state":              {},
		"propulsion.main.runTime":            {Number: 1, IsNumber: true}, // a timestamp that is none
	}, model.Values)
}

func TestWhatIsNoMessageOfHersIsRefused(t *testing.T) {
	rows := []struct{ text, problem string }{
		{"", "holds no Signal K values of a vessel"},
		{"<html>", "is no JSON that can be read, near line 1"},
		{"{}\n{", "is JSON, but no Signal K message"},
		{delta("", stamp, "a.b", "1") + "\n" + delta("", stamp, "a.b", "NaN"), "near line 2"},
		{delta("", stamp, "a.b", "1e999"), "is no JSON that can be read"},
		{`[1]`, "is JSON, but no Signal K message"},
		{`"text"`, "is JSON, but no Signal K message"},
		{`{"endpoints":{"v1":{}}}`, "is a server's list of its addresses"},
		{`{"mmsi":"123456789","tanks":{}}`, `is of the vessel with the MMSI "123456789"`},
		{`{"vessels":{"urn:mrn:imo:mmsi:123456789":{}}}`, "tells only of urn:mrn:imo:mmsi:123456789"},
		{delta("vessels.urn:mrn:imo:mmsi:123456789", stamp, "a.b", "1"), "tells only of urn:mrn:imo:mmsi:123456789"},
		{delta("aircraft.self", stamp, "a.b", "1"), "holds no Signal K values"},
		{`{"tanks":` + strings.Repeat(`{"a":`, 70) + `{}` + strings.Repeat(`}`, 71), "is nested deeper than 64"},
		{strings.Repeat(" ", MostBytes+1), "is larger than 4 MB"},
	}
	for _, row := range rows {
		_, err := Read([]byte(row.text), Own{MMSI: "999000123"})
		var wrong *Error
		if assert.ErrorAs(t, err, &wrong, "%.80q", row.text) {
			assert.Contains(t, wrong.Problem, row.problem)
			assert.NotEmpty(t, wrong.Cure)
		}
	}
	assert.Len(t, rows, 14)
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(delta("vessels.self", stamp, "tanks.fuel.0.currentLevel", "0.25")))
	f.Add([]byte(`{"self":"a","vessels":{"a":{"tanks":{"x":{"value":{"value":1}}}},"self":null}}`))
	f.Add([]byte(`{"updates":[null,{"values":[{"path":1},{"path":"a","value":null}]}]} [[]] {"roles":[]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		model, err := Read(text, Own{Self: "vessels.a", MMSI: "999000123"})
		if err != nil {
			var wrong *Error
			require.ErrorAs(t, err, &wrong)
			return
		}
		for path, v := range model.Values {
			require.NotEmpty(t, path)
			require.False(t, v.IsNumber && v.IsNull)
		}
	})
}
