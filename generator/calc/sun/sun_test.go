package sun_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"lapwork/generator/calc/sun"
	_ "lapwork/generator/lawtest"
	"lapwork/generator/lawtest/values"
	q "lapwork/generator/quantity"
)

var firstDay = [13]int{0, 1, 32, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335}

// The sun's position against a published example and an astronomy library. Half a degree: the series knows no leap years, so
// that a date may lie half a day off, 0.2° of declination; a degree of azimuth is worth less the higher the sun stands.
func TestPosition(t *testing.T) {
	for _, r := range values.Rows(t, "../../../testdata/sun", "positions.csv") {
		t.Run(r["check_id"]+" "+r["status"], func(t *testing.T) {
			s := sun.Site{Latitude: q.Degrees(r.Number(t, "latitude_deg")), Longitude: q.Degrees(r.Number(t, "longitude_deg")), Zone: r.Number(t, "zone_h")}
			p, err := s.At(firstDay[int(r.Number(t, "month"))]+int(r.Number(t, "day"))-1, r.Number(t, "hour"))
			if err != nil {
				t.Fatal(err)
			}
			values.Within(t, "zenith", float64(p.Zenith), r.Number(t, "zenith_deg"), 0.5)
			off := math.Remainder(float64(p.Azimuth)-r.Number(t, "azimuth_deg"), 360)
			values.Within(t, "azimuth", off*math.Sin(r.Number(t, "zenith_deg")*math.Pi/180), 0, 0.5)
		})
	}
}

// A wall and a roof by hand: the sun 60° from straight above in the south-east (azimuth 150°), 500 W/m² direct, 100 diffuse,
// 350 global (500·cos 60° + 100).
//
//	south wall  500·sin 60°·cos 30° = 375, sky 100/2 = 50, ground 0.2·350/2 = 35: 460 W/m²
//	north wall  none direct, 50 + 35 = 85
//	roof of 30° to the south  500·(0.5·0.86603 + 0.86603·0.5·0.86603) = 404.01, sky 100·0.93301 = 93.30, ground 0.2·350·0.06699 = 4.69
//
// A clear sky sends 250 W/m² at 10 °C: σ·283.15⁴ = 364.48, and a level roof loses 0.9·114.48 = 103.03, a wall half of that.
func TestByHand(t *testing.T) {
	p, r := sun.Position{Zenith: 60, Azimuth: 150}, sun.Radiation{Direct: 500, Diffuse: 100, Global: 350}
	for _, tt := range []struct {
		name string
		face sun.Face
		want float64
	}{
		{"south wall", sun.Face{Tilt: 90, Azimuth: 180}, 460},
		{"north wall", sun.Face{Tilt: 90, Azimuth: 0}, 85},
		{"south roof", sun.Face{Tilt: 30, Azimuth: 180}, 502.00},
		{"flat roof", sun.Face{}, 350},
		{"floor over outside air", sun.Face{Tilt: 180}, 70},
	} {
		values.Within(t, tt.name, float64(tt.face.Receives(p, r)), tt.want, 0.01)
	}
	values.Within(t, "sky loss of a roof", float64(sun.Face{}.SkyLoss(10, 250)), 103.03, 0.02)
	values.Within(t, "sky loss of a wall", float64(sun.Face{Tilt: 90}.SkyLoss(10, 250)), 51.52, 0.01)
}

// Laws: whatever the sun and the tilt, no face gets more direct sun than one that looks at the sun; all walls together get
// sin z/π of it in the mean (the shadow of an upright cylinder over its surface); at night nothing but what the sky and the
// ground send; a face and the one that looks the other way see the sky once between them.
func TestLawsOfFaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := func(label string, most float64) q.Degrees {
			return q.Degrees(rapid.Float64Range(0, most).Draw(t, label))
		}
		p := sun.Position{Zenith: angle("zenith", 180), Azimuth: angle("azimuth", 360)}
		f := sun.Face{Tilt: angle("tilt", 180), Azimuth: angle("looks", 360)}
		c := f.Facing(p)
		if !(c >= 0 && c <= 1+1e-12) || !p.Up() && c != 0 {
			t.Fatalf("faces the sun by %v", c)
		}
		back := sun.Face{Tilt: 180 - f.Tilt, Azimuth: f.Azimuth + 180}
		if s := f.SkyShare() + back.SkyShare(); math.Abs(float64(s)-1) > 1e-12 {
			t.Fatalf("sky seen %v times", s)
		}
		if c > 1e-9 && back.Facing(p) > 1e-9 {
			t.Fatal("the sun shines on both sides")
		}
		mean := 0.0
		for k := range 360 {
			mean += sun.Face{Tilt: 90, Azimuth: q.Degrees(float64(k) + 0.5)}.Facing(p) / 360
		}
		want := math.Sin(float64(p.Zenith)*math.Pi/180) / math.Pi
		if !p.Up() {
			want = 0
		}
		if math.Abs(mean-want) > 1e-4 {
			t.Fatalf("walls get %v in the mean, want %v", mean, want)
		}
	})
}

// The sun is highest in the middle between two equal heights, in the south for the north of the tropics, and never higher
// than latitude and tilt of the earth's axis (23.45°) allow.
func TestLawsOfTheSun(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sun.Site{Latitude: q.Degrees(rapid.Float64Range(25, 65).Draw(t, "latitude")), Longitude: q.Degrees(rapid.Float64Range(-180, 180).Draw(t, "longitude"))}
		s.Zone = math.Max(-12, math.Round(float64(s.Longitude)/15))
		day := rapid.IntRange(1, 365).Draw(t, "day")
		best := sun.Position{Zenith: 180}
		for k := range 24 * 30 {
			p, err := s.At(day, float64(k)/30)
			if err != nil {
				t.Fatal(err)
			}
			if p.Zenith < best.Zenith {
				best = p
			}
		}
		// Two minutes are half a degree of the hour angle; a degree of azimuth is worth less the higher the sun stands.
		if math.Abs(float64(best.Azimuth)-180)*math.Sin(float64(best.Zenith)*math.Pi/180) > 0.5 {
			t.Fatalf("highest in direction %v", best.Azimuth)
		}
		if low, high := float64(s.Latitude)-23.5, float64(s.Latitude)+23.5; float64(best.Zenith) < low-0.01 || float64(best.Zenith) > high+0.01 {
			t.Fatalf("zenith %v at latitude %v", best.Zenith, s.Latitude)
		}
	})
}

func TestOutOfRangeIsAnError(t *testing.T) {
	here := sun.Site{Latitude: 50, Longitude: 8, Zone: 1}
	for name, call := range map[string]func() (sun.Position, error){
		"latitude":  func() (sun.Position, error) { return sun.Site{Latitude: 91}.At(1, 1) },
		"longitude": func() (sun.Position, error) { return sun.Site{Longitude: -181}.At(1, 1) },
		"zone":      func() (sun.Position, error) { return sun.Site{Zone: math.NaN()}.At(1, 1) },
		"day":       func() (sun.Position, error) { return here.At(366, 1) },
		"hour":      func() (sun.Position, error) { return here.At(1, 24.1) },
	} {
		if _, err := call(); !errors.Is(err, sun.ErrInput) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
