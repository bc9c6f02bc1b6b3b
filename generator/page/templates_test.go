package page_test

import (
	"bytes"
	"fmt"
	"html"
	"reflect"
	"strings"
	"testing"

	"lapwork/generator/output"
	"lapwork/generator/pack"
	"lapwork/generator/record"
)

// filler sets every field of a view to a text that names it, so that each can be looked for in the page.
type filler struct{ n int }

func (f *filler) fill(v reflect.Value, name string) {
	switch v.Kind() {
	case reflect.String:
		f.n++
		v.SetString(fmt.Sprintf("%s-%d", name, f.n))
	case reflect.Int:
		v.SetInt(3)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(v.Elem(), name)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range 2 {
			f.fill(v.Index(i), name)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f.fill(v.Field(i), v.Type().Name()+"."+v.Type().Field(i).Name)
		}
		f.mend(v)
	}
}

// mend gives the fields that are not free text a value of their kind.
func (f *filler) mend(v reflect.Value) {
	switch x := v.Addr().Interface().(type) {
	case *pack.Check:
		x.Record, x.Low, x.High = "tick+number+photo+signature", "4", "12"
		x.Seal = record.Seal(x.Statement())
	case *pack.Drawing:
		x.SVG = `<svg viewBox="0 0 9 9"><title>` + x.Title + `</title></svg>`
	case *pack.Link:
		x.Path = "index.html"
	case *pack.Note:
		x.Level = "open"
	case *pack.Verdict:
		x.Level = "ok"
	case *pack.Paper:
		x.File = fmt.Sprintf("papers/%d.pdf", f.n)
	case *pack.Photo:
		x.Small, x.File = "data:image/jpeg;base64,AAAA", fmt.Sprintf("photos/%d.jpg", f.n)
	case *pack.OwnPage:
		x.Language = "cy"
	case *pack.Beneath:
		x.Tag = "cy"
	case *pack.SignOff:
		x.Seal = record.Seal(x.Statement())
	}
	for _, name := range []string{"Path", "RoomPath", "Work"} {
		if p := v.FieldByName(name); p.IsValid() && p.Kind() == reflect.String {
			p.SetString("index.html")
		}
	}
	if k := v.FieldByName("CheckKeys"); k.IsValid() {
		k.SetZero()
	}
}

// viewField names the field of pack.Page that carries each kind's view.
var viewField = map[pack.Kind]string{pack.KindOverview: "Overview", pack.KindUnit: "Unit", pack.KindOwn: "Own", pack.KindStart: "Start", pack.KindRoom: "Room", pack.KindPhase: "Phase", pack.KindSurface: "Surface", pack.KindSchedule: "Schedule",
	pack.KindStatement: "Statement", pack.KindMaterials: "Materials", pack.KindCutting: "Cutting", pack.KindProgramme: "Programme", pack.KindAir: "Air", pack.KindMoisture: "Moisture", pack.KindSignOff: "SignOff",
	pack.KindDefects: "Defects", pack.KindHandover: "Handover", pack.KindCautions: "Cautions", pack.KindOpen: "Open", pack.KindTrades: "Trades", pack.KindLate: "Late", pack.KindSite: "Site", pack.KindChanges: "Changes", pack.KindDeclared: "Declared", pack.KindSearch: "SearchPage"}

// onePage is a pack of an empty overview and one page of the kind, filled or empty.
func onePage(kind pack.Kind, filled bool) (pack.Pack, reflect.Value) {
	p := pack.Pack{Head: head(), Pages: []pack.Page{{Path: "index.html", Kind: pack.KindOverview, Title: "Overview", Overview: &pack.Overview{}}}}
	p.Head.Menu = nil
	pg := pack.Page{Path: "a/page.html", Kind: kind, Title: "The page", Where: "here"}
	v := reflect.ValueOf(&pg).Elem().FieldByName(viewField[kind])
	v.Set(reflect.New(v.Type().Elem()))
	if filled {
		(&filler{}).fill(v.Elem(), "")
	} else if kind == pack.KindSignOff {
		pg.SignOff.Seal = record.Seal(nil)
	}
	p.Pages = append(p.Pages, pg)
	gather(v, &p.Checks)
	return p, v.Elem()
}

func gather(v reflect.Value, into *[]pack.Check) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			gather(v.Elem(), into)
		}
	case reflect.Slice:
		for i := range v.Len() {
			gather(v.Index(i), into)
		}
	case reflect.Struct:
		if c, ok := v.Interface().(pack.Check); ok {
			*into = append(*into, c)
			return
		}
		for i := range v.NumField() {
			gather(v.Field(i), into)
		}
	}
}

