package machinery

import "slices"

// cause is what a finding may come from: it gives the looks and the cautions.
type cause int

const (
	causeNone cause = iota
	causeNoOil
	causeNoWater
	causeFlow
	causeExchanger
	causeSea
	causeLoad
	causeUnclear
	causeLowOil
	causeSlow
	causeNotCharging
	causeOvercharging
	causeBlackSmoke
	causeWhiteSmoke
	causeBlueSmoke
)

// hotCause is what a coolant out of the way comes from by the signature.
func (j *judging) hotCause() cause {
	switch j.signature {
	case SignatureFlow:
		return causeFlow
	case SignatureExchanger:
		return causeExchanger
	case SignatureSea:
		return causeSea
	case SignatureLoad:
		return causeLoad
	}
	return causeUnclear
}

func (j *judging) unlessLoad(why cause) cause {
	if j.signature == SignatureLoad {
		return causeLoad
	}
	return why
}

// Where a look can hurt, what to know before it. The rules are the reference's for
// cautions; the ones without a public source are common practice.
const (
	cautionHot       = "hot coolant: the cap stays on until she is cold; opened hot it flashes to steam and scalds"
	cautionBelts     = "belts and shaft: engine stopped and key out, nothing loose; with her running look with a torch only"
	cautionSeacock   = "opening the strainer or the pump: seacock shut, the key on the seacock; lid back, seacock open, then the key"
	cautionElbow     = "the exhaust elbow burns: let it cool"
	cautionGas       = "exhaust gas kills without a smell: carbon-monoxide alarm on, air through the boat, nobody asleep below while she smokes or leaks"
	cautionOverSide  = "over the side: engine stopped and key out, tether on, ladder down, not alone in a sea"
	cautionBattery   = "batteries: no sparks or flame, hydrogen explodes; eyes covered, rings off; never switch the battery off with her running"
	cautionLithium   = "a lithium battery that is hot, swollen or smokes: keep away, air, and do not charge it on"
	cautionHotOil    = "hot oil scalds: let her stand some minutes before the dipstick and the filter"
	cautionHandbooks = "her maker's handbook and a mechanic's word go before this list"
)

// Before all looks where she must stop.
const (
	stopAtOnce = "stop the engine at once; sail, or anchor if there is no room"
	stopSafely = "ease her to idle and stop her as soon as the boat is safe: sail or anchor ready first, then the stop"
	easeFirst  = "ease the revs until it is found"
)

// remedy is where to look, the quickest and likeliest first, and what to know before.
// The order is that of the reference's fault trees; where these have no public source,
// it is common practice.
type remedy struct {
	looks    []string
	cautions []string
}

const (
	lookExhaust    = "over the stern: is the water at the exhaust as strong as ever"
	lookSeacock    = "raw-water seacock: fully open"
	lookStrainer   = "raw-water strainer: weed, a bag, a lid that sucks air"
	lookIntake     = "intake outside the hull: a bag, weed, growth"
	lookPump       = "raw-water pump: belt or drive, cover, impeller; count the vanes and find every missing piece"
	lookElbow      = "exhaust elbow: hot, rusty, choked inside"
	lookGauge      = "a second thermometer on the thermostat housing: the gauge or its sender may be wrong"
	lookBelt       = "belt of the coolant pump: tight, whole, not glazed"
	lookLevel      = "coolant level, with her cold: low means a leak, or gas pushing it out"
	lookThermostat = "thermostat, in a pan with a thermometer: begins to open at what is stamped on it, and opens fully in hotter water"
	lookTubes      = "heat exchanger: anode, end caps, tubes; scale is the usual cause of a slow rise"
	lookLine       = "line, net or weed round the propeller; something towed"
	lookBottom     = "bottom and propeller: growth; a folding propeller that is not fully open"
	lookDipstick   = "dipstick: low means a leak or burning; high and thin, fuel in it; milky, water"
	lookSender     = "oil sender and its wire; a mechanical gauge tells"
	lookOilAge     = "oil: grade, age, filter, how hot it is"
	lookAirFilter  = "air filter, and air into the engine space"
)

var flowLooks = []string{lookExhaust, lookStrainer, lookSeacock, lookIntake, lookPump, lookElbow}

