package survey

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"lapwork/generator/diag"
	"lapwork/generator/job"
)

// ChangeKind is what became of a room between two surveys.
type ChangeKind string

// The kinds of change.
const (
	Added    ChangeKind = "added"
	Removed  ChangeKind = "removed" // no longer in the file; it stays in the job
	Renamed  ChangeKind = "renamed"
	Moved    ChangeKind = "moved"
	Changed  ChangeKind = "changed"
	Conflict ChangeKind = "kept" // people changed it and the file did too: theirs stays
)

// Change is one difference that a merge met.
type Change struct {
	Kind ChangeKind
	Room job.RoomID
	What string
}

// merging brings a survey into a job.
type merging struct {
	*writer
	tree    *jobTree
	before  record
	changes []Change
	storeys map[*Level]bool // new in the job
	kept    []recordRoom
}

// Merge brings the survey into a job that people work on and gives the files that change. What a survey wrote before and
// nobody touched follows the surveyed file; what people changed or added stays. Rooms keep their ids, so that records and
// sign-offs of rooms that did not change stand. Rooms that are gone from the file stay in the job and are named.
func (s *Survey) Merge(folder fs.FS, table []Material) ([]File, []Change, error) {
	tree, err := readTree(folder)
	if err != nil {
		return nil, nil, err
	}
	m := &merging{tree: tree, storeys: map[*Level]bool{}}
	data, err := fs.ReadFile(folder, RecordFile)
	switch {
	case err == nil:
		if m.before, err = readRecord(data); err != nil {
			return nil, nil, err
		}
	case !errors.Is(err, fs.ErrNotExist):
		return nil, nil, err
	default:
		s.Found.Openf(diag.Pos{File: "job.yaml"}, "", "look through the differences below",
			"the job has no record of an earlier survey (%s): rooms were matched by name, and what the job says of them was kept", RecordFile)
	}
	m.matchStoreys(s)
	match := m.matchRooms(s)
	m.writer = s.writer(table)
	if err := m.rooms(match); err != nil {
		return nil, nil, err
	}
	m.gone()
	if err := m.rest(); err != nil {
		return nil, nil, err
	}
	return m.files(data), m.changes, nil
}

func (m *merging) note(kind ChangeKind, id job.RoomID, format string, args ...any) {
	m.changes = append(m.changes, Change{kind, id, fmt.Sprintf(format, args...)})
}

// rooms merges each room, and adds new ones after the last of their storey.
func (m *merging) rooms(match map[*Room]*recordRoom) error {
	fresh := map[*jobText][]*Room{}
	for _, r := range m.Rooms {
		place, there := m.tree.rooms[string(r.ID)]
		if !there {
			m.note(Added, r.ID, "%q, %.1f m²", r.Name, float64(r.FloorArea))
			f := m.fileFor(r)
			fresh[f] = append(fresh[f], r)
			continue
		}
		changed, err := m.room(r, place.node, match[r])
		if err != nil {
			return err
		}
		if changed {
			if err := place.file.rewrite(place.node); err != nil {
				return err
			}
		}
	}
	for _, f := range m.tree.files {
		if len(fresh[f]) == 0 {
			continue
		}
		text := func(indent string) string {
			var b strings.Builder
			for _, r := range fresh[f] {
				b.WriteString("\n" + m.writer.room(r, indent))
			}
			return b.String()
		}
		if list := valueOf(f.root, "rooms"); list != nil {
			if err := f.appendTo(list, "rooms", text); err != nil {
				return err
			}
			continue
		}
		f.atEnd("\nrooms:\n" + strings.TrimPrefix(text("  "), "\n"))
	}
	return nil
}

// fileFor is the file of the last room on a storey, else of the last room at all, else job.yaml.
func (m *merging) fileFor(r *Room) *jobText {
	last := m.tree.files[0]
	for _, id := range m.tree.order {
		last = m.tree.rooms[id].file
	}
	for _, id := range m.tree.order {
		if textOf(m.tree.rooms[id].node, "storey") == string(r.Level.ID) {
			last = m.tree.rooms[id].file
		}
	}
	return last
}

