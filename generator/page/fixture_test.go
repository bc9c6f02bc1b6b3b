package page_test

import (
	"fmt"
	"slices"
	"strings"

	"lapwork/generator/pack"
	"lapwork/generator/record"
)

// check seals a check, as assembling does.
func check(c pack.Check) pack.Check {
	c.Seal = record.Seal(c.Statement())
	return c
}

// drawn is a small drawing with marks of its own, as the drawing packages make them.
func drawn(title string) pack.Drawing {
	return pack.Drawing{Title: title, Caption: "Seen from inside the room.", Legend: []pack.Term{{Name: "1", Text: "floor line"}, {Name: "2", Text: "ceiling line"}},
		SVG: `<svg class="drawing" width="720" height="416" viewBox="0 0 900 520" role="img" aria-labelledby="t d"><title id="t">` + title + `</title><desc id="d">A wall of 3600 mm by 2400 mm with a window.</desc>` +
			`<defs><pattern id="lap" width="12" height="12" patternUnits="userSpaceOnUse"><path d="M0 12L12 0" class="ds-sheet" stroke="#3B2F7F" stroke-width="1.5"/></pattern></defs>` +
			`<rect x="90" y="40" width="720" height="400" class="ds-ink" fill="none" stroke="#14201D" stroke-width="3"/><rect x="290" y="40" width="24" height="400" fill="url(#lap)"/>` +
			`<rect x="530" y="40" width="24" height="400" fill="url(#lap)"/><rect x="380" y="150" width="130" height="140" class="df-ground ds-ink" fill="#FBFAF6" stroke="#14201D" stroke-width="1.5"/><path d="M380 150L510 290M510 150L380 290" class="ds-ink" stroke="#14201D"/>` +
			`<rect x="90" y="446" width="720" height="12" fill="url(#hatch-concrete)"/><path d="M90 440H810" class="ds-sheet" stroke="#3B2F7F" stroke-width="6"/><g font-size="18" class="df-ink" fill="#14201D"><text x="150" y="100">B2-W3/1</text><text x="390" y="100">B2-W3/2</text><text x="620" y="100">B2-W3/3</text><text x="90" y="480">0</text><text x="760" y="480">3600</text></g></svg>`}
}

func small(title string) pack.Drawing {
	return pack.Drawing{Title: title, SVG: `<svg viewBox="0 0 160 110" role="img" aria-labelledby="t"><title id="t">` + title + `</title><rect x="5" y="5" width="150" height="100" class="ds-ink" fill="none" stroke="#14201D" stroke-width="3"/><path d="M5 60H155M80 60V105" class="ds-ink" stroke="#14201D" stroke-width="1.5"/><rect x="80" y="60" width="75" height="45" class="df-shade" fill="#B9C2BD"/></svg>`}
}

// job is an invented job with every kind of page: two storeys, three rooms.
func job() pack.Pack { return jobOf(3) }

// reissued is the job with one acceptance worded anew, as after a new issue.
func reissued() pack.Pack {
	p := job()
	p.Head.Revision = "3-000000000000"
	anew := func(c *pack.Check) {
		if c.Key == "A1/QA-15/A1" {
			c.Accept, c.Changed = "marked face to the room; sag at most 15 mm", "sag was 20 mm"
			c.Seal = record.Seal(c.Statement())
		}
	}
	for i := range p.Checks {
		anew(&p.Checks[i])
	}
	for _, pg := range p.Pages {
		if pg.Room != nil {
			anew(&pg.Room.Activities[0].Checks[0])
		}
		if so := pg.SignOff; so != nil {
			anew(&so.Groups[0].Checks[0])
			so.Seal = record.Seal(so.Statement())
		}
	}
	return p
}