var remedies = map[cause]remedy{
	causeNoOil: {
		looks:    []string{lookDipstick, "bilge and filter: where the oil went", lookSender, lookOilAge, "leave her stopped until the cause is found"},
		cautions: []string{cautionBelts, cautionHotOil},
	},
	causeNoWater: {
		looks: []string{
			"raw-water seacock: shut is the commonest and the cheapest", lookStrainer, lookIntake,
			"does water stand in the strainer: fill it by hand, an air lock after heeling", lookPump, "vented loop, injection point, elbow: blocked",
		},
		cautions: []string{cautionHot, cautionSeacock, cautionBelts, cautionElbow, cautionGas},
	},
	causeFlow: {
		looks:    flowLooks,
		cautions: []string{cautionHot, cautionSeacock, cautionBelts, cautionElbow, cautionGas},
	},
	causeExchanger: {
		looks:    []string{lookGauge, lookBelt, lookLevel, lookThermostat, lookTubes, "bubbles in the header and white smoke: the head gasket; use her no more"},
		cautions: []string{cautionHot, cautionBelts, cautionSeacock},
	},
	causeSea: {
		looks: []string{
			"the same revs again in half an hour, with the sea's temperature: it should stay as it is while the sea does",
			"strainer and exchanger at the next stop: fouling shows first in warm water at high power",
		},
		cautions: []string{cautionSeacock, cautionHot},
	},
	causeLoad: {
		looks:    []string{"ease the revs: does it fall at once", lookLine, lookBottom, "wind and sea ahead: compare again in smooth water"},
		cautions: []string{cautionOverSide, cautionBelts},
	},
	causeUnclear: {
		looks: []string{
			lookExhaust, "the sea's temperature and the raw water's after the exchanger: the lift tells which side it is", lookGauge,
			lookStrainer, lookSeacock, lookBelt, lookPump, lookLevel, lookThermostat, lookTubes, lookElbow,
		},
		cautions: []string{cautionHot, cautionSeacock, cautionBelts, cautionElbow, cautionGas},
	},
	causeLowOil: {
		looks:    []string{lookDipstick, lookSender, lookOilAge, "relief valve and pick-up screen: a workshop's job, as are pump and bearings"},
		cautions: []string{cautionBelts, cautionHotOil},
	},
	causeSlow: {
		looks: []string{
			lookLine, "wind and sea ahead: compare again in smooth water", lookBottom,
			"shaft and gear: a coupling or clutch that slips", "rev counter and log: one of them may be wrong",
		},
		cautions: []string{cautionOverSide, cautionBelts},
	},
	causeNotCharging: {
		looks: []string{
			"charge lamp", "alternator belt", "terminals and main fuse", "lamp or exciter feed",
			"volts at the alternator and at the battery: a difference is the wiring", "regulator, alternator, then the battery itself",
		},
		cautions: []string{cautionBelts, cautionBattery},
	},
	causeOvercharging: {
		looks:    []string{"a second voltmeter on the battery", "regulator and its sense wire", "battery: hot, gassing, swollen"},
		cautions: []string{cautionBattery, cautionLithium, cautionBelts},
	},
	causeBlackSmoke: {
		looks:    []string{"ease the revs: does it clear at once, then it is load", lookLine, lookBottom, lookAirFilter, "carbon in the exhaust", "injectors"},
		cautions: []string{cautionGas, cautionOverSide, cautionElbow},
	},
	causeWhiteSmoke: {
		looks: []string{
			"is it steam: it is gone a boat's length astern; then it is too little raw water", lookExhaust,
			lookLevel + "; falling with white smoke: the head gasket, use her no more", "water in the fuel: the bowl", "injectors and timing",
		},
		cautions: []string{cautionHot, cautionGas, cautionBelts},
	},
	causeBlueSmoke: {
		looks:    []string{lookDipstick, lookOilAge, "breather; worn rings or valve guides are a workshop's"},
		cautions: []string{cautionGas, cautionHotOil},
	},
}

// whatToLookAt gathers the looks and cautions of what is worth one, each once, those
// of the worst finding first. The findings come worst first.
func whatToLookAt(findings []Finding) (looks, cautions []string) {
	looks = before(findings)
	for _, f := range findings {
		if f.Level < LevelLook {
			break
		}
		looks = appendNew(looks, remedies[f.cause].looks...)
		cautions = appendNew(cautions, remedies[f.cause].cautions...)
	}
	if looks != nil {
		cautions = append(cautions, cautionHandbooks)
	}
	return looks, cautions
}

// before is what comes before any look. An oil pressure that is gone stops her at
// once, all else as soon as the boat is safe. Source: NAVEDTRA 14075; RYA Manual of
// Seamanship ch. 4. Revs do not mend a regulator.
func before(findings []Finding) []string {
	has := func(level Level, not Gauge) bool {
		return slices.ContainsFunc(findings, func(f Finding) bool { return f.Level == level && f.Gauge != not })
	}
	switch {
	case slices.ContainsFunc(findings, func(f Finding) bool { return f.cause == causeNoOil }):
		return []string{stopAtOnce}
	case has(LevelStop, ""):
		return []string{stopSafely}
	case has(LevelLimit, GaugeVolts):
		return []string{easeFirst}
	}
	return nil
}

func appendNew(list []string, more ...string) []string {
	for _, text := range more {
		if !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return list
}
