package generator

import (
	"cmp"
	"slices"

	"lapwork/generator/assess"
	"lapwork/generator/junction"
	"lapwork/generator/sorting"
)

// JunctionKind is a kind of junction of a job, by the attributes that method statements are mostly chosen by.
type JunctionKind struct {
	Edge     junction.Edge `json:"edge"`
	SurfaceA string        `json:"surface_a,omitempty"`
	SurfaceB string        `json:"surface_b,omitempty"`
	Item     string        `json:"item,omitempty"`
	Part     string        `json:"part,omitempty"`
}

// Covered says which statement answers a kind of junction, at how many places. A kind that several answer, as by its
// substrate, stands once for each.
type Covered struct {
	JunctionKind
	Places    int      `json:"places"`
	Statement string   `json:"statement,omitempty"` // empty: a gap
	Title     string   `json:"title,omitempty"`
	Origin    string   `json:"origin,omitempty"` // built-in, firm, job, or a library's name
	Edition   string   `json:"edition,omitempty"`
	Open      int      `json:"open,omitempty"`    // places of these that need a person before anything is done
	Example   []string `json:"example,omitempty"` // ids of up to three places
}

// examples is how many places of a kind are named.
const examples = 3

// Coverage lists each kind of junction of a job with the statements that answer it, gaps first.
func Coverage(r *assess.Results) []Covered {
	type key struct {
		kind      JunctionKind
		statement string
	}
	rows := map[key]*Covered{}
	for _, p := range r.Places {
		rec := &p.Record
		k := key{kind: JunctionKind{rec.Edge, rec.SurfaceA, rec.SurfaceB, rec.Item, rec.Part}}
		s := p.Chosen.Statement
		if s != nil {
			k.statement = string(s.ID)
		}
		row := rows[k]
		if row == nil {
			row = &Covered{JunctionKind: k.kind, Statement: k.statement}
			if s != nil {
				row.Title, row.Origin, row.Edition = s.Title, s.Origin, s.Edition
			}
			rows[k] = row
		}
		row.Places++
		if p.Problem != "" {
			row.Open++
		}
		if len(row.Example) < examples {
			row.Example = append(row.Example, rec.ID)
		}
	}
	out := make([]Covered, 0, len(rows))
	for _, row := range rows {
		out = append(out, *row)
	}
	sorting.Func(out, func(a, b Covered) int {
		return cmp.Or(cmp.Compare(gapFirst(a), gapFirst(b)), slices.Index(junction.Edges, a.Edge)-slices.Index(junction.Edges, b.Edge),
			cmp.Compare(a.Item, b.Item), cmp.Compare(a.SurfaceA, b.SurfaceA), cmp.Compare(a.SurfaceB, b.SurfaceB),
			cmp.Compare(a.Part, b.Part), cmp.Compare(a.Statement, b.Statement))
	})
	return out
}

func gapFirst(c Covered) int {
	if c.Statement == "" {
		return 0
	}
	return 1
}

// Gaps counts the places of a coverage that no statement answers.
func Gaps(rows []Covered) int {
	n := 0
	for _, c := range rows {
		if c.Statement == "" {
			n += c.Places
		}
	}
	return n
}
