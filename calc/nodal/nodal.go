// Package nodal solves any network of resistances by its nodes, for tests: independent
// of the formulas of package calc, and slower.
package nodal

import (
	"math"
	"math/big"
)

// A Branch is a resistance, Ω, between two nodes of any network.
type Branch struct {
	From, To int
	Ohms     float64
}

// Voltages is an independent computation of a network's voltages: node 0 is ground, node 1
// the source of 1 V; shorts join nodes, opens are left out, and what is joined to
// neither floats (NaN). The rest is Kirchhoff's current law as one system of equations,
// solved by elimination in 200 bits: in 53, a node between a tenth of an ohm and a
// megohm would keep only nine digits.
func Voltages(nodes int, branches []Branch) []float64 {
	joined := make([]int, nodes)
	for n := range joined {
		joined[n] = n
	}
	root := func(n int) int {
		for joined[n] != n {
			n = joined[n]
		}
		return n
	}
	join := func(a, b int) { joined[max(root(a), root(b))] = min(root(a), root(b)) }
	for _, b := range branches {
		if b.Ohms == 0 {
			join(b.From, b.To)
		}
	}
	one := append([]int{}, joined...)
	for n := range one {
		one[n] = root(n)
	}
	for _, b := range branches { // from here on: what is joined to anything at all
		if !math.IsInf(b.Ohms, 1) {
			join(b.From, b.To)
		}
	}
	floats := func(n int) bool { return root(n) != root(0) && root(n) != root(1) }
	g := newSystem(nodes)
	for _, b := range branches {
		from, to := one[b.From], one[b.To]
		if b.Ohms > 0 && !math.IsInf(b.Ohms, 1) && from != to && !floats(from) {
			siemens := exact(1)
			siemens.Quo(siemens, exact(b.Ohms))
			g[from][from].Add(g[from][from], siemens)
			g[to][to].Add(g[to][to], siemens)
			g[from][to].Sub(g[from][to], siemens)
			g[to][from].Sub(g[to][from], siemens)
		}
	}
	for n := range nodes {
		if held := n == one[0] || n == one[1]; held || n != one[n] || floats(n) {
			for k := range g[n] {
				g[n][k] = exact(0)
			}
			g[n][n] = exact(1)
		}
	}
	if one[1] != one[0] {
		g[one[1]][nodes] = exact(1)
	}
	v := g.solved()
	out := make([]float64, nodes)
	for n := range out {
		out[n] = v[one[n]]
		if floats(n) {
			out[n] = math.NaN()
		}
	}
	return out
}

func exact(x float64) *big.Float { return new(big.Float).SetPrec(200).SetFloat64(x) }

// A system is one of linear equations, a row each, with what it comes to behind it.
type system [][]*big.Float

func newSystem(n int) system {
	g := make(system, n)
	for i := range g {
		g[i] = make([]*big.Float, n+1)
		for k := range g[i] {
			g[i][k] = exact(0)
		}
	}
	return g
}

// solved eliminates the unknowns one after another. No pivot is sought: a row's own
// conductance is the sum of all others.
func (g system) solved() []float64 {
	n := len(g)
	for i := range n {
		for r := range n {
			if r == i || g[r][i].Sign() == 0 {
				continue
			}
			by := new(big.Float).Quo(g[r][i], g[i][i])
			for k := i; k <= n; k++ {
				g[r][k].Sub(g[r][k], new(big.Float).Mul(by, g[i][k]))
			}
		}
	}
	v := make([]float64, n)
	for i := range v {
		v[i], _ = new(big.Float).Quo(g[i][n], g[i][i]).Float64()
	}
	return v
}
