package config

import (
	"fmt"
	"net/url"
	"regexp"
	"strings"
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// The key of a tank, and the table of the rest.
const signalK = "signalk"

const mostMaxAge = 24 * time.Hour

// sensorPath is a path below a vessel. Source: Signal K Specification 1.7, Data Model (keys are
// letters, digits and some signs, parted by points).
var sensorPath = regexp.MustCompile(`^[A-Za-z0-9_-]+(\.[A-Za-z0-9_:-]+)+$`)

// gaugePath is what the path of a gauge ends with, which says its unit; and a right one. Source: Signal K
// Specification 1.7, groups propulsion, electrical, environment, navigation.
type gaugePath struct{ ends, unit, sample string }

var gaugePaths = map[string]gaugePath{
	"rpm":     {"revolutions", "Hz", "propulsion.main.revolutions"},
	"hours":   {"runTime", "s", "propulsion.main.runTime"},
	"speed":   {"speedThroughWater", "m/s", "navigation.speedThroughWater"},
	"coolant": {"temperature", "K", "propulsion.main.coolantTemperature"},
	"oil":     {"oilPressure", "Pa", "propulsion.main.oilPressure"},
	"volts":   {"voltage", "V", "electrical.batteries.start.voltage"},
	"sea":     {"temperature", "K", "environment.water.temperature"},
	"raw_out": {"temperature", "K", "propulsion.main.exhaustTemperature"},
}

// readSensors reads which sensor tells what: [signalk], and `signalk` in a [[tank]].
func readSensors(t *table, tanks []provisions.Tank) checklist.Sensors {
	var s checklist.Sensors
	taken := map[string]int{}
	for i, row := range t.tables("tank", optional) {
		if path := readSensor(row, signalK); path != "" && i < len(tanks) {
			checkTankSensor(row, path, tanks[i])
			takeSensor(taken, row, signalK, path)
			s.Tanks = with(s.Tanks, tanks[i].Name, path)
		}
	}
	own := t.sub(signalK, optional)
	s.URL = readURL(own)
	s.Self = own.text("self", optional)
	if age, there := optionalValue(own, "max_age", "10 min", quantity.ParseDuration); there {
		s.MaxAge = age
		if age <= 0 || age > mostMaxAge {
			own.mistake("max_age", fmt.Sprintf("%s is no age for a value", quantity.Rough(age)), `write more than nothing and up to a day, such as "10 min"`)
		}
	}
	for _, gauge := range checklist.SensorGauges {
		if path := readSensor(own, gauge); path != "" {
			checkGaugeSensor(own, gauge, path)
			takeSensor(taken, own, gauge, path)
			s.Gauges = with(s.Gauges, gauge, path)
		}
	}
	return s
}

// with is the sensors and one more.
func with(sensors map[string]string, of, path string) map[string]string {
	if sensors == nil {
		sensors = map[string]string{}
	}
	sensors[of] = path
	return sensors
}

// takeSensor tells a sensor that would tell two things.
func takeSensor(taken map[string]int, t *table, key, path string) {
	if line, is := taken[path]; is {
		t.mistake(key, fmt.Sprintf("%s tells something else already, on line %d", quote(path), line), "write each path once")
		return
	}
	taken[path] = t.line(key)
}

// readSensor is a path, "" where it is left out or is none.
func readSensor(t *table, key string) string {
	path := t.text(key, optional)
	if path != "" && !sensorPath.MatchString(path) {
		t.mistake(key, quote(path)+" is no path of the Signal K data model", "write it below the vessel, such as "+quote(sampleOf(key)))
		return ""
	}
	return path
}

func sampleOf(key string) string {
	if p, is := gaugePaths[key]; is {
		return p.sample
	}
	return "tanks.freshWater.0.currentLevel"
}

// tankGroups are the groups of tanks, by what they hold. Source: Signal K Specification 1.7, group tanks.
var tankGroups = map[string]passage.Thing{"freshWater": passage.Water, "fuel": passage.Fuel, "gas": passage.Gas}

// checkTankSensor tells a path that cannot be this tank's: a diesel gauge must not tell the water.
func checkTankSensor(t *table, path string, tank provisions.Tank) {
	parts := strings.Split(path, ".")
	last := parts[len(parts)-1]
	switch {
	case last != checklist.TankRatio && last != checklist.TankVolume:
		t.mistake(signalK, quote(path)+" is no level of a tank", "write a path that ends with currentLevel, or with currentVolume")
		return
	case last == checklist.TankVolume && tank.Holds == passage.Gas:
		t.mistake(signalK, "gas is told by weight, and currentVolume is a volume", "leave it out, or take a path that ends with currentLevel")
		return
	}
	if parts[0] != "tanks" || tank.Holds == "" {
		return
	}
	for group, holds := range tankGroups {
		if parts[1] == group && holds != tank.Holds {
			t.mistake(signalK, fmt.Sprintf("%s is a tank of %s, and this one holds %s", quote(path), holds, tank.Holds), "write this tank's own path")
		}
	}
}

func checkGaugeSensor(t *table, gauge, path string) {
	of := gaugePaths[gauge]
	_, last, _ := cutLast(path, ".")
	if !strings.HasSuffix(strings.ToLower(last), strings.ToLower(of.ends)) {
		cure := fmt.Sprintf("write a path that ends with %s, which is in %s, such as %s", of.ends, of.unit, quote(of.sample))
		if gauge == "speed" && last == "speedOverGround" {
			cure = "over the ground a current counts as fouling; " + cure
		}
		t.mistake(gauge, fmt.Sprintf("%s is no %s", quote(path), gauge), cure)
	}
}

func cutLast(text, sep string) (before, after string, found bool) {
	i := strings.LastIndex(text, sep)
	if i < 0 {
		return "", text, false
	}
	return text[:i], text[i+len(sep):], true
}

// readURL is where a server has the vessel.
func readURL(t *table) string {
	const write = `write the address of the own vessel, such as "http://192.0.2.10:3000/signalk/v1/api/vessels/self"`
	text := t.text("url", optional)
	if text == "" {
		return ""
	}
	u, err := url.Parse(text)
	switch {
	case err != nil || u.Host == "" || u.Scheme != "http" && u.Scheme != "https":
		t.mistake("url", quote(text)+" is no http or https address", write)
	case u.User != nil:
		t.mistake("url", "an address with a name or password in it", "leave them out: this program hands none over")
	}
	return text
}
