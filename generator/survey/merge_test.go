package survey_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"lapwork/generator/job"
	"lapwork/generator/survey"
)

// pairHouse is two rooms on two storeys; the upper one is 0.1 m longer by each step.
func pairHouse(steps int) *survey.Survey {
	b := house(box(0, 0, 4, 3, 0, 2.5), box(0, 0, 4+float64(steps)/10, 3, 2.8, 5.3))
	up := &survey.Storey{ID: "u", Name: "Upper floor", Level: 2.8}
	b.Storeys = append(b.Storeys, up)
	b.Spaces[1].Storey = up
	for i := range b.Spaces {
		body := b.Spaces[i].Body
		faces(b, body, job.Outside, b.Spaces[i])
	}
	return take(b)
}

func jobOf(s *survey.Survey) fstest.MapFS {
	out := fstest.MapFS{}
	for _, f := range s.Write(nil) {
		out[f.Path] = &fstest.MapFile{Data: f.Data}
	}
	return out
}

func merge(t interface{ Fatal(...any) }, s *survey.Survey, into fstest.MapFS) []survey.Change {
	files, changes, err := s.Merge(into, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		into[f.Path] = &fstest.MapFile{Data: f.Data}
	}
	return changes
}

// A survey merged into the job it made changes no byte, whatever the layout people gave to the files.
func TestMergeOfTheSame(t *testing.T) {
	folder := jobOf(pairHouse(0))
	folder["rooms/a.yaml"].Data = []byte(strings.Replace(string(folder["rooms/a.yaml"].Data), "    height: 2500\n", "\n    height:   2500 # measured\n", 1))
	files, changes, err := pairHouse(0).Merge(folder, nil)
	if err != nil || len(files) != 0 || len(changes) != 0 {
		t.Errorf("%d files, changes %v, %v", len(files), changes, err)
	}
}

// Where people have touched a key it stays theirs; where they have not it follows the file; the rest of the file is as it
// was, line by line.
func TestMergeKeepsEveryLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		folder := jobOf(pairHouse(0))
		before := strings.SplitAfter(string(folder["rooms/b.yaml"].Data), "\n")
		// lines of people, put between any two
		extra := []string{"    works: [nests]\n", "    # by hand\n", "    penetrations:\n      - {id: P01, item: cable, in: wall 1, at: [500, 300], diameter: 10}\n"}
		var own []string
		var text strings.Builder
		for i, line := range before {
			text.WriteString(line)
			if i >= 3 && i < len(before)-2 && len(extra) > 0 && rapid.Bool().Draw(t, "here") {
				text.WriteString(extra[0])
				own = append(own, strings.SplitAfter(extra[0], "\n")...)
				extra = extra[1:]
			}
		}
		touched := rapid.Bool().Draw(t, "touched")
		edited := text.String()
		if touched {
			edited = strings.Replace(edited, "height: 2500", "height: 2450", 1)
		}
		folder["rooms/b.yaml"].Data = []byte(edited)
		changes := merge(t, pairHouse(5), folder)
		after := string(folder["rooms/b.yaml"].Data)
		for _, line := range own {
			if !strings.Contains(after, strings.TrimRight(line, "\n")) {
				t.Fatalf("%q is gone:\n%s", line, after)
			}
		}
		if !strings.Contains(after, "[4500, 0]") || len(changes) != 1 {
			t.Fatalf("the plan did not follow: %v\n%s", changes, after)
		}
		if touched != strings.Contains(after, "height: 2450") {
			t.Fatalf("the height of people:\n%s", after)
		}
		if again := merge(t, pairHouse(5), folder); len(again) != 0 {
			t.Fatalf("a second merge of the same changes %v", again)
		}
	})
}

// Without a record rooms are matched by name and what the job says stands, with the difference named.
func TestMergeWithoutRecord(t *testing.T) {
	folder := jobOf(pairHouse(0))
	delete(folder, survey.RecordFile)
	was := string(folder["rooms/b.yaml"].Data)
	s := pairHouse(5)
	changes := merge(t, s, folder)
	if len(changes) != 1 || changes[0].Kind != survey.Conflict || string(folder["rooms/b.yaml"].Data) != was {
		t.Errorf("%v", changes)
	}
	if !said(s, "no record of an earlier survey") || folder[survey.RecordFile] == nil {
		t.Error("the missing record is not said, or none was written")
	}
}
