package tui

import (
	"errors"
	"fmt"
	"sync"
	"time"

	"boat/hoveshort/checklist"
)

// pending is a wish on its way to the disk.
type pending struct {
	id   int
	wish wish
}

// refusal is the domain's no: nothing was written, and nothing is wrong with the disk.
type refusal struct{ err error }

func (r refusal) Error() string { return r.err.Error() }

// writer writes wishes, each once. The library abandons commands that are under way
// when the program ends; then Run goes on with what is left, and this is how it knows.
type writer struct {
	add func(func([]checklist.Entry) (checklist.Act, error)) ([]checklist.Entry, []string, error)

	mu    sync.Mutex
	taken map[int]*outcome
}

// outcome is how a wish that was taken in hand ended, once ended is closed.
type outcome struct {
	ended chan struct{}
	err   error
}

func newWriter(add func(func([]checklist.Entry) (checklist.Act, error)) ([]checklist.Entry, []string, error)) *writer {
	return &writer{add: add, taken: map[int]*outcome{}}
}

// take says whether the wish is the caller's to write. One that failed may be taken again.
func (w *writer) take(id int) (*outcome, bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if o, was := w.taken[id]; was {
		select {
		case <-o.ended:
			if o.err == nil || errors.As(o.err, new(refusal)) {
				return o, false
			}
		default:
			return o, false
		}
	}
	o := &outcome{ended: make(chan struct{})}
	w.taken[id] = o
	return o, true
}

// write decides the wish under the record's lock and writes it. A failure that is not
// a refusal means that it is not on the disk.
func (w *writer) write(p pending, d checklist.Definitions, now time.Time) (entries []checklist.Entry, notices []string, err error, taken bool) {
	o, taken := w.take(p.id)
	if !taken {
		return nil, nil, nil, false
	}
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("writing: %v", r)
		}
		o.err = err
		close(o.ended)
	}()
	var refused error
	last := 0
	entries, notices, err = w.add(func(before []checklist.Entry) (checklist.Act, error) {
		act, err := p.wish.act(learn(d, before, now))
		refused, last = err, lastSeq(before)
		return act, err
	})
	switch {
	case err == nil:
	case refused != nil:
		err = refusal{refused}
	case lastSeq(entries) > last:
		notices, err = append(notices, err.Error()), nil // it is there, and something besides went wrong
	}
	return entries, notices, err, true
}

// drain writes what is left, in order, after the screens are gone. It gives back what
// is not on the disk, and why.
func (w *writer) drain(queue []pending, d checklist.Definitions, now time.Time) (lost []pending, why error) {
	for i, p := range queue {
		_, _, err, taken := w.write(p, d, now)
		if !taken {
			err = w.outcomeOf(p.id)
			if err != nil && !errors.As(err, new(refusal)) {
				_, _, err, _ = w.write(p, d, now)
			}
		}
		if err != nil && !errors.As(err, new(refusal)) {
			return queue[i:], err
		}
	}
	w.settle()
	return nil, nil
}

// outcomeOf waits until the wish ended.
func (w *writer) outcomeOf(id int) error {
	w.mu.Lock()
	o := w.taken[id]
	w.mu.Unlock()
	<-o.ended
	return o.err
}

// settle waits for everything that was taken in hand, also what no model knows of any more.
func (w *writer) settle() {
	w.mu.Lock()
	var all []*outcome
	for _, o := range w.taken {
		all = append(all, o)
	}
	w.mu.Unlock()
	for _, o := range all {
		<-o.ended
	}
}