// jobOf has n rooms, alternating between two storeys.
func jobOf(n int) pack.Pack {
	p := pack.Pack{Head: head()}
	ground, upper := pack.StoreyLink{Name: "Ground floor"}, pack.StoreyLink{Name: "Upper floor"}
	var pages []pack.Page
	var rooms []pack.RoomRow
	for i := range n {
		id, storey := fmt.Sprintf("A%d", i/2+1), &ground
		if i%2 == 1 {
			id, storey = fmt.Sprintf("B%d", i/2+1), &upper
		}
		link := pack.Link{Text: id, Path: "rooms/" + id + ".html"}
		storey.Rooms = append(storey.Rooms, link)
		rp := roomPages(id, storey.Name)
		pages = append(pages, rp...)
		rooms = append(rooms, pack.RoomRow{ID: id, Name: "Back bedroom", Path: link.Path, LayerArea: "38.4 m²", Junctions: "23", Holes: "6", Progress: pack.Progress{CheckKeys: keysOf(rp)}, Open: i % 2})
	}
	p.Head.Storeys = []pack.StoreyLink{ground, upper}
	p.Pages = append(commonPages(rooms), pages...)
	p.Checks = checksIn(p.Pages)
	p.Search = []pack.SearchEntry{{Text: "A1 Back bedroom", Path: "rooms/A1.html", Kind: "room"}, {Text: "A1-W3+F1 wall on concrete floor", Path: "rooms/A1.html#A1-W3+F1", Kind: "junction"},
		{Text: "Lap tape, 60 mm", Path: "materials.html", Kind: "component"}}
	return p
}

func head() pack.Head {
	return pack.Head{Lapwork: "0.1", Job: "12 Mill Lane, rear extension", Reference: "ML-12", Issue: "issue 2 · 4 May 2026", IssueOK: true, Revision: "2-1a2b3c4d5e6f",
		Language: "en", Firm: "Invented Airtight Works", PackID: "ml-12", Emergency: "Site lead 000 000; ambulance: local number",
		Menu: []pack.Link{{Text: "Overview", Path: "index.html"}, {Text: "Before you start", Path: "start.html"}, {Text: "Junctions", Path: "junctions.html"}, {Text: "Materials", Path: "materials.html"},
			{Text: "Cutting", Path: "cutting.html"}, {Text: "Programme", Path: "programme.html"}, {Text: "Airtightness", Path: "air.html"}, {Text: "Moisture", Path: "moisture.html"}, {Text: "Defects", Path: "defects.html"},
			{Text: "Handover", Path: "handover.html"}, {Text: "Cautions", Path: "cautions.html"}, {Text: "Open points", Path: "open.html"}, {Text: "Search", Path: "search.html"}},
		Limits: []string{"Quantities are computed from the job's data; measure before cutting.", "Local codes and the licensed trades decide."}}
}

