// Package jobs does work beside the keys: what takes longer than a key may wait.
//
// To add a job: give the part that shows its outcome a *Job, made by New. Its key is
// a small value that names all that the work depends on: a document, a report, a hand.
// From Update, ask for it by Seek with the key that is wanted now, as often as you
// like, or by Start where a person asked for it; the command that they return does the
// work, and App brings what comes of it back as a Msg. Draw from Got, and look at Of
// where an older outcome must not pass for the present one. Work that was asked for
// with another key is dropped by Seek, Start and Keep, whatever it brings later; its
// context is cancelled. A job of the document that is started at a key has its Keep given
// to Session.OnMove. Work that tells how far it is calls tell.
//
// A job's work runs on a goroutine of its own: it may read what never changes, such as
// a document or a report, and touches no part of the dashboard.
package jobs

import (
	"context"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"
)

// Work works an outcome out. It ends early where its context is cancelled, and may
// tell how far it is.
type Work[T any] func(ctx context.Context, tell func(done int)) (T, error)

// A Job is one kind of work: what came of it last, and what goes on. K names what the
// work depends on: with equal keys it has equal outcomes.
type Job[K comparable, T any] struct {
	told  func(done int)
	ended func(got T, err error)

	run    *Run[K, T] // that goes on; nil: none does
	sought K          // by Seek last; it is not sought again, though it failed
	of     K          // the key of got
	got    T
}

// New returns a job. While its work goes on told is called with how far it is, and at
// last ended with what came of it, both in Update; nil where nothing needs to be done.
func New[K comparable, T any](told func(done int), ended func(got T, err error)) *Job[K, T] {
	return &Job[K, T]{told: told, ended: ended}
}

// A Run is work of a job that goes on.
type Run[K comparable, T any] struct {
	job    *Job[K, T]
	key    K
	cancel context.CancelFunc
	done   chan int // how far it is; only the latest number waits
	end    chan Msg
}

// A Msg brings news of a job to Update, which calls Take.
type Msg struct{ take func() tea.Cmd }

// Take gives the news to their job, and returns the command that waits for the next.
func (m Msg) Take() tea.Cmd { return m.take() }

// Of returns the key of what came last, the zero key where nothing did.
func (j *Job[K, T]) Of() K { return j.of }

// Got returns what came last.
func (j *Job[K, T]) Got() T { return j.got }

// Running returns the work that goes on; nil where none does.
func (j *Job[K, T]) Running() *Run[K, T] { return j.run }

// Seek returns the command that works out what is wanted of a key; nil where that is
// known, or was sought already. What goes on with another key is dropped.
func (j *Job[K, T]) Seek(key K, work Work[T]) tea.Cmd {
	if key == j.of {
		j.Keep(key)
		return nil
	}
	if key == j.sought {
		return nil
	}
	cmd := j.Start(key, work)
	j.sought = key
	return cmd
}

// Start returns the command that does the work, and drops what goes on.
func (j *Job[K, T]) Start(key K, work Work[T]) tea.Cmd {
	j.Cancel()
	ctx, cancel := context.WithCancel(context.Background())
	r := &Run[K, T]{job: j, key: key, cancel: cancel, done: make(chan int, 1), end: make(chan Msg, 1)}
	j.run = r
	return func() tea.Msg {
		go func() { r.end <- r.Ended(try(ctx, work, r.tell)) }()
		return r.wait()
	}
}

// Now works it out at once, for what cannot do without, unless it is known.
func (j *Job[K, T]) Now(key K, work Work[T]) {
	if key == j.of {
		return
	}
	j.Cancel()
	j.sought = key
	got, err := work(context.Background(), func(int) {})
	j.take(key, got, err)
}

// Keep drops what goes on with another key.
func (j *Job[K, T]) Keep(key K) {
	if j.run != nil && j.run.key != key {
		j.Cancel()
	}
}

// Cancel ends what goes on; false where nothing does.
func (j *Job[K, T]) Cancel() bool {
	if j.run == nil {
		return false
	}
	var none K
	j.run.cancel()
	j.run, j.sought = nil, none
	return true
}

// take keeps an outcome.
func (j *Job[K, T]) take(key K, got T, err error) {
	j.run = nil
	if err == nil {
		j.of, j.got = key, got
	}
	if j.ended != nil {
		j.ended(got, err)
	}
}

// Key returns what the work depends on.
func (r *Run[K, T]) Key() K { return r.key }

// Told returns the news that so much is done.
func (r *Run[K, T]) Told(done int) Msg {
	return Msg{func() tea.Cmd {
		if r.job.run != r {
			return nil
		}
		if r.job.told != nil {
			r.job.told(done)
		}
		return r.wait
	}}
}

// Ended returns the news of the outcome.
func (r *Run[K, T]) Ended(got T, err error) Msg {
	return Msg{func() tea.Cmd {
		if r.job.run == r {
			r.cancel()
			r.job.take(r.key, got, err)
		}
		return nil
	}}
}

// tell leaves the latest number to be read.
func (r *Run[K, T]) tell(done int) {
	select {
	case <-r.done: // nobody has read it yet
	default:
	}
	r.done <- done
}

// wait returns the next news, the outcome at last.
func (r *Run[K, T]) wait() tea.Msg {
	select {
	case msg := <-r.end:
		return msg
	case done := <-r.done:
		return r.Told(done)
	}
}

// try does the work. A failure of the program comes back as an error.
func try[T any](ctx context.Context, work Work[T], tell func(int)) (got T, err error) {
	defer func() {
		if r := recover(); r != nil {
			var none T
			got, err = none, fmt.Errorf("the program failed: %v", r)
		}
	}()
	return work(ctx, tell)
}
