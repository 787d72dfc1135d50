package passage

import "boat/hoveshort/provisions/quantity"

// MadeGoodHome is how a leg is sailed back from its end to its beginning in one case:
// V = p*m*Vp + (1-p)*k*Vs - current, with the leg's own Home for Vs and p, and where it
// gives none half of the speed under sail and the case's share of power
// (HomeIsGuessed). Fouling and the cap on the revs are as on the way out. It is not ok
// where she makes no way home: V below 0.5 kn, or as for MadeGood.
func (l Leg) MadeGoodHome(e Engine, c Case, t Trim) (MadeGood, bool) {
	back := l
	back.Current = -l.Current
	if l.Home == nil {
		back.Sail = l.Sail / 2
		return back.MadeGood(e, c, t)
	}
	back.Sail = l.Home.Sail
	c.Power = l.Home.Power
	return back.MadeGood(e, c, t)
}

// HomeIsGuessed says that the skipper wrote no speeds for going back.
func (l Leg) HomeIsGuessed() bool { return l.Home == nil }

// MotoringAt is the speed at these revs in smooth water without current, less the
// fouling; a cap on the revs is not asked. It is not ok outside the curve or without one.
func (e Engine) MotoringAt(rpm int, t Trim) (v quantity.Speed, ok bool) {
	clean, ok := e.SpeedAt(rpm)
	return clean * quantity.Speed(t.fouling()), ok
}