func roomPages(id, storey string) []pack.Page {
	w := id + "-W3"
	stm := pack.Link{Text: "Wall sheet on a concrete floor", Path: "statements/wall-floor-concrete.html"}
	junctions := []pack.JunctionRow{{ID: w + "+F1", Room: id, No: 1, Title: "Wall on floor", Variant: "bead", Amount: "3.60 m", Substrate: "concrete", Activity: "edges", Statement: &stm, Origin: "built-in", Path: "rooms/" + id + ".html#" + w + "+F1"},
		{ID: w + "+C1", Room: id, No: 2, Title: "Wall to ceiling", Amount: "3.60 m", Substrate: "sheet", Activity: "edges", Problem: "no detail matches; ask the designer"}}
	bead := check(pack.Check{Key: id + "/QA-19/" + w + "+F1", QA: "QA-19", Title: "Bead thickness", Accept: "unbroken, 4 to 12 mm thick", Method: "wire gauge in 3 places a run", Who: "fitter", When: "edges", Record: "number", Unit: "mm", Low: "4", High: "12", OnFail: "lay a second bead", Places: []string{w + "+F1"}})
	sheet := check(pack.Check{Key: id + "/QA-15/" + id, QA: "QA-15", Title: "Sheet faces right, hangs flat", Accept: "marked face to the room; sag at most 20 mm", Method: "look; straight edge across the studs", Who: "fitter", When: "hang-walls", Record: "tick", OnFail: "hang again", Places: []string{w, id + "-W1", id + "-W2", id + "-W4"}})
	tape := check(pack.Check{Key: id + "/QA-17/" + w + "/1+2", QA: "QA-17", Title: "Tape on laps", Accept: "centre within 10 mm, no fish-mouth", Method: "torch at a low angle", Who: "site lead", When: "laps", Record: "tick+photo", OnFail: "cut, lay a second length over, rub"})
	sign := check(pack.Check{Key: id + "/QA-40/H4", QA: "QA-40", Title: "Layer complete and inspected", Hold: "H4", Accept: "every check above is done", Who: "site lead", When: "inspect", Record: "signature"})
	step := func(no int, text string, checks ...pack.Check) pack.Step {
		return pack.Step{No: no, HTML: "<p>" + text + "</p>", Checks: checks}
	}
	room := &pack.Room{ID: id, Name: "Back bedroom", Storey: storey, Key: small("Plan"), View: drawn("Room " + id),
		Blocks: []pack.Note{{Level: "open", Item: w + "+C1", Text: "No detail matches this junction.", Hint: "Ask the designer."}},
		Facts:  []pack.Figure{{Label: "Layer area", Value: "38.4", Unit: "m²", Formula: "sum of surfaces less openings", Inputs: "W1 9.6, W2 9.6, W3 9.6, W4 9.6 m²", Status: "computed"}},
		Activities: []pack.Activity{{Name: "hang-walls", Title: "Hang wall sheet", Crew: "2", Minutes: "77 min (46-123)", Conditions: "surface 5 °C or more, 3 K above the dew point", Work: []pack.Work{{Title: "Hang sheet on studs", Link: stm, Variant: "upright", Places: []string{w}, Amount: "9.60 m²", Uses: []string{"4 strips of 1500 mm", "96 staples"},
			Steps:    []pack.Step{step(1, "Mark the datum 1000 mm above the floor on every wall."), step(2, "Hang strip 1 with its left edge on the mark. Lap 100 mm."), step(3, "Staple every 150 mm, on studs only.")},
			Cautions: []pack.Caution{{ID: "C-CUT", Short: "Blade", Text: "Cut away from the hand; cap the blade.", Because: "sheet is cut on site", DefersTo: "the firm's own rules"}}}}, Checks: []pack.Check{sheet}},
			{Name: "edges", Title: "Seal the edges", Crew: "1", Minutes: "34 min (20-55)", Stop: &pack.Stop{Hold: "H4", Text: "Layer complete and inspected before anything covers it."}, Wait: "48 h before load", Clocks: []pack.Clock{{Key: id + "/clock/edges", What: "Bead", Use: "load or a fan test", Wait: "48 h", Minutes: 2880, Holds: "close"}}, Work: []pack.Work{{Title: "Bead", Link: stm, Places: []string{w + "+F1"}, Amount: "3.60 m", Steps: []pack.Step{step(1, "Clean and prime the concrete."), step(2, "Lay the bead unbroken, 8 mm, 10 mm from the edge.", bead)}}}, Checks: []pack.Check{tape}}, {Name: "close", Title: "Close the wall", Crew: "1"}},
		Surfaces:  []pack.SurfaceRow{{ID: w, Role: "wall", Behind: "outside", Layer: "carries the sheet", BuildUp: "EW1", Net: "8.20 m²", Strips: "4", Path: "surfaces/" + w + ".html"}},
		Junctions: junctions, Holes: []pack.JunctionRow{{ID: id + "-P01", Room: id, Title: "Cable, 11 mm", Amount: "1 piece", Substrate: "sheet", Activity: "penetrations", Statement: &stm}},
		Materials: []pack.MaterialRow{{ID: "tape-60", Name: "Lap tape, 60 mm", Net: "13.5", Unit: "m", Pack: "25 m roll", Storage: "dry, 5 to 25 °C"}},
		Cautions:  []pack.Caution{{ID: "C-HEIGHT", Short: "Work at height", Text: "Work from a platform with a rail, not from a ladder.", Because: "the ceiling is at 2400 mm", DefersTo: "local code"}},
		Spots:     []pack.Spot{spotOf(w + "+C1")}, SignOff: pack.Link{Text: "Sign off " + id, Path: "signoff/" + id + ".html"}}
	surface := &pack.Surface{ID: w, Room: id, RoomName: "Back bedroom", RoomPath: "rooms/" + id + ".html", Role: "wall", Layout: drawn("Strips of " + w), Measure: []pack.CutRow{cutOf(id, w+"/1"), cutOf(id, w+"/2")}, Setting: []pack.Term{{Name: w + "/1", Text: "left edge at 0 mm"}},
		Strips: []pack.StripRow{{ID: w + "/1", Order: 1, Width: "1500 mm", Clear: "2400 mm", Cut: "2560 mm", Ends: "60 mm turn each end", Roll: "R1", Edge: "0 mm"}, {ID: w + "/2", Order: 2, Width: "1500 mm", Clear: "2400 mm", Cut: "2560 mm", Ends: "60 mm turn each end", Roll: "R1", Edge: "1400 mm", Note: "cut round the window"}},
		Checks: []pack.Check{tape}, Junctions: junctions[:1], Behind: []pack.Term{{Name: "Stud wall", Text: "140 mm, mineral fibre"}}}
	so := &pack.SignOff{Place: "Room " + id, Back: pack.Link{Text: id, Path: "rooms/" + id + ".html"}, QR: small("Code of this page"), Groups: []pack.SignGroup{{Title: "Layer of the room", Hold: "H4", HoldText: "Layer complete and inspected", Checks: []pack.Check{sheet, bead, tape}, Signs: []pack.Check{sign}}}}
	so.Seal = record.Seal(so.Statement())
	return []pack.Page{{Path: "rooms/" + id + ".html", Kind: pack.KindRoom, Title: id + " Back bedroom", Where: id + " Back bedroom", Room: room, Next: &pack.Link{Text: "A1 Back bedroom", Path: "rooms/A1.html"}},
		{Path: "surfaces/" + w + ".html", Kind: pack.KindSurface, Title: w + " wall", Where: w, Surface: surface}, {Path: "signoff/" + id + ".html", Kind: pack.KindSignOff, Title: "Sign-off of " + id, Where: id + " sign-off", SignOff: so}}
}