// unshown are fields that need not stand on the page as text, with the reason.
var unshown = map[string]string{
	"Check.Record":       "becomes buttons and boxes",
	"Drawing.Caption":    "the key plan has no room for it",
	"Term.Name":          "legend of the key plan and the code, which have no room for one",
	"Term.Text":          "as Term.Name",
	"Work.Title":         "its link's text stands there",
	"JunctionRow.Title":  "its link's text stands there",
	"JunctionRow.Room":   "on the page of that room or surface",
	"LateRow.Room":       "its id begins with it",
	"TradeRow.Room":      "as LateRow.Room",
	"ScrewRow.Room":      "as LateRow.Room",
	"ProgrammeRow.Place": "a room's steps stand under its name",
	"ProgrammeWork.Of":   "says in which storey's edition the line stands; the text ends with its name",
	"ProgrammeWeek.Of":   "as ProgrammeWork.Of",
	"StoreyChart.Storey": "as ProgrammeWork.Of",
	"StripRow.Roll":      "the cutting plan has it over the roll's cuts",
	"StripRow.Width":     "as StripRow.Roll; an offcut's stands in the note",
	"Link.Text":          "a kind's link shows under the kind's own title",
	"Tool.Name":          "a check's list has the ids only; the script makes it",
	"Spot.Key":           "what a tablet records on, which the handover does not",
	"Spot.Seal":          "as Spot.Key",
	"SignGroup.Hold":     "its release has it",
	"SignGroup.HoldText": "the words of the release stand in its check",
	"Stop.Seal":          "its first digits stand beside the key that a tablet looks for",
	"Spot.Kind":          "part of what is sealed, on the room's page",
	"Spot.Method":        "as Spot.Kind",
	"CutRow.Key":         "what a tablet records on, which the handover does not",
	"CutRow.Seal":        "as CutRow.Key",
	"CutRow.Add":         "on the surface's page",
	"CutRow.Cut":         "as CutRow.Add",
	"CutRow.Roll":        "as CutRow.Add",
	"Surface.Caution":    "as Work.Caution",
	"Work.Caution":       "by its short name only: the room or the cautions show it in full",
}

// TestEveryField executes each kind's template with every field filled and looks for each text in the page: a field that
// is missing in the template, or stands in a branch that never runs, fails here.
func TestEveryField(t *testing.T) {
	for kind := range viewField {
		t.Run(string(kind), func(t *testing.T) {
			p, v := onePage(kind, true)
			text := html.UnescapeString(string(find(t, render(t, p), "a/page.html")))
			missing(t, v, "", "", text)
		})
	}
}

// in is the view that carries the field's own view.
func missing(t *testing.T, v reflect.Value, in, name, text string) {
	t.Helper()
	switch v.Kind() {
	case reflect.String:
		if strings.HasPrefix(name, "Caution.") && name != "Caution.Short" && unshown[in+".Caution"] != "" {
			return
		}
		if want := shown(name, v.String()); !strings.Contains(text, want) && unshown[name] == "" {
			t.Errorf("%s (%q) is not on the page", name, v)
		}
	case reflect.Pointer:
		missing(t, v.Elem(), in, name, text)
	case reflect.Slice:
		for i := range v.Len() {
			missing(t, v.Index(i), in, name, text)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			missing(t, v.Field(i), strings.Split(name+".", ".")[0], v.Type().Name()+"."+v.Type().Field(i).Name, text)
		}
	}
}

// shown is as much of a field as its page carries.
func shown(name, text string) string {
	if name == "Check.Seal" {
		return text[:16]
	}
	return text
}

// TestEmptyViews executes each kind's template with nothing filled, as for a job where that subject does not arise.
func TestEmptyViews(t *testing.T) {
	for kind := range viewField {
		p, _ := onePage(kind, false)
		page := find(t, render(t, p), "a/page.html")
		if !bytes.Contains(page, []byte("<h1>")) && !bytes.Contains(page, []byte("<h1")) {
			t.Errorf("%s: no heading", kind)
		}
		for _, leak := range []string{"<nil>", "%!", "ZgotmplZ"} {
			if bytes.Contains(page, []byte(leak)) {
				t.Errorf("%s: %q on an empty page", kind, leak)
			}
		}
	}
}

func find(t testing.TB, files []output.File, path string) []byte {
	t.Helper()
	for _, f := range files {
		if f.Path == path {
			return f.Data
		}
	}
	t.Fatalf("no file %s", path)
	return nil
}
