package checklist

import (
	"time"

	"boat/hoveshort/provisions"
)

// LevelThen is a tank at a sounding, or what was moved into or out of it.
type LevelThen struct {
	At    time.Time
	Told  string            // as typed
	Level provisions.Amount // of a sounding
	Moved provisions.Amount // in above 0, out below; 0: it is a sounding
	Share float64           // of the capacity, 0 to 1, of a sounding
}

// History is a tank through its last soundings, oldest first. What its table cannot tell any
// more, because the files changed since, is left out; so is what a doubtful clock dated.
func (d Definitions) History(s State, tank provisions.Tank) []LevelThen {
	var list []LevelThen
	for _, g := range s.Tanks[tank.Name].History {
		then := LevelThen{At: g.At, Told: g.Level}
		if g.Level == "" {
			then.Told, then.Moved = g.Amount, provisions.Amount(movedIn(tank, g))
		} else {
			level, known := levelIn(tank, g.Level)
			if !known || g.Doubtful {
				continue
			}
			then.Level = provisions.Amount(level)
			if tank.Capacity > 0 {
				then.Share = level / float64(tank.Capacity)
			}
		}
		list = append(list, then)
	}
	return list
}
