package jobs

import (
	"context"
	"errors"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// doubled is work whose outcome is known: twice a number.
func doubled(n int) Work[int] {
	return func(context.Context, func(int)) (int, error) { return 2 * n, nil }
}

// finish runs a command and what it leads to, and returns how much news came.
func finish(cmd tea.Cmd) (news int) {
	for ; cmd != nil; news++ {
		cmd = cmd().(Msg).Take()
	}
	return news
}

// What is sought is worked out once, and kept with its key.
func TestSeek(t *testing.T) {
	j := New[string, int](nil, nil)
	cmd := j.Seek("three", doubled(3))
	require.NotNil(t, cmd)
	assert.Nil(t, j.Seek("three", doubled(3)), "it is on its way")
	assert.Equal(t, 1, finish(cmd))
	assert.Equal(t, "three", j.Of())
	assert.Equal(t, 6, j.Got()) // derived: twice three
	assert.Nil(t, j.Seek("three", doubled(3)), "it is known")
	assert.Nil(t, j.Running())
}

// What was asked for before something else was is dropped, though it comes late.
func TestLateIsDropped(t *testing.T) {
	j := New[string, int](nil, func(got int, _ error) { assert.Equal(t, 8, got) })
	early, late := j.Seek("three", doubled(3)), j.Seek("four", doubled(4))
	finish(late)
	finish(early)
	assert.Equal(t, "four", j.Of())
	assert.Equal(t, 8, j.Got()) // derived: twice four
	require.NotNil(t, j.Seek("three", doubled(3)), "what was dropped can be sought again")
	assert.Nil(t, j.Seek("four", doubled(4)), "known, and what goes on is of no use")
	assert.Nil(t, j.Running())
}

// The document moves on: what goes on for another is cancelled.
func TestKeepCancels(t *testing.T) {
	j := New[string, int](nil, func(int, error) { assert.Fail(t, "nothing comes of it") })
	begun, ended := make(chan struct{}), make(chan error, 1)
	cmd := j.Start("three", func(ctx context.Context, _ func(int)) (int, error) {
		close(begun)
		<-ctx.Done()
		ended <- ctx.Err()
		return 0, ctx.Err()
	})
	news := make(chan tea.Msg)
	go func() { news <- cmd() }() // beside the keys, as the program runs it
	<-begun
	j.Keep("three")
	require.NotNil(t, j.Running())
	j.Keep("four")
	assert.Nil(t, j.Running())
	assert.ErrorIs(t, <-ended, context.Canceled)
	assert.Nil(t, (<-news).(Msg).Take(), "nothing more is waited for")
	assert.False(t, j.Cancel(), "nothing goes on")
}

// Work tells how far it is; of several numbers that nobody has read the last counts.
func TestTold(t *testing.T) {
	var told []int
	j := New[string, int](func(done int) { told = append(told, done) }, nil)
	next := make(chan struct{})
	cmd := j.Start("three", func(_ context.Context, tell func(int)) (int, error) {
		tell(1)
		tell(2)
		<-next
		return 6, nil
	})
	cmd = cmd().(Msg).Take()
	close(next)
	finish(cmd)
	require.NotEmpty(t, told)
	assert.LessOrEqual(t, len(told), 2)
	assert.Equal(t, 2, told[len(told)-1])
	assert.Equal(t, 6, j.Got())
}

// A failure is told once: what is sought does not fail again and again, what is
// started can be tried again. What came before stays.
func TestFailure(t *testing.T) {
	var failures []error
	j := New[string, int](nil, func(_ int, err error) { failures = append(failures, err) })
	j.Now("three", doubled(3))
	finish(j.Seek("four", func(context.Context, func(int)) (int, error) { panic("no fours today") }))
	finish(j.Start("five", func(context.Context, func(int)) (int, error) { return 0, errors.New("no fives") }))
	require.Len(t, failures, 3)
	assert.NoError(t, failures[0])
	assert.ErrorContains(t, failures[1], "no fours today")
	assert.ErrorContains(t, failures[2], "no fives")
	assert.Equal(t, "three", j.Of())
	assert.Equal(t, 6, j.Got())
	assert.Nil(t, j.Seek("four", doubled(4)), "it is not sought at every key")
	assert.NotNil(t, j.Start("five", doubled(5)))
}

// What cannot wait is worked out at once, and not twice.
func TestNow(t *testing.T) {
	times := 0
	work := func(context.Context, func(int)) (int, error) { times++; return 6, nil }
	j := New[string, int](nil, nil)
	late := j.Seek("three", work)
	j.Now("three", work)
	j.Now("three", work)
	assert.Equal(t, 6, j.Got())
	assert.Equal(t, 1, times)
	assert.Nil(t, j.Running(), "nobody waits for what was sought")
	finish(late)
	assert.Equal(t, 6, j.Got())
}
