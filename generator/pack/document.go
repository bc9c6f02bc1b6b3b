package pack

import (
	"slices"
	"strings"

	"lapwork/generator/library"
)

// documents are the papers of the handover, each with what of it is there: the records that it holds, the attachments that
// are it, or the pack itself.
func (a *assembler) documents() []DocumentRow {
	var out []DocumentRow
	for _, d := range a.Library.Documents.All() {
		row := DocumentRow{ID: d.ID, Title: d.Title, Link: a.documentPage(d)}
		row.State, row.Open = a.documentState(d)
		out = append(out, row)
	}
	return out
}

// documentState says what of a document is there, and whether something is missing.
func (a *assembler) documentState(d *library.Document) (state string, open bool) {
	attached := a.attachedAs(d)
	done, all := a.recordedFor(d)
	var said []string
	if all > 0 {
		said = append(said, a.say("%d of %d recorded", done, all))
	}
	if len(attached) > 0 {
		said = append(said, a.say("attached: %s", strings.Join(attached, ", ")))
	}
	switch {
	case all > 0:
		open = done < all
	case len(attached) > 0:
	case d.Made:
		said = append(said, a.say("in this pack"))
	case len(d.Checks) > 0:
		said = append(said, a.say("not called for in this job"))
	default:
		said, open = append(said, a.say("missing: attach it to the job")), true
	}
	return strings.Join(said, "; "), open
}

// attachedAs are the titles of the attachments that are a document.
func (a *assembler) attachedAs(d *library.Document) []string {
	var out []string
	for _, p := range a.Job.Attachments {
		if p.Is == d.ID || p.Is == "" && p.Kind == d.Papers {
			out = append(out, p.Title)
		}
	}
	return out
}

// recordedFor counts the checks of the job whose records a document holds, and those of them that are done: whole, to the words
// as they stand, and as accepted.
func (a *assembler) recordedFor(d *library.Document) (done, all int) {
	for _, c := range a.Results.Checks {
		if c.QA == nil || !slices.Contains(d.Checks, c.QA.ID) { // the signature of a hold is no check of the table
			continue
		}
		if all++; a.answeredAs(a.checks[c.Key]) == checkDone {
			done++
		}
	}
	return done, all
}

// documentPage leads to what the pack shows of a document on another page than the handover.
func (a *assembler) documentPage(d *library.Document) *Link {
	switch d.Page {
	case "materials":
		return &Link{Text: a.say("Materials"), Path: "materials.html"}
	case "schedule":
		return &Link{Text: a.say("Junctions"), Path: "junctions.html"}
	case "site":
		return &Link{Text: a.say("Site book"), Path: sitePath}
	case "declaration":
		return &Link{Text: a.say("Test result and declaration"), Path: declarationPath}
	case "moisture":
		return &Link{Text: a.say("Moisture"), Path: moistureIndex}
	}
	return nil
}
