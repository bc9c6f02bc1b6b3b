package generator

import (
	"reflect"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/jobfile"
	"lapwork/generator/library"
	"lapwork/generator/output"
	"lapwork/generator/pack"
	"lapwork/generator/page"
	"lapwork/generator/theme"
)

// own reads what the firm and the job put over the program's look, and holds their templates against the views they show.
func own(src Sources, look job.Look, found *diag.List) theme.Theme {
	if src.Templates == nil || src.Theme == nil {
		return theme.Theme{}
	}
	styles, err := theme.ReadStyles(src.Theme)
	if err != nil {
		found.Faultf(diag.Pos{File: "site"}, "", "%v", err)
		return theme.Theme{}
	}
	t := theme.Read(lookFolders(src, look), theme.Program{Styles: styles, Menu: pack.MenuNames}, found)
	page.CheckOwn(src.Templates, t, sheetViews, found)
	return t
}

// sheetViews are what the pages beside a pack show, by the names of their templates.
var sheetViews = map[string]reflect.Type{"survey": reflect.TypeFor[surveyView](), "lessons": reflect.TypeFor[lessonsView](), "variation": reflect.TypeFor[Variation]()}

// sheetLook is how the pages of these sources look outside a pack.
func sheetLook(src Sources) (page.Look, error) {
	var found diag.List
	look := page.Look{Templates: src.Templates, Theme: src.Theme, Own: own(src, firmLook(src), &found)}
	return look, found.Err()
}

// lookFolders are those that may hold a theme: the firm's, then the job's.
func lookFolders(src Sources, look job.Look) []theme.Folder {
	var from []theme.Folder
	if src.Firm != nil {
		from = append(from, theme.Folder{Dir: src.firmName(), FS: src.Firm, Look: look})
	}
	if src.Job != nil && !src.FirmInJob {
		from = append(from, theme.Folder{Dir: src.JobName, FS: src.Job})
	}
	return from
}

// filesOf are the theme's files beside the pages.
func filesOf(t theme.Theme) []output.File {
	var out []output.File
	for _, f := range t.Files {
		out = append(out, output.File{Path: f.Path, Data: f.Data})
	}
	return out
}

// checkLinks reports the links of own pages that lead to no page of the pack, at their places.
func checkLinks(t theme.Theme, pages []pack.Page, found *diag.List) {
	known := map[string]bool{}
	for _, p := range pages {
		known[p.Path] = true
	}
	for _, f := range t.Files {
		known[f.Path] = true
	}
	for _, p := range t.Pages {
		for _, text := range p.Texts {
			for _, l := range text.Links {
				if to, _, _ := strings.Cut(l.To, "#"); to != "" && !known[to] {
					found.Faultf(l.Pos, "a page by its path in the pack: materials.html, rooms/A1.html; a file as files/NAME", "the link %q goes to no page of this pack", l.To)
				}
			}
		}
	}
}

// CheckFirm reports what is wrong with firm.yaml and the look of a firm's folder, as a run would before it writes a pack.
func CheckFirm(src Sources, lib *library.Library, found *diag.List) {
	var look job.Look
	if sheet := jobfile.ReadFirm(src.Firm, src.firmName(), src.firmKnown(knownTo(lib)), found); sheet != nil {
		look = sheet.Look
	}
	own(src, look, found)
}

// firmLook is what firm.yaml says of the look, for sheets that need no more of it.
func firmLook(src Sources) job.Look {
	var left diag.List
	if src.Firm == nil {
		return job.Look{}
	}
	if sheet := jobfile.ReadFirm(src.Firm, src.firmName(), jobfile.Known{}, &left); sheet != nil {
		return sheet.Look
	}
	return job.Look{}
}
