// Package nodal solves any network of resistances by its nodes, for tests: independent
// of the formulas of package calc, and slower.
package nodal

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// A Branch is a resistance, Ω, between two nodes of any network.
type Branch struct {
	From, To int
	Ohms     float64
}

// Voltages is an independent computation of a network's voltages: node 0 is ground, node 1
// the source of 1 V; shorts join nodes, opens are left out, and what is joined to
// neither floats (NaN). The rest is Kirchhoff's current law as one system of equations,
// solved by gonum's LU decomposition.
func Voltages(nodes int, branches []Branch) ([]float64, error) {
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
	g, e := mat.NewDense(nodes, nodes, nil), mat.NewVecDense(nodes, nil)
	for _, b := range branches {
		from, to := one[b.From], one[b.To]
		if b.Ohms > 0 && !math.IsInf(b.Ohms, 1) && from != to && !floats(from) {
			g.Set(from, from, g.At(from, from)+1/b.Ohms)
			g.Set(to, to, g.At(to, to)+1/b.Ohms)
			g.Set(from, to, g.At(from, to)-1/b.Ohms)
			g.Set(to, from, g.At(to, from)-1/b.Ohms)
		}
	}
	for n := range nodes {
		if held := n == one[0] || n == one[1]; held || n != one[n] || floats(n) {
			for k := range nodes {
				g.Set(n, k, 0)
			}
			g.Set(n, n, 1)
		}
	}
	if one[1] != one[0] {
		e.SetVec(one[1], 1)
	}
	var v mat.VecDense
	if err := v.SolveVec(g, e); err != nil {
		return nil, err
	}
	out := make([]float64, nodes)
	for n := range out {
		out[n] = v.AtVec(one[n])
		if floats(n) {
			out[n] = math.NaN()
		}
	}
	return out, nil
}
