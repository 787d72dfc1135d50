package machinery

import (
	"fmt"
	"math"

	"boat/hoveshort/provisions/quantity"
)

// judgeOil stops her below the least at idle, at any revs and at once: no engine has
// less when it turns faster. Source for stopping at once: NAVEDTRA 14075.
func (j *judging) judgeOil() {
	if j.g.Oil == nil || j.g.stands() {
		return
	}
	told := j.g.Oil.In(j.units)
	below := j.figures.OilBelow
	switch {
	case *j.g.Oil < j.engine.OilMinIdle:
		j.add(GaugeOil, LevelStop, causeNoOil, fmt.Sprintf("%s, below the %s it has at idle", told, j.engine.OilMinIdle.In(j.units)))
	case below == nil:
		return
	case !j.settled():
		j.add(GaugeOil, LevelSettling, causeNone, told+", "+j.unsettled())
	default:
		j.add(GaugeOil, j.oilLevel(*below), causeLowOil, fmt.Sprintf("%s%s at %d rpm", told, oilWords(*below, j.units), *j.g.RPM))
	}
}

func (j *judging) oilLevel(below quantity.Pressure) Level {
	switch {
	case atLeast(below, j.limits.OilLimit):
		return LevelLimit
	case atLeast(below, j.limits.OilLook):
		return LevelLook
	}
	return LevelNormal
}

func oilWords(below quantity.Pressure, units quantity.System) string {
	size := quantity.Pressure(math.Abs(float64(below))).In(units)
	switch {
	case size == quantity.Pressure(0).In(units):
		return ", as when clean"
	case below < 0:
		return ", " + size + " above clean"
	}
	return ", " + size + " below clean"
}

func (j *judging) judgeSpeed() {
	lost := j.figures.SpeedLost
	if lost == nil || j.g.stands() {
		return
	}
	told := j.g.Speed.In(j.units)
	if !j.settled() {
		j.add(GaugeSpeed, LevelSettling, causeNone, told+", "+j.unsettled())
		return
	}
	level := LevelNormal
	if atLeast(*lost, j.limits.SpeedLook) {
		level = LevelLook
	}
	clean, _ := j.engine.SpeedAt(*j.g.RPM)
	j.add(GaugeSpeed, level, j.unlessLoad(causeSlow), fmt.Sprintf("%s where %s is usual at %d rpm%s", told, clean.In(j.units), *j.g.RPM, j.lossWords()))
}

// lossWords is ": 17 % of speed, 21 % more fuel a mile at the same burn".
func (j *judging) lossWords() string {
	lost, fuel := *j.figures.SpeedLost, j.figures.FuelMore
	size := quantity.Share(math.Abs(float64(lost))).In(j.units)
	switch {
	case size == quantity.Share(0).In(j.units):
		return ""
	case lost < 0:
		return fmt.Sprintf(": %s faster", size)
	case fuel == nil:
		return fmt.Sprintf(": %s of speed", size)
	}
	return fmt.Sprintf(": %s of speed, %s more fuel a mile at the same burn", size, fuel.In(j.units))
}

// A battery of so many times 12 V is taken from what the volts are. Common practice, no source.
const (
	mostOf12 = quantity.Voltage(17)
	mostOf24 = quantity.Voltage(34)
)

// twelves is how many times 12 V the battery has.
func twelves(v quantity.Voltage) quantity.Voltage {
	switch {
	case v <= mostOf12:
		return 1
	case v <= mostOf24:
		return 2
	}
	return 4
}

func (j *judging) judgeVolts() {
	if j.g.Volts == nil || j.g.stands() {
		return
	}
	told := j.g.Volts.In(j.units)
	of12 := *j.g.Volts / twelves(*j.g.Volts)
	switch {
	case of12 > j.limits.Overcharged:
		j.add(GaugeVolts, LevelLimit, causeOvercharging, told+": more than a battery should get")
	case !j.settled():
		j.add(GaugeVolts, LevelSettling, causeNone, told+", "+j.unsettled())
	case !atLeast(of12, j.limits.Charging):
		j.add(GaugeVolts, LevelLook, causeNotCharging, told+": not charging")
	default:
		j.add(GaugeVolts, LevelNormal, causeNone, told+": charging")
	}
}

// judgeWater takes the skipper's eyes at their word, settled or not.
func (j *judging) judgeWater() {
	if j.g.stands() {
		return
	}
	switch j.g.Water {
	case WaterUsual:
		j.add(GaugeWater, LevelNormal, causeNone, "as usual at the exhaust")
	case WaterLittle:
		j.add(GaugeWater, LevelLimit, causeFlow, "little at the exhaust: the raw water fails before the gauge shows it")
	case WaterSteam:
		j.add(GaugeWater, LevelLimit, causeFlow, "steam at the exhaust, where it is not just a cold morning: too little raw water")
	case WaterNone:
		j.add(GaugeWater, LevelStop, causeNoWater, "none at the exhaust: stop her before the impeller and the hose are gone")
	}
}

// judgeSmoke waits for a warm engine where a cold one may smoke.
func (j *judging) judgeSmoke() {
	if j.g.stands() {
		return
	}
	switch s := j.g.Smoke; {
	case s == SmokeNone:
		j.add(GaugeSmoke, LevelNormal, causeNone, "none")
	case s == SmokeBlack:
		j.add(GaugeSmoke, LevelLook, j.unlessLoad(causeBlackSmoke), "black: more fuel than air; load, air filter, injectors")
	case s != SmokeWhite && s != SmokeBlue:
		return
	case !j.settled():
		j.add(GaugeSmoke, LevelSettling, causeNone, string(s)+", "+j.unsettled())
	case s == SmokeWhite:
		j.add(GaugeSmoke, LevelLook, causeWhiteSmoke, "white and she is warm: steam, water in the fuel, or an injector")
	default:
		j.add(GaugeSmoke, LevelLook, causeBlueSmoke, "blue and she is warm: she burns oil")
	}
}
