package survey_test

import (
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
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

// What a survey assumed stands in the new job once, in the job's language. A line that people took out is confirmed: the same
// survey does not bring it back, whatever is left of the list; what a later survey assumes anew is added.
func TestMergeOfAssumptions(t *testing.T) {
	with := func(texts ...string) *survey.Survey {
		s := pairHouse(0)
		for _, x := range texts {
			s.Guessed = append(s.Guessed, survey.Say("guess %s", x))
		}
		s.Words = func(x survey.Said) string { return "im Projekt: " + x.String() }
		return s
	}
	const one, two = "  - \"im Projekt: guess one\"\n", "  - \"im Projekt: guess two\"\n"
	for name, empty := range map[string]func(list string) string{
		"a line":    func(text string) string { return strings.Replace(text, one, "", 1) },
		"all lines": func(text string) string { return withoutAssumed(text, "assumed:\n") },
		"a flow":    func(text string) string { return withoutAssumed(text, "assumed: []\n") },
		"the list":  func(text string) string { return withoutAssumed(text, "") },
	} {
		folder := jobOf(with("one"))
		if text := string(folder["job.yaml"].Data); strings.Count(text, one) != 1 || strings.Count(text, "  - \"im Projekt: ") < 4 {
			t.Fatalf("%s", text)
		}
		folder["job.yaml"].Data = []byte(empty(string(folder["job.yaml"].Data)))
		before := string(folder["job.yaml"].Data)
		merge(t, with("one"), folder)
		if got := string(folder["job.yaml"].Data); got != before {
			t.Errorf("%s: the same survey again:\n%s", name, got)
		}
		merge(t, with("one", "two"), folder)
		if got := string(folder["job.yaml"].Data); strings.Contains(got, one) || strings.Count(got, two) != 1 || strings.Count(got, "assumed:\n") != 1 {
			t.Errorf("%s: a second guess:\n%s", name, got)
		}
	}
}

// withoutAssumed puts another text in the place of the list of what was assumed.
func withoutAssumed(job, with string) string {
	head, rest, _ := strings.Cut(job, "assumed:\n")
	for strings.HasPrefix(rest, "  - ") {
		_, rest, _ = strings.Cut(rest, "\n")
	}
	return head + with + rest
}

// However much a survey assumes and however it is worded, its list is bounded and is read as it was written.
func TestAssumptionsAreBounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := pairHouse(0)
		for i := range rapid.IntRange(0, 300).Draw(t, "n") {
			s.Guessed = append(s.Guessed, survey.Say("%d %s", i, strings.Repeat(rapid.String().Draw(t, "text"), 20)))
		}
		var job struct {
			Assumed []string `yaml:"assumed"`
		}
		if err := yaml.Unmarshal(jobOf(s)["job.yaml"].Data, &job); err != nil {
			t.Fatal(err)
		}
		if n := len(job.Assumed); n < 3 || n > 64 {
			t.Errorf("%d lines for %d guesses", n, len(s.Guessed))
		}
		for _, text := range job.Assumed {
			if utf8.RuneCountInString(text) > 400 || strings.TrimSpace(text) == "" {
				t.Errorf("%q", text)
			}
		}
	})
}
