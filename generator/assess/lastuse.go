package assess

import "lapwork/generator/calc/programme"

// use is a component of a delivery.
type use struct {
	delivery  *Delivery
	component string
}

// LastUse gives when a component of a delivery is last worked with; ok is false where no step places it.
func (p *Programme) LastUse(d *Delivery, component string) (t programme.Instant, ok bool) {
	t, ok = p.lastUse[use{d, component}]
	return t, ok
}

// uses finds the last use of every component of every delivery.
func (p *Programme) uses(deliveries []*Delivery) {
	of := map[string]*Delivery{}
	for _, d := range deliveries {
		for _, room := range d.Rooms {
			of[string(room.ID)] = d
		}
	}
	p.lastUse = map[use]programme.Instant{}
	for _, s := range p.Steps {
		for _, place := range s.Places {
			for _, line := range place.Lines {
				key := use{of[line.Room], line.Component}
				p.lastUse[key] = max(p.lastUse[key], s.Slot.Finish)
			}
		}
	}
}
