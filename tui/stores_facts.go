package tui

import (
	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
)

// storesFacts are the stock and the rates as screen 3 tells them.
type storesFacts struct {
	isKnown bool // false: screen 3 is not shown, and all is empty
	first   []checklist.StockLine
	places  []checklist.StockPlace
	lines   []checklist.StockLine // of all places, in their order
	uses    []checklist.Use
	doubt   *provisions.Doubt
	tanks   []provisions.Tank // those that were ever sounded
}

func lookAtStores(f facts) storesFacts {
	stock := checklist.Stock(f.definitions, f.state, f.assessment)
	s := storesFacts{isKnown: true, first: checklist.EatFirst(stock), places: checklist.StockTaking(stock)}
	for _, place := range s.places {
		s.lines = append(s.lines, place.Lines...)
	}
	s.uses, s.doubt = checklist.Learnt(f.definitions, f.state, f.assessment)
	for _, tank := range f.definitions.Boat.Tanks {
		if len(f.state.Tanks[tank.Name].History) > 0 {
			s.tanks = append(s.tanks, tank)
		}
	}
	return s
}