func commonPages(rooms []pack.RoomRow) []pack.Page {
	stm := pack.Link{Text: "Wall sheet on a concrete floor", Path: "statements/wall-floor-concrete.html"}
	rows := []pack.JunctionRow{{ID: "A1-W3+F1", Room: "A1", Title: "Wall on floor", Amount: "3.60 m", Substrate: "concrete", Activity: "edges", Statement: &stm, Origin: "built-in", Path: "rooms/A1.html#A1-W3+F1"}}
	material := pack.MaterialRow{ID: "sheet-1500", Name: "Sheet, humidity-variable, 1.5 m", Net: "61.4", Unit: "m²", Packs: "1 roll", Pack: "1.5 m x 50 m", Storage: "dry, out of the sun", Working: []pack.Figure{{Label: "A1", Value: "38.4", Unit: "m²", Formula: "strips cut", Inputs: "4 x 2560 mm"}}}
	climate := check(pack.Check{Key: "job/QA-07/A1", QA: "QA-07", Title: "Climate", Accept: "surface 5 °C or more and 3 K above the dew point", Method: "air, humidity, surface", Who: "fitter", Record: "number", Unit: "K", Low: "3", Tools: []pack.Tool{{ID: "TH1", Name: "TH1 thermometer", Due: "2020-02-20"}, {ID: "TH2", Name: "TH2 thermometer", Due: "2099-02-20"}}})
	verdict := pack.Verdict{Item: "EW1", Verdict: "Dries out by May.", Method: "Monthly method, EN ISO 13788", Scope: "screening only: the sheet's resistance varies with humidity", Level: "ok"}
	caution := pack.Caution{ID: "C-HEIGHT", Short: "Work at height", Text: "Work from a platform with a rail, not from a ladder.", Because: "the ceiling is at 2400 mm", DefersTo: "local code"}
	var keys []string
	for _, r := range rooms {
		keys = append(keys, r.CheckKeys...)
	}
	return []pack.Page{
		{Path: "index.html", Kind: pack.KindOverview, Title: "Overview", Where: "Overview", Overview: &pack.Overview{Scenario: "<p>Rear extension in timber frame. The layer goes on the inside of walls and ceilings before the service battens.</p>",
			Facts: []pack.Figure{{Label: "Target", Value: "1.0", Unit: "1/h at 50 Pa", Status: "confirmed"}}, Storeys: []pack.OverviewStorey{{Name: "Both floors", Plan: drawn("Plan"), Rooms: rooms}},
			Holds: []pack.HoldRow{{ID: "H4", Title: "Layer complete", Released: "every check of the layer is done", Who: "site lead", After: "edges", Progress: pack.Progress{CheckKeys: keys}, Blocked: []string{"A1-W3+C1 has no detail"}}},
			Open:  []pack.Note{{Level: "open", Item: "A1-W3+C1", Text: "No detail matches this junction.", Path: "rooms/A1.html#A1-W3+C1"}}, Today: []pack.Link{{Text: "Before you start", Path: "start.html"}}, People: []pack.Term{{Name: "Site lead", Text: "A. Example"}}}},
		{Path: "start.html", Kind: pack.KindStart, Title: "Before you start", Where: "Before you start", Start: &pack.Start{Conditions: []pack.Term{{Name: "Tape", Text: "surface 5 °C or more"}}, MayWe: []pack.Term{{Name: "Surface", Text: "5 °C or more, 3 K above the dew point"}},
			Moisture: []pack.Verdict{verdict}, Deliveries: []pack.Link{{Text: "D1, 4 May", Path: "materials.html"}}, Safety: []pack.Term{{Name: "Emergency", Text: "local number"}, {Name: "First-aider"}}, Missing: []pack.Note{{Level: "open", Text: "No first-aider is named."}},
			Cautions: []pack.Caution{caution}, Tools: []pack.Term{{Name: "Wire gauge", Text: "4 to 12 mm"}}, Checks: []pack.Check{climate}, Questions: []pack.Question{{Flag: "flue_live", Text: "Is the flue in use?", Assumed: "it is", Places: []pack.Link{{Text: "A1-P01", Path: "rooms/A1.html#A1-P01"}}}},
			Today: pack.TodayLimits{SurfaceMin: "5", DewMargin: "3", HumidityMax: "70", TimberMax: "20"}}},
		{Path: "junctions.html", Kind: pack.KindSchedule, Title: "Junctions", Where: "Junctions", Schedule: &pack.Schedule{Rows: rows, ByTitle: []pack.KindRow{{Title: stm.Text, Amount: "10.80 m", Count: "3", Minutes: "102 min", Origin: "built-in", Link: &stm}}}},
		{Path: "statements/wall-floor-concrete.html", Kind: pack.KindStatement, Title: stm.Text, Where: stm.Text, Statement: &pack.Statement{ID: "wall-floor-concrete", Title: stm.Text, Revision: "3", Origin: "built-in", Hash: "a1b2c3", Status: "common practice", Where: "Where a wall sheet ends on a concrete floor.",
			Section: ptr(drawn("Section")), Prepare: []string{"Vacuum the concrete."}, Conditions: "5 °C or more", Steps: []pack.Step{{No: 1, HTML: "<p>Lay the bead unbroken, 8 mm.</p>"}}, Components: []pack.ComponentRow{{Name: "Bead", Role: "seal", When: "always", Formula: "length * 1.05", Unit: "m", Status: "common practice"}},
			Accept: []pack.Term{{Name: "QA-19", Text: "4 mm or more"}}, Labour: "6 min/m", Places: rows, Cautions: []pack.Caution{caution}, After: []string{"hang-walls"}, Holds: []string{"H4"}}},
		{Path: "materials.html", Kind: pack.KindMaterials, Title: "Materials", Where: "Materials", Materials: &pack.Materials{Deliveries: []pack.DeliveryView{{ID: "D1", Name: "Delivery 1", Rooms: "A1, B1", Date: "4 May 2026", Mass: "41 kg", Rows: []pack.MaterialRow{material}}}, Total: []pack.MaterialRow{material}, ByRoom: []pack.RoomMaterials{{Room: pack.Link{Text: "A1", Path: "rooms/A1.html"}, Rows: []pack.MaterialRow{material}}}}},
		{Path: "cutting.html", Kind: pack.KindCutting, Title: "Cutting", Where: "Cutting", Cutting: &pack.Cutting{Deliveries: []pack.CuttingDelivery{{Name: "Delivery 1", Verdict: "1 roll, proven fewest", Rolls: []pack.RollView{{No: "R1", Sheet: "sheet-1500", Size: "1.5 x 50 m", Remainder: "34 640 mm", Cuts: []pack.StripRow{{ID: "A1-W3/1", Order: 1, Width: "1500 mm", Clear: "2400 mm", Cut: "2560 mm", Note: "47 440 mm left"}}}}, Left: []string{"34 640 mm of sheet-1500"}}}}},
		{Path: "programme.html", Kind: pack.KindProgramme, Title: "Programme", Where: "Programme", Programme: &pack.Programme{Summary: []pack.Figure{{Label: "Days", Value: "6"}}, Rows: []pack.ProgrammeRow{{Activity: "hang-walls", Place: "A1", Start: "day 1", Finish: "day 1", Work: "77 min", Crew: "2", SetBy: "crew", Hold: "H4"}}, Critical: []string{"bead 48 h before load"}}},
		{Path: "air.html", Kind: pack.KindAir, Title: "Airtightness", Where: "Airtightness", Air: &pack.Air{Target: []pack.Figure{{Label: "n50", Value: "1.0", Unit: "1/h"}}, Budget: []pack.BudgetRow{{Item: "Wall on floor", Amount: "10.8 m", Low: "2", Likely: "5", High: "11", Share: "12 %", Halved: "-2.5", Status: "common practice"}}, Verdict: &verdict,
			Search: []pack.SearchRow{{Order: 1, ID: "A1-P01", Place: "A1", Title: "Cable", Look: "smoke at the collar", Key: "A1/LEAK/A1-P01"}}}},
		{Path: "moisture.html", Kind: pack.KindMoisture, Title: "Moisture", Where: "Moisture", Moisture: &pack.Moisture{BuildUps: []pack.MoistureBuildUp{{ID: "EW1", Layers: []pack.LayerRow{{Name: "Sheet", Thickness: "0.3 mm", Lambda: "0.22 W/mK", Sd: "0.25-10 m", Source: "declared", Status: "secondary"}}, Verdict: verdict, Used: []string{"A1-W3"}}}}},
		{Path: "defects.html", Kind: pack.KindDefects, Title: "Defects", Where: "Defects", Defects: &pack.Defects{Kinds: []string{"hole", "open lap"}, Severities: []string{"stops work", "before cover"}, Causes: []string{"our work", "other trade"}, Rules: []string{"Mark the spot with its id."}, Places: []pack.Term{{Name: "A1-W3", Text: "wall"}}, Rows: 6}},
		{Path: "site.html", Kind: pack.KindSite, Title: "Site book", Where: "Site book", Site: &pack.SiteBook{Rooms: []pack.Term{{Name: "A1", Text: "Back bedroom"}}, Kinds: []pack.Term{{Name: "field-lap", Text: "Lap of two sheets"}}, Components: []pack.Term{{Name: "tape-60", Text: "Lap tape"}}, Blank: 4, Instruments: []pack.InstrumentRow{{ID: "TH1", Kind: "thermometer", Due: "2020-02-20"}}}},
		{Path: "changes.html", Kind: pack.KindChanges, Title: "What changed", Where: "What changed", Changes: &pack.ChangesPage{To: "2-1a2b3c4d5e6f", Summary: []string{"Nothing was answered yet."}}},
		{Path: "declaration.html", Kind: pack.KindDeclared, Title: "Test result and declaration", Where: "Declaration", Declared: &pack.Declaration{Untested: "No final test.", States: []string{"Fitted by this pack."}, Open: []string{"3 checks are not answered."}, Signers: []pack.Term{{Name: "Site lead", Text: "A. Example"}}}},
		{Path: "handover.html", Kind: pack.KindHandover, Title: "Handover", Where: "Handover", Handover: &pack.Handover{Documents: []pack.DocumentRow{{ID: "D-10", Title: "Test result sheet", State: "to be added", Open: true}}, Rooms: []pack.HandoverRoom{{Room: pack.Link{Text: "A1", Path: "rooms/A1.html"}, View: drawn("A1"), Facts: []pack.Figure{{Label: "Longest screw", Value: "35", Unit: "mm"}}, Holes: rows, Statements: []string{stm.Text}}}, Leaflet: []string{"Do not drill deeper than 35 mm."}}},
		{Path: "cautions.html", Kind: pack.KindCautions, Title: "Cautions", Where: "Cautions", Cautions: &pack.CautionsPage{Cautions: []pack.Caution{caution}, Silent: []pack.Caution{caution}}},
		{Path: "open.html", Kind: pack.KindOpen, Title: "Open points", Where: "Open points", Open: &pack.OpenPage{Notes: []pack.Note{{Level: "open", Text: "No first-aider is named."}}}},
		{Path: "search.html", Kind: pack.KindSearch, Title: "Search", Where: "Search", SearchPage: &pack.SearchPage{Index: []pack.IndexGroup{{Title: "Rooms", Links: []pack.Link{{Text: "A1", Path: "rooms/A1.html", Note: "Back bedroom"}}}}}},
	}
}

