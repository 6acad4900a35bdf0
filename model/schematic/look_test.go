package schematic

import (
	"fmt"
	"os"
	"testing"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/network"
)

func TestLook(t *testing.T) {
	text, _ := os.ReadFile(os.Getenv("LOOK"))
	b, pr := model.Read(string(text))
	if pr != nil {
		t.Fatal(pr)
	}
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	n := network.Of(b, p)
	d := Draw(n, n.At(n.Shares(0, 0.5)), All, os.Getenv("PLAIN") != "")
	fmt.Print(d.Text())
	os.WriteFile("/tmp/nw/circ/look.svg", []byte(d.SVG()), 0o644)
}
