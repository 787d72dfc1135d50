package checklist

import (
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// ExplainStretch is where the figures of a thing's stretch i come from.
func (a Assessment) ExplainStretch(t passage.Thing, i int) provisions.Working {
	return a.situation.ExplainStretch(a.Reckoning, t, i, a.Units)
}

// ExplainLeg is where the time of a leg in a case comes from.
func (a Assessment) ExplainLeg(leg int, c passage.CaseName) provisions.Working {
	return a.situation.ExplainLeg(a.Reckoning, leg, c, a.Units)
}

// ExplainWhatIf is where a what-if's figures come from.
func (a Assessment) ExplainWhatIf(w provisions.WhatIf) provisions.Working {
	return a.situation.ExplainWhatIf(a.Reckoning, w, a.Units)
}

// ExplainTurning is where the last moment for turning back comes from.
func (a Assessment) ExplainTurning(t provisions.Turning) provisions.Working {
	return a.situation.ExplainTurning(a.Reckoning, t, a.Units)
}

// ExplainOnOrBack is where the point comes from at which on and back take the same time.
func (a Assessment) ExplainOnOrBack(p provisions.OnOrBack) provisions.Working {
	return a.situation.ExplainOnOrBack(a.Reckoning, p, a.Units)
}

// ExplainRange is where the range at one row of the engine's curve comes from.
func (a Assessment) ExplainRange(row provisions.RangeRow) provisions.Working {
	return a.situation.ExplainRange(a.Reckoning, row, a.Units)
}

// ExplainLoad is where the amount to load comes from.
func (a Assessment) ExplainLoad(l provisions.Load) provisions.Working {
	return a.situation.ExplainLoad(a.Reckoning, l, a.Units)
}

// ExplainWindow is where the times of departure for arriving by day come from.
func (a Assessment) ExplainWindow(w provisions.Window) provisions.Working {
	return a.situation.ExplainWindow(a.Reckoning, w, a.Units)
}
