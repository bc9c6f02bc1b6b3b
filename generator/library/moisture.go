package library

import (
	"maps"

	"lapwork/generator/calc/climate"
	"lapwork/generator/calc/condensation"
	"lapwork/generator/calc/material"
	"lapwork/generator/diag"
	"lapwork/generator/job"
)

// MoistureTables are the materials, sheets and outdoor climates of all layers together. A later layer's row takes the place of
// the row with its id, so that a firm puts declared values in place of usual ones.
type MoistureTables struct {
	Materials []material.Material
	Climates  []climate.Climate
	Kinds     []MaterialKind
	Classes   []SheetClass
	Curves    map[string]condensation.Curve // sd by humidity, by the id of a component or material
	Storage   map[string]Storage            // by the id of a material
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
	if name, text := from.table("material-kinds", found); text != nil {
		for _, row := range readKinds(name, text, found) {
			t.Kinds = put(t.Kinds, row, func(k MaterialKind) bool { return k.ID == row.ID })
		}
	}
	if name, text := from.table("sd-classes", found); text != nil {
		for _, row := range readSheetClasses(name, text, found) {
			t.Classes = put(t.Classes, row, func(c SheetClass) bool { return c.ID == row.ID })
		}
	}
	if name, text := from.table("sd-curves", found); text != nil {
		if t.Curves == nil {
			t.Curves = map[string]condensation.Curve{}
		}
		maps.Copy(t.Curves, condensation.ParseCurves(name, text, found))
	}
	if name, text := from.table("storage", found); text != nil {
		if t.Storage == nil {
			t.Storage = map[string]Storage{}
		}
		maps.Copy(t.Storage, readStorage(name, text, found))
	}
}

// Kind says what a material is; one without a row takes up no water and is of no kind.
func (t *MoistureTables) Kind(id string) MaterialKind {
	for _, k := range t.Kinds {
		if k.ID == id {
			return k
		}
	}
	return MaterialKind{ID: id}
}

// Class gives the range of sd of a class of sheet.
func (t *MoistureTables) Class(id job.ComponentID) (c SheetClass, ok bool) {
	for _, c := range t.Classes {
		if c.ID == id {
			return c, true
		}
	}
	return c, false
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