func spotOf(id string) pack.Spot {
	s := pack.Spot{ID: id, Title: "Wall to ceiling", Problem: "no detail matches; ask the designer", Kind: "wall-ceiling", Method: "none", Key: id[:2] + "/spot/" + id}
	s.Seal = record.Seal(s.Statement())
	return s
}

func cutOf(room, strip string) pack.CutRow {
	c := pack.CutRow{Strip: strip, Key: room + "/cut/" + strip, Clear: "2400 mm", Add: "160 mm", Cut: "2560 mm", AddMM: 160, CutMM: 2560, Roll: "R1", LeftMM: 100, LongMM: 4000}
	c.Seal = record.Seal(c.Statement())
	return c
}

func ptr[T any](v T) *T { return &v }

// checksIn collects the checks of the pages that carry them, one a key, in key order.
func checksIn(pages []pack.Page) []pack.Check {
	var out []pack.Check
	for _, p := range pages {
		if p.SignOff != nil {
			for _, g := range p.SignOff.Groups {
				out = append(append(out, g.Checks...), g.Signs...)
			}
		}
		if p.Start != nil {
			out = append(out, p.Start.Checks...)
		}
	}
	slices.SortFunc(out, func(a, b pack.Check) int { return strings.Compare(a.Key, b.Key) })
	return slices.CompactFunc(out, func(a, b pack.Check) bool { return a.Key == b.Key })
}

func keysOf(pages []pack.Page) []string {
	var keys []string
	for _, c := range checksIn(pages) {
		keys = append(keys, c.Key)
	}
	return keys
}
