package survey

import (
	"cmp"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"

	q "lapwork/generator/quantity"
)

// File is a file of a job's folder.
type File struct {
	Path string // with slashes, inside the folder
	Data []byte
}

// Write gives the files of a new job: job.yaml with the head and the kinds of surface, a file of rooms for each storey,
// and the record that a later survey is merged by.
func (s *Survey) Write(table []Material) []File {
	w := s.writer(table)
	files := []File{{"job.yaml", []byte(w.head())}}
	for _, l := range s.Levels {
		var b strings.Builder
		fmt.Fprintf(&b, "# %s, surveyed from %s. Lengths are millimetres. Walls are numbered round the plan.\nrooms:\n", oneLine(l.Name), oneLine(path.Base(s.Source.Name)))
		for i, r := range l.Rooms {
			if i > 0 {
				b.WriteByte('\n')
			}
			b.WriteString(w.room(r, "  "))
		}
		files = append(files, File{roomFile(l), []byte(b.String())})
	}
	return append(files, File{RecordFile, w.record(nil)})
}

func roomFile(l *Level) string { return "rooms/" + strings.ToLower(l.Letter) + ".yaml" }

func (s *Survey) roomFiles() []string {
	var out []string
	for _, l := range s.Levels {
		out = append(out, roomFile(l))
	}
	return out
}

// writer writes a survey in the words of the job format.
type writer struct {
	*Survey
	buildUps map[*Construction]*BuildUp
	faces    []named
	name     func(*Room, Kind) string
}

func (s *Survey) writer(table []Material) *writer {
	w := &writer{Survey: s, buildUps: s.buildUps(table)}
	w.faces, w.name = s.faceKinds(w.buildUps)
	return w
}

func oneLine(s string) string { return clip(s, 100) }

// head is job.yaml.
func (w *writer) head() string {
	var b strings.Builder
	name := w.title()
	fmt.Fprintf(&b, `# yaml-language-server: $schema=job.schema.json
# Made by a survey of %s. What the file could not say is marked "assumed": look at it before you order.
reference: %s
name: %s
language: %s
lengths: mm
files: [%s]

# assumed: nobody said what the building has to reach
target: {kind: n50, value: 1.5, source: "assumed by the survey, nobody stated it"}
building: {work: new}

# assumed: what is hung, and the rolls that are bought
choices: {sheet-main: sheet-variable}
stock:
  - {component: sheet-variable, width: 1.5 m, length: 50 m}

# What the survey assumed. Each line is an open point: confirm it or change what is wrong, then take the line out.
assumed:
%s
storeys:
`, oneLine(path.Base(w.Source.Name)), quote(w.reference()), quote(name), cmp.Or(w.Language, "en"), strings.Join(w.roomFiles(), ", "), w.assumedLines())
	for _, l := range w.Levels {
		fmt.Fprintf(&b, "  - {id: %s, name: %s, level: %d}\n", quote(string(l.ID)), quote(label(l.Name)), l.Level)
	}
	b.WriteString("\n# Kinds of surface. Layer, substrate, framing are assumed: the file knows only what lies behind.\nfaces:\n")
	for _, f := range w.faces {
		text, comment := f.faceText()
		if comment != "" {
			comment = " # " + comment
		}
		fmt.Fprintf(&b, "  %s: %s%s\n", f.name, text, comment)
	}
	w.writeBuildUps(&b)
	return b.String()
}

// assumedLines is the list of what was assumed: the usual case first.
func (w *writer) assumedLines() string {
	var b strings.Builder
	for _, x := range usualCase {
		fmt.Fprintf(&b, "  - %s\n", quote(w.words(x)))
	}
	for _, text := range w.assumptions() {
		fmt.Fprintf(&b, "  - %s\n", quote(text))
	}
	return b.String()
}

func (w *writer) writeBuildUps(b *strings.Builder) {
	first := true
	for _, c := range w.constructions() {
		u := w.buildUps[c]
		if u == nil {
			continue
		}
		if first {
			b.WriteString("\n# Layers from inside to outside, materials recognised by name. The control layer itself is not among them.\nbuild-ups:\n")
			first = false
		}
		fmt.Fprintf(b, "  %s:\n    name: %s\n    layers:\n", u.ID, quote(u.Name))
		for _, l := range u.Layers {
			if l.Air {
				fmt.Fprintf(b, "      - {air: yes, thickness: %d}\n", l.Thickness)
			} else {
				fmt.Fprintf(b, "      - {material: %s, thickness: %d}\n", l.Material, l.Thickness)
			}
		}
	}
}

// title is the job's name.
func (s *Survey) title() string {
	return label(s.Name, strings.TrimSuffix(path.Base(s.Source.Name), path.Ext(s.Source.Name)))
}

func (s *Survey) reference() string {
	name, _, _ := strings.Cut(path.Base(s.Source.Name), "!")
	return clip("survey "+strings.TrimSuffix(name, path.Ext(name)), 60)
}

