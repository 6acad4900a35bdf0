package bench

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// beside has workers, one on each processor, do so many things: each takes the next by its
// number, until there is none.
func beside(things int, worker func(next func() (int, bool))) {
	var taken atomic.Int64
	next := func() (int, bool) {
		n := int(taken.Add(1)) - 1
		return n, n < things
	}
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() { worker(next) })
	}
	wait.Wait()
}
