package assess

import (
	"context"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/library"
	"lapwork/generator/surface"
)

// Results is everything computed about a job.
type Results struct {
	Context
	Model      *surface.Model
	Places     []*Place // in the order they were derived: the seams last
	Layouts    []*Layout
	Deliveries []*Delivery
	Stages     map[job.RoomID][]Stage // in working order
	Checks     []Check                // in working order within a room; storeys and the job last
	Questions  []Question
	Cautions   Cautions
	Air        Air
	Programme  *Programme // nil: it cannot be computed, a finding says why
	Moisture   Moisture

	byRoom   map[job.RoomID][]*Place
	layouts  map[job.RoomID][]*Layout
	byScope  map[string][]Check
	layoutOf map[job.SurfaceID]*Layout
	placeOf  map[string]*Place
	besides  []WidthTally // the roll widths of the stock side by side
}

// Compute orders the material, plans the work and its checks, and collects cautions and questions. places are
// all junctions with their answers, laid the sheet of all surfaces.
func (c Context) Compute(ctx context.Context, m *surface.Model, places []*Place, laid Laid, found *diag.List) (*Results, error) {
	layouts := laid.Layouts
	r := &Results{Context: c, Model: m, Places: places, Layouts: layouts, Stages: map[job.RoomID][]Stage{},
		byRoom: map[job.RoomID][]*Place{}, layoutOf: map[job.SurfaceID]*Layout{}, placeOf: map[string]*Place{},
		layouts: map[job.RoomID][]*Layout{}, byScope: map[string][]Check{}, besides: laid.widths}
	for _, p := range places {
		r.byRoom[p.Record.Room.ID] = append(r.byRoom[p.Record.Room.ID], p)
		r.placeOf[p.Record.ID] = p
	}
	for _, l := range layouts {
		r.layoutOf[l.Surface.ID] = l
		r.layouts[l.Surface.Room.ID] = append(r.layouts[l.Surface.Room.ID], l)
	}
	var err error
	if r.Deliveries, err = c.Deliveries(laid, places); err != nil {
		return nil, err
	}
	r.access(found)
	for _, room := range c.Job.Rooms {
		if r.HasLayer(room.ID) {
			r.Stages[room.ID] = r.stages(room)
		}
	}
	r.Checks = r.checkPlan()
	for _, check := range r.Checks {
		r.byScope[check.Scope] = append(r.byScope[check.Scope], check)
	}
	r.Questions = r.questions(found)
	r.Cautions = r.cautions()
	if r.Moisture, err = r.moisture(ctx, found); err != nil {
		return nil, err
	}
	r.designPoints(found)
	r.Programme = r.programme(found)
	if r.Air, err = r.air(found); err != nil {
		return nil, err
	}
	return r, nil
}

// HasLayer reports whether there is anything to do in a room.
func (r *Results) HasLayer(room job.RoomID) bool { return len(r.byRoom[room]) > 0 }

// PlacesIn gives a room's places in derived order.
func (r *Results) PlacesIn(room job.RoomID) []*Place { return r.byRoom[room] }

// LayoutsIn gives the layouts of a room in surface order.
func (r *Results) LayoutsIn(room job.RoomID) []*Layout { return r.layouts[room] }

// ChecksIn gives the check plan of a room, a storey or the job.
func (r *Results) ChecksIn(scope string) []Check { return r.byScope[scope] }

// LayoutOf gives a surface's sheet; nil where it carries none.
func (r *Results) LayoutOf(s job.SurfaceID) *Layout { return r.layoutOf[s] }

// Place gives a place by its junction id; nil where there is none.
func (r *Results) Place(id string) *Place { return r.placeOf[id] }

// Question is an unanswered question to the site lead that could change what is done somewhere.
type Question struct {
	Flag   *library.Flag
	Places []string
}

// questions collects the open questions of all places in table order.
func (r *Results) questions(found *diag.List) []Question {
	at := map[job.FlagID][]string{}
	for _, p := range r.Places {
		for _, f := range p.Chosen.Questions {
			at[f] = append(at[f], p.Record.ID)
		}
	}
	var out []Question
	for _, f := range r.Library.Flags.All() {
		if ids := at[f.ID]; len(ids) > 0 {
			out = append(out, Question{f, ids})
			found.Openf(r.Job.Pos, string(f.ID), r.say("write under answers: - {by: name, flags: {%s: %s}}; add for: B2 to answer for room B2 alone", f.ID, f.Default),
				"%s Assumed: %s. It matters at %s.", f.Question, r.word(f.Default), several(ids))
		}
	}
	return out
}

// designPoints lists what the design still owes before hanging (hold H1) besides the moisture check: the sheet class as
// checked.
func (r *Results) designPoints(found *diag.List) {
	sheet := r.component("sheet-main")
	for _, b := range r.Job.BuildUps {
		if !r.usesSheet(b) {
			continue
		}
		switch {
		case b.SheetClass == "":
			found.Openf(b.Pos, string(b.ID), "state checked-with", "build-up %s does not say which sheet class its moisture check was made with", b.ID)
		case b.SheetClass != sheet && b.SheetClass != "sheet-main":
			found.Openf(b.Pos, string(b.ID), "order the class that was checked, or have the check made again",
				"build-up %s was checked with %s, the job hangs %s. No swap.", b.ID, b.SheetClass, sheet)
		}
	}
}

func (r *Results) usesSheet(b *job.BuildUp) bool {
	for _, l := range r.Layouts {
		if l.Surface.Face.BuildUp == b {
			return true
		}
	}
	return false
}

// FactsOf gives the facts of a job that predicates read. A target stated per envelope or floor area is converted to the
// air change rate with the job's own volume and areas: n50 = qE50·AE/V = qF50·AF/V (ISO 9972:2015, 6.3, from memory).
func FactsOf(j *job.Job, m *surface.Model) library.Facts {
	f := library.FactsOf(j)
	t := SizesOf(j, m.Total)
	if t.Volume <= 0 {
		return f
	}
	switch j.Target.Kind {
	case job.QE50:
		f.TargetN50 = j.Target.Value * float64(t.EnvelopeArea) / float64(t.Volume)
	case job.QF50:
		f.TargetN50 = j.Target.Value * float64(t.FloorArea) / float64(t.Volume)
	}
	return f
}
