package sun

import (
	"math"

	q "lapwork/generator/quantity"
)

// Face is how an outer surface stands.
type Face struct {
	Tilt    q.Degrees // 0 looks up, 90 wall, 180 looks down
	Azimuth q.Degrees // where it looks, from north through east; of no account at a tilt of 0 or 180
}

// Radiation is the sun's mean over an hour.
type Radiation struct {
	Direct  q.Irradiance // on a face that looks at the sun
	Diffuse q.Irradiance // of the sky on a level face
	Global  q.Irradiance // both on a level face
}

// groundReflects is the share of the sun that the ground gives back: the usual value without snow (Liu and Jordan 1963, from
// memory).
const groundReflects = 0.2

// Emissivity is that of building surfaces that are no bare metal: EN ISO 6946:2017 annex C.
const Emissivity q.Ratio = 0.9

// boltzmann is the constant of Stefan and Boltzmann, W/(m² K⁴), CODATA.
const boltzmann = 5.670374419e-8

// SkyShare is the share of what the face sees that is sky, the rest ground: (1 + cos β)/2.
func (f Face) SkyShare() q.Ratio { return q.Ratio((1 + math.Cos(radians(float64(f.Tilt)))) / 2) }

// Facing is the cosine of the angle between the sun's rays and the face's normal; 0 where the sun stands behind the face or
// below the horizon.
func (f Face) Facing(p Position) float64 {
	if !p.Up() {
		return 0
	}
	sinZ, cosZ := math.Sincos(radians(float64(p.Zenith)))
	sinT, cosT := math.Sincos(radians(float64(f.Tilt)))
	return max(0, cosZ*cosT+sinZ*sinT*math.Cos(radians(float64(p.Azimuth-f.Azimuth))))
}

// Receives gives the sun on the face: direct, from the sky, and off the ground.
func (f Face) Receives(p Position, r Radiation) q.Irradiance {
	sky := q.Irradiance(f.SkyShare())
	return r.Direct*q.Irradiance(f.Facing(p)) + r.Diffuse*sky + groundReflects*r.Global*(1-sky)
}

// SkyLoss is what the face loses to the sky beyond an exchange with surroundings as warm as the air, for a sky that sends L
// to a level face: ε · SkyShare · (σ T⁴ − L). Below zero where the sky is warmer than the air.
func (f Face) SkyLoss(air q.Temperature, sky q.Irradiance) q.Irradiance {
	t := float64(air) + 273.15
	return q.Irradiance(Emissivity*f.SkyShare()) * (q.Irradiance(boltzmann*t*t*t*t) - sky)
}
