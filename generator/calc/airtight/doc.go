// Package airtight analyses fan pressurisation tests after ISO 9972:2015 (EN 13829:2000, ASTM E779 and CAN/CGSB-149.10
// as other sets of rules), and holds a result against a limit.
//
// Symbols:
//
//	dp      induced pressure: measured less the mean of the zero-flow pressures before and after, then its magnitude, Pa
//	q_m     flow in the fan at the state of the air there, m³/s
//	q_env   flow through the envelope: q_m rho_i/rho_e in depressurisation, q_m rho_e/rho_i in pressurisation
//	C_env,n coefficient and exponent of the line ln q_env = ln C_env + n ln dp
//	C_L     C_env (rho/rho_0)^(1-n), rho of the air that flows in: outside in depressurisation, inside in pressurisation
//	q50     C_L 50^n: a flow in m³/h. EN 13829 wrote q50 for a rate per envelope area; that is qE50 here, and q50 per
//	        area is refused wherever it is read
//	n50     q50/V in 1/h; qE50 = q50/AE, qF50 = q50/AF in m³/(h·m²)
//	ELA     C_L (rho_0/2)^0.5 dp_r^(n-0.5)/Cd, m²: never without its pressure and discharge coefficient
//
// One line is put through each direction; what is reported is the mean of the two flows, never a line through both series
// and never the flow of mean C and mean n.
//
// ISO 9972:2015 eq. (8) q = C_L dp^n and 6.3.2 eq. (9) n = q/V are confirmed by public code that names the standard; the
// other formulas and clause numbers are from memory, as each rule says. The answers in testdata/airtest come from
// another program.
package airtight
