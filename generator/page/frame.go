package page

import (
	"encoding/json"
	"html/template"
	"slices"

	"lapwork/generator/drawing/svg"
	"lapwork/generator/lang"
	"lapwork/generator/pack"
)

// frame is what the frame templates see.
type frame struct {
	Head                         pack.Head
	Title, Where                 template.HTML // the title with its tags
	Home                         string
	Strip                        []storeyLink
	Section, Foot, Data, Hatches template.HTML
	Policy                       string
	Style, HeadScript, Script    template.HTML
	Mark                         template.URL // the firm's mark, on paper; empty: none
}

// storeyLink is a storey in the frame: with its rooms, or in a large job as a link where the page belongs to another.
type storeyLink struct {
	Name, Path string
	Rooms      []pack.Link
}

// stripStoreys is how many storeys the frame of a storey's page lists; of more it lists the neighbours. Own choice.
const stripStoreys = 7

// strip lists the storeys for a page of a part. A large job shows the rooms of that part only, and of many storeys only
// the one below and the one above, so that a page does not grow with the job.
func (r *renderer) strip(part int) []storeyLink {
	var out []storeyLink
	high := part != common && len(r.shares.list) > stripStoreys
	if high {
		out = append(out, storeyLink{Name: r.say("All storeys"), Path: r.front})
	}
	for _, st := range r.pack.Head.Storeys {
		link := storeyLink{Name: st.Name, Rooms: st.Rooms}
		if i, divided := r.shares.storeys[st.Name]; divided && i != part {
			if high && (i < part-1 || i > part+1) {
				continue
			}
			link = storeyLink{Name: st.Name, Path: r.storeyPath(st)}
		}
		out = append(out, link)
	}
	return out
}

// storeyPath is where a storey's rooms are listed: on the overview, or else its first room.
func (r *renderer) storeyPath(st pack.StoreyLink) string {
	if path := r.index.storeys[st.Name]; path != "" || len(st.Rooms) == 0 {
		return path
	}
	return st.Rooms[0].Path
}

// holeFor is a place in a frame that is filled when the file is written.
func holeFor(name string) template.HTML { return template.HTML(holeOpen + name + "-->") }

// kits are what the scripts of a page copy: the controls of a check, and those of a strip to measure. A pack that records
// nothing has none.
type kits struct{ check, cut string }

func (r *renderer) readKits() error {
	if r.pack.Head.Still {
		return nil
	}
	var err error
	if r.kits.check, err = r.frameText("controls", struct{}{}); err != nil {
		return err
	}
	r.kits.cut, err = r.frameText("measured", struct{}{})
	return err
}

// kitOf is what a file with these sections needs of them.
func (r *renderer) kitOf(sections ...*section) string {
	kit := ""
	if slices.ContainsFunc(sections, func(s *section) bool { return s.checks }) {
		kit = r.kits.check
	}
	if slices.ContainsFunc(sections, func(s *section) bool { return s.cuts }) {
		kit += r.kits.cut
	}
	return kit
}

// frames renders foot and shell of each part, and of what is common, once.
func (r *renderer) frames() error {
	if err := r.readKits(); err != nil {
		return err
	}
	var ups []string
	for _, s := range r.sections {
		if !slices.Contains(ups, s.up) {
			ups = append(ups, s.up)
		}
	}
	r.framed = map[frameAt]*scanned{}
	r.feet = make([]*scanned, len(r.shares.list)+1)
	for i := range r.feet {
		text, err := r.frameText("foot", frame{Head: r.pack.Head, Home: r.front, Strip: r.strip(i - 1)})
		if err != nil {
			return err
		}
		if r.feet[i], err = scan(text); err != nil {
			return err
		}
		r.footIDs = r.feet[i].ids
		if err := r.resolve(nil, r.feet[i]); err != nil {
			return err
		}
		shell, err := r.shell("folder", frame{Title: "<title>" + holeFor("title") + "</title>", Where: holeFor("where")}, edition{part: i - 1})
		if err != nil {
			return err
		}
		for _, up := range ups {
			at := frameAt{i - 1, up}
			r.framed[at] = r.settle(shell, r.feet[i], at)
		}
	}
	return nil
}

// titleOf is a page's title in its file, beside the job's name.
func (r *renderer) titleOf(s *section) string {
	return lang.Plain(s.page.Title + " - " + r.pack.Head.Job)
}

// shell renders the frame of one file, with holes for what is scanned on its own and for what is nobody's to rewrite.
func (r *renderer) shell(name string, f frame, e edition) (*scanned, error) {
	f.Head, f.Home, f.Strip = r.pack.Head, r.front, r.strip(e.part)
	if m := r.pack.Head.Mark; m != nil {
		f.Mark = template.URL(m.URI)
		if !e.single {
			f.Mark = template.URL(markFile(m))
		}
	}
	f.Section, f.Foot, f.Data, f.Hatches = holeFor("section"), holeFor("foot"), holeFor("data"), holeFor("hatches")
	f.Style, f.HeadScript, f.Script = holeFor("style"), holeFor("head-script"), holeFor("script")
	text, err := r.frameText(name, f)
	if err != nil {
		return nil, err
	}
	s := scanFrame(text)
	return s, r.resolve(nil, s)
}

// hatches are the patterns that the drawings of the sections share: those they use.
func hatches(sections ...*section) string {
	var ids []string
	for _, s := range sections {
		ids = append(ids, s.hatch...)
	}
	return svg.Defs(ids)
}

// data is what the script reads: the check index where progress is counted, the entries where there is a search.
func (r *renderer) data(progress, search bool, e edition) string {
	text := ""
	if progress {
		text = r.counts(e)
	}
	if search {
		text += dataElement("search-data", r.searchEntries(e))
	}
	return text
}

// counts is the index of the checks that an edition counts, made once for a storey's overview and its single file.
func (r *renderer) counts(e edition) string {
	part := e.part
	if e.whole {
		part = common // which knows all
	}
	if made, ok := r.counted.Load(part); ok {
		return made.(string)
	}
	text := dataElement("checks-data", r.index.runs(r.index.shown(e)))
	r.counted.Store(part, text)
	return text
}

// dataElement is what a script reads under an id.
func dataElement(id string, v any) string {
	text, err := json.Marshal(v) // escapes <, > and &, so it cannot end the element
	if err != nil {
		panic("page: a list of strings has no JSON: " + err.Error())
	}
	return `<script type="application/json" id="` + id + `">` + lang.Plain(string(text)) + "</script>\n"
}

// searchEntries are those that the edition shows, by kind: text and path of each.
func (r *renderer) searchEntries(e edition) map[string][][2]string {
	out := map[string][][2]string{}
	for i, entry := range r.pack.Search {
		if e.searches(r.searchParts[i]) {
			out[entry.Kind] = append(out[entry.Kind], [2]string{entry.Text, entry.Path})
		}
	}
	return out
}

// searches is whether what belongs to a part is found and counted in an edition: a divided page's own file knows all.
func (e edition) searches(part int) bool {
	return e.whole || !e.single && e.part == common || part == common || part == e.part
}
