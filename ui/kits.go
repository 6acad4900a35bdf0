package ui

import (
	"context"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/spread"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/jobs"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// kitsMade are so many, of so much chance: the same build gives the same yield.
const (
	kitsMade = 20_000
	kitsSeed = 1
)

// A factory makes kits of a build, as spread.NewYield does.
type factory func(ctx context.Context, b *model.Build, kits int, seed uint64, progress func(done int)) (*spread.Yield, error)

// kits makes many kits of the build, and shows what comes of them.
type kits struct {
	s     *session.Session
	front *front.Front
	say   *notice.Notice
	keys  *keys.Map

	make factory
	made *jobs.Job[*model.Document, *spread.Yield]
}

func newKits(s *session.Session, front *front.Front, say *notice.Notice, keys *keys.Map, f factory) *kits {
	k := &kits{s: s, front: front, say: say, keys: keys, make: f}
	k.made = jobs.New[*model.Document](k.told, k.ended)
	s.OnMove(k.made.Keep)
	return k
}

// begin begins to make them, or shows what came of them.
func (k *kits) begin() tea.Cmd {
	switch {
	case k.s.Stale() || k.s.Report == nil:
		k.say.Say("No kits can be made until every value can be read: " + k.s.ToMend() + ".")
		return nil
	case k.made.Running() != nil:
		return nil
	case k.made.Of() == k.s.Doc:
		k.front.Open(yieldPage(k.made.Got()))
		return nil
	}
	k.told(0)
	produce, build := k.make, k.s.Report.Build
	return k.made.Start(k.s.Doc, func(ctx context.Context, tell func(int)) (*spread.Yield, error) {
		return produce(ctx, build, kitsMade, kitsSeed, tell)
	})
}

// told says how many kits are made.
func (k *kits) told(done int) {
	if k.front.Mode == front.Editing {
		k.say.Say(fmt.Sprintf("%s of %s kits are made; %s ends it.", quantity.Grouped(done), quantity.Grouped(kitsMade), k.keys.Revert.Help().Key))
	}
}

// ended takes what came of the kits. While something else is open it does not get
// in the way.
func (k *kits) ended(y *spread.Yield, err error) {
	switch {
	case err != nil:
		k.say.Fail("The kits could not be made: " + err.Error() + ".")
	case k.front.Mode == front.Editing:
		k.say.Clear() // how many are made
		k.front.Open(yieldPage(y))
	default:
		k.say.Say("The kits are made: " + k.keys.Kits.Help().Key + " shows them.")
	}
}

// end ends the making, and says so; false where nothing is made.
func (k *kits) end() bool {
	if !k.made.Cancel() {
		return false
	}
	k.say.Say("Ended: the kits were not made.")
	return true
}