// room brings one room into its node; it says whether anything changed.
func (m *merging) room(r *Room, node *yaml.Node, before *recordRoom) (bool, error) {
	m.keepIDs(r, node, before)
	now := m.recordRoom(r)
	keys := slices.Sorted(maps.Keys(now.Keys))
	if before != nil {
		for k := range before.Keys {
			if _, ok := now.Keys[k]; !ok {
				keys = append(keys, k)
			}
		}
	}
	slices.Sort(keys)
	changed := false
	for _, key := range keys {
		was := ""
		if before != nil {
			was = before.Keys[key]
		}
		done, err := m.key(r, node, key, was, now.Keys[key], before != nil)
		if err != nil {
			return false, err
		}
		changed = changed || done
	}
	for _, list := range []string{"openings", "penetrations"} {
		var was map[string]string
		if before != nil {
			was = before.Items[list]
		}
		done, err := m.items(r, node, list, was, now.Items[list], before != nil)
		if err != nil {
			return false, err
		}
		changed = changed || done
	}
	return changed, nil
}

// key settles one key: was is what the last survey wrote, now what this one would; known says that there was one.
func (m *merging) key(r *Room, node *yaml.Node, key, was, now string, known bool) (bool, error) {
	ours := valueOf(node, key)
	switch {
	case known && was == now || sameText(ours, now):
		return false, nil
	case !sameText(ours, was) || !known:
		m.conflict(r, key, "the job's own stands, the file says "+orID(now, "nothing"))
		return false, nil
	}
	kind, what := describe(key, was, now)
	m.note(kind, r.ID, "%s", what)
	if now == "" {
		dropKey(node, key)
		return true, nil
	}
	return true, setValue(node, key, now)
}

func (m *merging) conflict(r *Room, what, how string) {
	m.note(Conflict, r.ID, "%s: %s", what, clip(how, 200))
	m.Found.Openf(r.Space.Pos, string(r.ID), "compare the two and correct the job where the file is right", "room %s: %s differs between job and file; %s", r.ID, what, clip(how, 200))
}

// describe says what a change of a key is.
func describe(key, was, now string) (ChangeKind, string) {
	switch key {
	case "name":
		return Renamed, fmt.Sprintf("from %s to %s", was, now)
	case "plan":
		if dx, dy, ok := shifted(was, now); ok {
			return Moved, fmt.Sprintf("by %d mm to the right and %d mm up the plan", dx, dy)
		}
		return Changed, "plan from " + was + " to " + now
	case "storey", "floor-offset":
		return Moved, fmt.Sprintf("%s from %s to %s", key, orID(was, "0"), orID(now, "0"))
	}
	return Changed, fmt.Sprintf("%s from %s to %s", key, orID(was, "nothing"), orID(now, "nothing"))
}

// shifted says how far a plan was moved, where its shape stayed.
func shifted(was, now string) (dx, dy int, ok bool) {
	a, b := corners(was), corners(now)
	if len(a) == 0 || len(a) != len(b) {
		return 0, 0, false
	}
	dx, dy = b[0][0]-a[0][0], b[0][1]-a[0][1]
	for i := range a {
		if b[i][0]-a[i][0] != dx || b[i][1]-a[i][1] != dy {
			return 0, 0, false
		}
	}
	return dx, dy, true
}

func corners(plan string) [][2]int {
	var out [][2]int
	n, err := parseValue(plan)
	if err != nil {
		return nil
	}
	if err := n.Decode(&out); err != nil {
		return nil
	}
	return out
}

