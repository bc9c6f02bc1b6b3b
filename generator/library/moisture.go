package library

import (
	"lapwork/generator/calc/climate"
	"lapwork/generator/calc/material"
	"lapwork/generator/diag"
)

// MoistureTables are the materials and outdoor climates of all layers together. A later layer's row takes the place of
// the row with its id, so that a firm puts declared values in place of usual ones.
type MoistureTables struct {
	Materials []material.Material
	Climates  []climate.Climate
}

func (t *MoistureTables) load(from Layer, found *diag.List) {
	if name, text := from.table("materials", found); text != nil {
		for _, row := range material.Parse(name, text, found) {
			t.Materials = put(t.Materials, row, func(m material.Material) bool { return m.ID == row.ID })
		}
	}
	if name, text := from.table("climates", found); text != nil {
		for _, row := range climate.Parse(name, text, found) {
			t.Climates = put(t.Climates, row, func(c climate.Climate) bool { return c.ID == row.ID })
		}
	}
}

// Material gives a material by its id.
func (t *MoistureTables) Material(id string) (m material.Material, ok bool) {
	for _, m := range t.Materials {
		if m.ID == id {
			return m, true
		}
	}
	return m, false
}

// Climate gives an outdoor climate by its id.
func (t *MoistureTables) Climate(id string) (c climate.Climate, ok bool) {
	for _, c := range t.Climates {
		if c.ID == id {
			return c, true
		}
	}
	return c, false
}
