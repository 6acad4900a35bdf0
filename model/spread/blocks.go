package spread

import (
	"context"
	"fmt"
	"runtime"
	"sync"
)

// inBlocks does blocks of work 0 to n-1 on all cores: each worker makes itself
// what does a block, and takes one after the other. progress, where it is not nil, is
// told after each how many are done, one call at a time. It stops early, between
// blocks, when ctx ends or a worker panics, which comes back as an error, and
// returns how many were done.
func inBlocks(ctx context.Context, n int, worker func() func(block int), progress func(done int)) (int, error) {
	q := &queue{n: n, ctx: ctx, progress: progress}
	var workers sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		workers.Go(func() { q.work(worker) })
	}
	workers.Wait()
	switch {
	case q.failed != nil:
		return q.done, q.failed
	case q.done < n:
		return q.done, context.Cause(ctx)
	}
	return n, nil
}

// A queue hands blocks out.
type queue struct {
	n        int
	ctx      context.Context
	progress func(done int)

	turn       sync.Mutex // guards what follows
	next, done int
	failed     error
}

// work takes blocks until there are none.
func (q *queue) work(worker func() func(block int)) {
	block := 0
	defer func() {
		if r := recover(); r != nil {
			q.turn.Lock()
			defer q.turn.Unlock()
			q.failed = fmt.Errorf("block %d: the program failed: %v", block, r)
		}
	}()
	do := worker()
	for q.take(&block) {
		do(block)
		q.finish()
	}
}

// take gives the next block, if any.
func (q *queue) take(block *int) bool {
	q.turn.Lock()
	defer q.turn.Unlock()
	if q.next == q.n || q.failed != nil || q.ctx.Err() != nil {
		return false
	}
	*block = q.next
	q.next++
	return true
}

func (q *queue) finish() {
	q.turn.Lock()
	defer q.turn.Unlock()
	q.done++
	if q.progress != nil {
		q.progress(q.done)
	}
}
