// Package sun gives where the sun stands and what sun and sky bring to a face of a building.
//
//	δ   declination                                      °
//	E   equation of time                                 minutes
//	ω   hour angle, 0 at noon, 15° an hour               °
//	z   zenith angle, 0 straight above                   °
//	γ   azimuth, from north through east                 °
//	β   tilt of a face: 0 looks up, 90 wall, 180 down    °
//	I   irradiance                                       W/m²
//	L   heat radiation of the sky on a level face        W/m²
//
// δ and E are the series of J. W. Spencer, "Fourier series representation of the position of the sun", Search 2 (1971)
// 172 (coefficients from memory; held against an astronomy library in the tests, declination at most 0.35 degrees off, nearly
// all of it the calendar's: a weather file has no leap days). The diffuse part is as bright in every direction and the ground reflects
// 0.2 of what falls on it: B. Liu, R. Jordan, Solar Energy 7 (1963) 53 (from memory).
//
// A face loses to the sky what it radiates beyond what the sky sends back, EN 15026:2007 (from memory: short- and long-wave
// radiation belong to the outer boundary). The film's resistance of EN ISO 6946 holds the exchange with surroundings as warm
// as the air already, so only the sky's shortfall is counted; the ground counts as being as warm as the air.
package sun

import "errors"

// ErrInput says that a value lies outside its range.
var ErrInput = errors.New("sun: value outside its range")
