package ui

import (
	"context"
	"fmt"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/spread"
)

// kitsMade are so many, of so much chance: the same build gives the same yield.
const (
	kitsMade = 20_000
	kitsSeed = 1
)

// A making is the kits of a build that are being made.
type making struct {
	build  *model.Build
	cancel context.CancelFunc
	done   chan int // how many; only the latest number waits
	end    chan madeMsg
}

// makingMsg tells how many kits are made, madeMsg what came of all of them.
type (
	makingMsg struct {
		of   *making
		done int
	}
	madeMsg struct {
		of    *making
		yield *spread.Yield
		err   error
	}
)

// makeMany makes many kits of the build, and shows what comes of them.
func (a *App) makeMany() tea.Cmd {
	switch {
	case a.stale() || a.report == nil:
		a.notice = notice{said, "No kits can be made until every value can be read: " + a.toMend() + "."}
		return nil
	case a.making != nil:
		return nil
	case a.yield != nil && a.yield.Build == a.report.Build:
		a.showYield()
		return nil
	}
	ctx, cancel := context.WithCancel(context.Background())
	a.making = &making{a.report.Build, cancel, make(chan int, 1), make(chan madeMsg, 1)}
	a.sayMade(0)
	return a.making.start(ctx, spread.NewYield)
}

// sayMade says how many kits are made.
func (a *App) sayMade(done int) {
	if a.mode == editing {
		a.notice = notice{said, fmt.Sprintf("%s of %s kits are made; %s ends it.", quantity.Grouped(done), quantity.Grouped(kitsMade), a.keys.Revert.Help().Key)}
	}
}

// made takes how far the making of kits is.
func (a *App) made(msg makingMsg) tea.Cmd {
	if msg.of != a.making {
		return nil
	}
	a.sayMade(msg.done)
	return msg.of.wait
}

// ended takes what came of the kits. While something else is open it does not get
// in the way.
func (a *App) ended(msg madeMsg) {
	if msg.of != a.making {
		return
	}
	msg.of.cancel()
	a.making = nil
	if msg.err == nil {
		a.yield = msg.yield
	}
	switch {
	case a.mode == confirming: // its question stays
	case msg.err != nil:
		a.notice = notice{failed, "The kits could not be made: " + msg.err.Error() + "."}
	case a.mode == editing:
		a.showYield()
	default:
		a.notice = notice{said, "The kits are made: " + a.keys.Kits.Help().Key + " shows them."}
	}
}

// endMaking ends the making of kits where it goes on; false where none does.
func (a *App) endMaking() bool {
	if a.making == nil {
		return false
	}
	a.making.cancel()
	a.making = nil
	return true
}

// heedMaking ends the making of kits at the key for that, and says so.
func (a *App) heedMaking(msg tea.KeyMsg) bool {
	if !key.Matches(msg, a.keys.Revert) || !a.endMaking() {
		return false
	}
	a.notice = notice{said, "Ended: the kits were not made."}
	return true
}