// room is a room in the words of the job format, each line after indent.
func (w *writer) room(r *Room, indent string) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, indent+"  "+format+"\n", args...) }
	for i, kv := range w.roomKeys(r) {
		if i == 0 {
			fmt.Fprintf(&b, "%s- %s: %s\n", indent, kv.key, kv.text)
			continue
		}
		if kv.items == nil {
			line("%s: %s", kv.key, kv.text)
			continue
		}
		line("%s:", kv.key)
		for _, it := range kv.items {
			line("  - %s", it.text)
		}
	}
	return b.String()
}

// keyText is a key of a room as it is written: one line, or a list.
type keyText struct {
	key, text string
	items     []itemText
}

// itemText is an item of a list; source is its id in the surveyed file.
type itemText struct{ id, source, text string }

// roomKeys are the keys a survey writes for a room, in order; id is the first.
func (w *writer) roomKeys(r *Room) []keyText {
	out := []keyText{
		{key: "id", text: idText(string(r.ID))},
		{key: "name", text: quote(label(r.Name, r.Space.ID))},
		{key: "storey", text: quote(string(r.Level.ID))},
		{key: "plan", text: planText(r)},
	}
	if r.Offset != 0 {
		out = append(out, keyText{key: "floor-offset", text: strconv.Itoa(int(r.Offset))})
	}
	if r.Height > 0 {
		out = append(out, keyText{key: "height", text: strconv.Itoa(int(r.Height))})
	} else {
		out = append(out, keyText{key: "no-flat-ceiling", text: "yes"})
	}
	if len(r.Slopes) > 0 {
		var items []string
		for _, s := range r.Slopes {
			items = append(items, fmt.Sprintf("{wall: %d, height: %d, pitch: %s, face: %s}", s.Edge, s.Height,
				strconv.FormatFloat(float64(s.Pitch), 'f', -1, 64), w.name(r, s.Kind)))
		}
		out = append(out, keyText{key: "slopes", text: "[" + strings.Join(items, ", ") + "]"})
	}
	out = append(out, keyText{key: "walls", text: w.wallsText(r)})
	if r.Height > 0 {
		out = append(out, keyText{key: "ceiling", text: w.name(r, r.Ceiling)})
	}
	out = append(out, keyText{key: "floor", text: w.name(r, r.Floor)})
	if !r.Heated {
		out = append(out, keyText{key: "unheated", text: "yes"})
	}
	if r.WetRoom {
		out = append(out, keyText{key: "wet", text: "yes"})
	}
	if len(r.Openings) > 0 {
		out = append(out, keyText{key: "openings", items: openingItems(r)})
	}
	if len(r.Holes) > 0 {
		out = append(out, keyText{key: "penetrations", items: holeItems(r)})
	}
	return out
}

// idText quotes an id that YAML would take for something else, such as 1E3 or No.
func idText(id string) string {
	if plainID.MatchString(id) && !slices.Contains([]string{"y", "n", "no", "yes", "on", "off", "true", "false", "null"}, strings.ToLower(id)) {
		return id
	}
	return quote(id)
}

var plainID = regexp.MustCompile(`^[A-Za-z]+[0-9]*$`)

func planText(r *Room) string {
	var parts []string
	for _, c := range r.Footprint {
		parts = append(parts, fmt.Sprintf("[%d, %d]", c.X, c.Y))
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// wallsText names the usual wall, the one most walls are, and the others by number.
func (w *writer) wallsText(r *Room) string {
	count := map[string]int{}
	for _, k := range r.Walls {
		count[w.name(r, k)]++
	}
	usual := ""
	for _, k := range r.Walls {
		if n := w.name(r, k); usual == "" || count[n] > count[usual] {
			usual = n
		}
	}
	parts := []string{"usual: " + usual}
	for i, k := range r.Walls {
		if n := w.name(r, k); n != usual {
			parts = append(parts, fmt.Sprintf("%d: %s", i+1, n))
		}
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

func openingItems(r *Room) []itemText {
	var out []itemText
	for _, o := range r.Openings {
		text := fmt.Sprintf("{id: %s, kind: %s, in: %s, at: [%d, %d], size: [%d, %d]", o.ID, o.Kind, o.In, o.X, o.Y, o.Width, o.Height)
		if o.Reveal > 0 {
			text += fmt.Sprintf(", reveal: %d", o.Reveal)
		}
		out = append(out, itemText{string(o.ID), o.Source, text + "}"})
	}
	return out
}

func holeItems(r *Room) []itemText {
	var out []itemText
	for _, p := range r.Holes {
		text := fmt.Sprintf("{id: %s, item: %s, in: %s, at: [%d, %d]", p.ID, p.Item, p.In, p.X, p.Y)
		if p.Diameter > 0 {
			text += fmt.Sprintf(", diameter: %d", p.Diameter)
		} else if p.Width > 0 && p.Height > 0 {
			text += fmt.Sprintf(", size: [%d, %d]", p.Width, p.Height)
		}
		if p.Serves != "" {
			text += ", serves: " + quote(clip(p.Serves, 200))
		}
		out = append(out, itemText{string(p.ID), p.Source, text + "}"})
	}
	return out
}

// Sums adds floor areas and volumes of the heated rooms and counts them.
func (s *Survey) Sums() (area q.Area, volume q.Volume, heated int) {
	for _, r := range s.Rooms {
		if r.Heated {
			area += r.FloorArea
			volume += r.Volume
			heated++
		}
	}
	return area, volume, heated
}
