package config

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// withSensors is the demo boat with more in her boat.toml: after a line of it, and at its end.
func withSensors(t *testing.T, after, tank, end string) (Folder, error) {
	t.Helper()
	files := copyOf(t, Demo())
	text := string(files[boatFile].Data)
	require.Contains(t, text, after)
	text = strings.Replace(text, after, after+"\n"+tank, 1) + "\n" + end
	files[boatFile].Data = []byte(text)
	return Load(files)
}

const portWater, bottle = `name = "port water"`, `name = "gas bottle in use"`

func TestSensorsAreReadFromTheFile(t *testing.T) {
	folder, err := withSensors(t, portWater, `signalk = "tanks.freshWater.0.currentLevel"`,
		"[signalk]\nurl = \"http://192.0.2.10:3000/signalk/v1/api/vessels/self\"\nself = \"urn:x\"\nmax_age = \"90 s\"\nrpm = \"propulsion.port-main.revolutions\"\nsea = \"environment.water.temperature\"\n")
	require.NoError(t, err)
	s := folder.Definitions.Boat.Sensors
	assert.Equal(t, map[string]string{"port water": "tanks.freshWater.0.currentLevel"}, s.Tanks)
	assert.Equal(t, map[string]string{"rpm": "propulsion.port-main.revolutions", "sea": "environment.water.temperature"}, s.Gauges)
	assert.Equal(t, "http://192.0.2.10:3000/signalk/v1/api/vessels/self", s.URL)
	assert.Equal(t, 90*time.Second, s.MaxAge)

	folder, err = withSensors(t, portWater, "", "")
	require.NoError(t, err)
	assert.Zero(t, folder.Definitions.Boat.Sensors, "a file without sensors says nothing of them")
}

func TestSensorsThatCannotBeAreMistakes(t *testing.T) {
	rows := []struct{ after, tank, end, want string }{
		{portWater, `signalk = "tanks.fuel.0.currentLevel"`, "", `"tanks.fuel.0.currentLevel" is a tank of fuel, and this one holds water`},
		{portWater, `signalk = "tanks.freshWater.0.capacity"`, "", "write a path that ends with currentLevel, or with currentVolume"},
		{portWater, `signalk = "currentLevel"`, "", "is no path of the Signal K data model"},
		{portWater, `signalk = "tanks..currentLevel"`, "", "is no path of the Signal K data model"},
		{bottle, `signalk = "tanks.gas.0.currentVolume"`, "", "gas is told by weight, and currentVolume is a volume"},
		{portWater, `signalk = 7`, "", "7 is a number; write a text in quotes"},
		{portWater, "", "[signalk]\nrpm = \"propulsion.0.oilPressure\"", "write a path that ends with revolutions, which is in Hz"},
		{portWater, "", "[signalk]\nspeed = \"navigation.speedOverGround\"", "over the ground a current counts as fouling"},
		{portWater, "", "[signalk]\nsea = \"environment.water.temperature\"\nraw_out = \"environment.water.temperature\"", "tells something else already, on line 150; write each path once"},
		{portWater, "", "[signalk]\nurl = \"ftp://192.0.2.1/\"", "is no http or https address"},
		{portWater, "", "[signalk]\nurl = \"http://a:b@192.0.2.1/\"", "an address with a name or password in it"},
		{portWater, "", "[signalk]\nmax_age = \"0 min\"", "is no age for a value"},
		{portWater, "", "[signalk]\nmax_age = \"25 h\"", "is no age for a value"},
		{portWater, "", "[signalk]\nmax_age = 10", "10 has no unit"},
		{portWater, "", "[signalk]\nfuel = \"a.b\"", "signalk.fuel: not a key of this table"},
	}
	for _, row := range rows {
		_, err := withSensors(t, row.after, row.tank, row.end)
		assert.ErrorContains(t, err, row.want, row.tank+row.end)
	}
	assert.Len(t, rows, 15)
}
