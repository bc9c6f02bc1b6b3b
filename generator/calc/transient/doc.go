// Package transient simulates heat and moisture through a flat build-up hour by hour, in the manner of EN 15026:2007
// (hygrothermal performance, assessment of moisture transfer by numerical simulation; formulas and limits of its annex
// from two stored copies that agree, the clauses from memory). It covers what the monthly method leaves out: storage, liquid
// transport, latent heat, layers whose resistance follows the humidity.
//
//	T     temperature                          °C      -40 … 90
//	u     relative humidity; over 1: 1 + liquid at the node in kg/m²
//	p     vapour pressure, min(u, 1) · psat(T)  Pa
//	s     suction, -rho_w R (T+273.15)/Mw · ln(rh)  Pa
//	w     water content by volume              kg/m³
//	delta vapour permeability, delta0/mu       kg/(m s Pa)   delta0 = 2e-10 throughout, as in the monthly method
//	K     liquid conductivity                  s, that is kg/(m s Pa)
//	lambda thermal conductivity                W/(m K)
//
// Balances over the control volume of a node, flows counted towards the outside:
//
//	d(W)/dt = g(left) - g(right) + source          g = delta dp/dx (vapour) + K ds/dx (liquid, towards higher suction)
//	d(H)/dt = q(left) - q(right) + source          q = lambda dT/dx + g(vapour)·(L0 + cv T) + g(liquid)·cw T
//
// H is counted from 0 °C with liquid water as zero. Nodes stand on the interfaces, so the humidity there is an unknown
// and not an estimate; a membrane is an element without thickness between two nodes. Time steps are implicit (backward
// Euler) and as long as the change within them allows; a step of hours sees the mean of its hours. What a step leaves
// unsolved is handed to the next one, so the balances close over the whole run; what is left at the end is in Balance.
// Each step is a Newton iteration on a block-tridiagonal system of 2×2 blocks. A humidity-variable film between nodes that
// store nothing can have two answers, since it opens as it gets moister; where the iteration finds none, the film keeps the
// resistance it has for that step.
//
// At the outer surface sun and sky count as heat that is absorbed or lost there (Hour.Absorbed, package sun); rain does not count.
//
// Left out, as in the standard: frost, air flow through the build-up (an assumed leak is a source instead), heat and
// moisture along the surface. BeyondOneDimension says when that makes the result no proof.
package transient
