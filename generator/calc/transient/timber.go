package transient

import (
	"fmt"

	"lapwork/generator/calc/movement"
	q "lapwork/generator/quantity"
)

// MostTimber is the moisture that timber in a build-up may come to, % of its dry mass: DIN 68800-2, from memory; the same figure
// holds for closing it in.
const MostTimber movement.Moisture = 20

// timberDays is how many days in a row are averaged: members of a build-up take weeks to follow the air beside them; common
// practice, no source.
const timberDays = 30

// coldestWood is the lower end of the formula for equilibrium moisture; colder wood takes on a little more, within a tenth of a
// percent for each degree.
const coldestWood q.Temperature = -10

// TimberMoisture is the highest moisture that timber beside a plane comes to in the last year, % of its dry mass: in equilibrium
// (Wood Handbook eq. 4-5) with the mean humidity and temperature of thirty days in a row, over the turn of the year too. Where free
// water stands, that is fibre saturation. A year shorter than thirty days counts as a whole.
func (p InterfaceYear) TimberMoisture() (most movement.Moisture, err error) {
	n := len(p.Humidity)
	span := min(timberDays, n)
	var rh q.Ratio
	var t q.Temperature
	for i := range n + span {
		rh, t = rh+p.Humidity[i%n], t+p.Temperature[i%n]
		if i < span-1 {
			continue
		}
		m, err := movement.Equilibrium(max(t/q.Temperature(span), coldestWood), min(rh/q.Ratio(span), 1))
		if err != nil {
			return 0, err
		}
		most = max(most, m)
		rh, t = rh-p.Humidity[(i-span+1)%n], t-p.Temperature[(i-span+1)%n]
	}
	return most, nil
}

// timber holds the planes beside timber against the most moisture it may come to.
func (j *Judgement) timber(r Result, c Criteria) {
	for _, i := range c.Timber {
		p := r.Interfaces[i]
		wet, err := p.TimberMoisture()
		if err == nil && wet <= MostTimber {
			continue
		}
		if err != nil {
			j.add(Unproven, Reason{Cause: TimberTooWet, Place: p.place(), Inner: p.Inner, Outer: p.Outer, Text: fmt.Sprintf("%s: %v", p.place(), err), Source: ruled})
			continue
		}
		j.add(Fails, Reason{Cause: TimberTooWet, Place: p.place(), Inner: p.Inner, Outer: p.Outer, Source: q.Source{Text: "DIN 68800-2", Status: q.FromMemory}}.
			said("timber comes to %.0f %% moisture, limit %.0f %%", float64(wet), float64(MostTimber)))
	}
}
