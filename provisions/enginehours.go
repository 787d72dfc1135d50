package provisions

import "boat/hoveshort/provisions/passage"

// EngineHours is how many hours the engine runs in an hour of each span of a voyage,
// charging included, 0 to 1.
func (s Situation) EngineHours(v passage.Voyage) []float64 {
	uses := newHousehold(s.Boat, s.Plan).follow(v).uses
	list := make([]float64, len(uses))
	for i, u := range uses {
		list[i] = u.engine
	}
	return list
}
