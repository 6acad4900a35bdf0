package fit

import (
	"context"
	"fmt"
	"runtime"
	"sync"
)

// All answers for the meters of a drawer on all cores, sorted. done, where it is not nil, is
// told of each as it comes, one call at a time, in no order. Where ctx ends first, the error
// is its cause.
func (f *Frame) All(ctx context.Context, rows []*Row, done func(*Meter)) ([]*Meter, error) {
	w := &work{frame: f, rows: rows, meters: make([]*Meter, len(rows)), done: done}
	var workers sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(rows)) {
		workers.Go(func() { w.run(ctx) })
	}
	workers.Wait()
	switch {
	case w.failed != nil:
		return nil, w.failed
	case ctx.Err() != nil:
		return nil, context.Cause(ctx)
	}
	Sort(w.meters)
	return w.meters, nil
}

// A work hands rows out.
type work struct {
	frame  *Frame
	rows   []*Row
	meters []*Meter
	done   func(*Meter)

	turn   sync.Mutex // guards what follows
	next   int
	failed error
}

// run takes rows until there are none.
func (w *work) run(ctx context.Context) {
	k := 0
	defer func() {
		if r := recover(); r != nil {
			w.turn.Lock()
			defer w.turn.Unlock()
			w.failed = fmt.Errorf("%s: the program failed: %v", w.rows[k].Name, r)
		}
	}()
	for w.take(ctx, &k) {
		w.meters[k] = w.frame.Of(w.rows[k])
		w.tell(w.meters[k])
	}
}

// take gives the next row, if any.
func (w *work) take(ctx context.Context, k *int) bool {
	w.turn.Lock()
	defer w.turn.Unlock()
	if w.next == len(w.rows) || w.failed != nil || ctx.Err() != nil {
		return false
	}
	*k = w.next
	w.next++
	return true
}

func (w *work) tell(m *Meter) {
	if w.done == nil {
		return
	}
	w.turn.Lock()
	defer w.turn.Unlock()
	w.done(m)
}