// items settles a list whose items carry ids; items people added are not looked at.
func (m *merging) items(r *Room, node *yaml.Node, list string, was, now map[string]string, known bool) (bool, error) {
	ids := slices.Collect(maps.Keys(now))
	for id := range was {
		if _, ok := now[id]; !ok {
			ids = append(ids, id)
		}
	}
	slices.SortFunc(ids, func(a, b string) int { return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b)) })
	changed := false
	for _, id := range ids {
		holder := valueOf(node, list)
		k := -1
		if holder != nil {
			k = slices.IndexFunc(holder.Content, func(n *yaml.Node) bool { return strings.TrimPrefix(textOf(n, "id"), string(r.ID)+"-") == id })
		}
		var ours *yaml.Node
		if k >= 0 {
			ours = holder.Content[k]
		}
		word := strings.TrimSuffix(list, "s") + " " + id
		switch {
		case known && was[id] == now[id] || sameText(ours, now[id]):
			continue
		case ours == nil && was[id] == "": // new in the file
			if !known && holder != nil {
				m.conflict(r, word, "the job does not have it, the file says "+now[id])
				continue
			}
			m.note(Changed, r.ID, "%s added: %s", word, now[id])
			item, err := parseValue(now[id])
			if err != nil {
				return false, err
			}
			if holder == nil {
				if err := setValue(node, list, "[]"); err != nil {
					return false, err
				}
				holder = valueOf(node, list)
				holder.Style = 0
			}
			holder.Content = append(holder.Content, item)
		case !sameText(ours, was[id]):
			m.conflict(r, word, "the job's own stands, the file says "+orID(now[id], "nothing"))
			continue
		case now[id] == "":
			m.note(Changed, r.ID, "%s is gone from the file and was taken out", word)
			holder.Content = slices.Delete(holder.Content, k, k+1)
			if len(holder.Content) == 0 {
				dropKey(node, list)
			}
		default:
			m.note(Changed, r.ID, "%s from %s to %s", word, was[id], now[id])
			item, err := parseValue(now[id])
			if err != nil {
				return false, err
			}
			holder.Content[k] = item
		}
		changed = true
	}
	return changed, nil
}

// keepIDs gives openings and penetrations the ids they had, and new ones ids that are free in the job.
func (m *merging) keepIDs(r *Room, node *yaml.Node, before *recordRoom) {
	had := func(list, source string) string {
		if before == nil {
			return ""
		}
		for _, id := range slices.Sorted(maps.Keys(before.From[list])) {
			if before.From[list][id] == source {
				return id
			}
		}
		return ""
	}
	taken := map[string]bool{}
	for _, list := range []string{"openings", "penetrations"} {
		if holder := valueOf(node, list); holder != nil {
			for _, n := range holder.Content {
				taken[strings.TrimPrefix(textOf(n, "id"), string(r.ID)+"-")] = true
			}
		}
		if before != nil {
			for id := range before.From[list] {
				taken[id] = true
			}
		}
	}
	given := map[string]bool{}
	pick := func(list, source, own, format string) string {
		if id := had(list, source); id != "" && !given[id] {
			given[id] = true
			return id
		}
		if before == nil && !given[own] { // no record: the numbers are the best there is
			given[own] = true
			return own
		}
		n := 1
		for id := fmt.Sprintf(format, n); taken[id] || given[id]; id = fmt.Sprintf(format, n) {
			n++
		}
		given[fmt.Sprintf(format, n)] = true
		return fmt.Sprintf(format, n)
	}
	for i := range r.Openings {
		o := &r.Openings[i]
		o.ID = job.OpeningID(pick("openings", o.Source, string(o.ID), "O%d"))
	}
	for i := range r.Holes {
		h := &r.Holes[i]
		h.ID = job.PenetrationID(pick("penetrations", h.Source, string(h.ID), "P%02d"))
	}
}

// gone names rooms of the last survey that the file no longer holds.
func (m *merging) gone() {
	have := map[string]bool{}
	for _, r := range m.Rooms {
		have[string(r.ID)] = true
	}
	for _, b := range m.before.Rooms {
		place, there := m.tree.rooms[b.ID]
		if have[b.ID] || !there {
			continue
		}
		m.kept = append(m.kept, b)
		m.note(Removed, job.RoomID(b.ID), "%q is no longer in the file; it stays in the job", textOf(place.node, "name"))
		m.Found.Openf(diag.Pos{File: place.file.path, Line: place.node.Line, Col: place.node.Column}, b.ID, "delete it from the job if it is not built",
			"room %s is no longer in the surveyed file; it was left in the job", b.ID)
	}
}
