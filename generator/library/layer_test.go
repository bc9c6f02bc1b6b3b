package library

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/generator/diag"
)

// firmStatement is a small statement of a firm; the placeholders are filled in by the tests.
const firmStatement = `---
id: ID
title: Our way
revision: 1
group: edge
applies: {when: edge == "inside-edge" and surface_b == "flat-ceiling", priority: PRIO}
REPLACES
measure: m
drives: length_m
activity: edges
labour: {low: 2, likely: 3, high: 4, per: min/m}
conditions: cond-tape
components:
  - {use: tape-split, amount: length_m, unit: m}
checks:
  - {qa: QA-18, accept: no void}
source: common practice, our foreman
---

1. Tape it.
`

func firmFile(id, prio, replaces string) fstest.MapFS {
	text := strings.NewReplacer("ID", id, "PRIO", prio, "REPLACES\n", replaces).Replace(firmStatement)
	return fstest.MapFS{"library/" + id + ".md": {Data: []byte(text)}}
}

func loadOver(firm, jobLib fstest.MapFS) (*Library, []diag.Finding) {
	var found diag.List
	l := Load(os.DirFS("../../content"), firm, jobLib, &found)
	return l, found.Sorted()
}

func TestAFirmReplacesAStatement(t *testing.T) {
	l, found := loadOver(firmFile("our-ceiling", "30", "replaces: wall-ceiling\n"), fstest.MapFS{})
	if len(found) > 0 {
		t.Fatal(found)
	}
	sel, _ := pick(t, l, "edge=inside-edge;surface_a=wall;surface_b=flat-ceiling;length_m=2")
	if sel.Statement == nil || sel.Statement.ID != "our-ceiling" || sel.Statement.Origin != "firm" {
		t.Errorf("selected %+v", sel.Statement)
	}
	if s := l.Statement("wall-ceiling"); s == nil || s.ID != "our-ceiling" {
		t.Errorf("wall-ceiling answers to %+v", s)
	}
}

func TestAJobReplacesTheFirm(t *testing.T) {
	l, found := loadOver(firmFile("our-ceiling", "30", "replaces: wall-ceiling\n"),
		firmFile("this-ceiling", "30", "replaces: our-ceiling\n"))
	if len(found) > 0 {
		t.Fatal(found)
	}
	if s := l.Statement("wall-ceiling"); s == nil || s.ID != "this-ceiling" || s.Origin != "job" {
		t.Errorf("wall-ceiling answers to %+v", s)
	}
}

func TestLayerFaults(t *testing.T) {
	for name, c := range map[string]struct {
		firm, job fstest.MapFS
		want      string
	}{
		"same id":       {firmFile("wall-ceiling", "30", ""), nil, "belongs to the built-in library"},
		"unknown":       {firmFile("our-ceiling", "30", "replaces: wall-cieling\n"), nil, "which no lower layer has"},
		"taken":         {firmFile("our-ceiling", "30", "replaces: wall-ceiling\n"), firmFile("x", "30", "replaces: wall-ceiling\n"), "already replaced by our-ceiling"},
		"file name":     {fstest.MapFS{"library/y.md": firmFile("x", "99", "")["library/x.md"]}, nil, "not the name of its file"},
		"table row":     {fstest.MapFS{"tables/flags.csv": {Data: []byte("id,question,values,default,safety,choice,who,source,status\nrod,Rod?,,maybe,,,site-lead,x,computed\n")}}, nil, `unknown word "maybe"`},
		"table columns": {fstest.MapFS{"tables/flags.csv": {Data: []byte("id,qestion\n")}}, nil, `unknown column "qestion"`},
	} {
		var found diag.List
		if c.job == nil {
			Load(os.DirFS("../../content"), c.firm, nil, &found)
		} else {
			Load(os.DirFS("../../content"), c.firm, c.job, &found)
		}
		if err := found.Err(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

func TestATieIsAFault(t *testing.T) {
	l, found := loadOver(firmFile("our-ceiling", "30", ""), nil)
	if len(found) > 0 {
		t.Fatal(found)
	}
	r, facts := recordOf(t, "edge=inside-edge;surface_a=wall;surface_b=flat-ceiling;length_m=2")
	var tie diag.List
	l.Select(l.Env(r, facts), &tie)
	if err := tie.Err(); err == nil || !strings.Contains(err.Error(), "wall-ceiling") || !strings.Contains(err.Error(), "our-ceiling") {
		t.Errorf("tie: %v", err)
	}
	for _, f := range tie.Sorted() {
		if f.Pos.File == "" || len(f.See) != 1 {
			t.Errorf("a tie names both places: %+v", f)
		}
	}
}

func TestAFirmsTableRowWins(t *testing.T) {
	var found diag.List
	row := "id,class,name,unit,pack_low,pack_likely,pack_high,pack_note,coverage,use_on,work_low,work_high,storage," +
		"shelf_months,hazard,protection,waste,note,cautions,seal,becomes,wait_h,wait_between_h,wait_per,source,status\n" +
		"tape-single-60,tape,Our tape,m,30,30,30,,,,,,,,,,,,,tape,,12,,,product sheet,confirmed\n"
	l := Load(os.DirFS("../../content"), fstest.MapFS{"tables/components.csv": {Data: []byte(row)}}, nil, &found)
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	if c := l.Components.Find("tape-single-60"); c.Name != "Our tape" || c.Pack.Likely != 30 || c.Wait.Load != 12 {
		t.Errorf("the firm's tape is %+v", c)
	}
	if n := len(builtin(t).Components.All()); len(l.Components.All()) != n {
		t.Errorf("%d components, want %d", len(l.Components.All()), n)
	}
}
