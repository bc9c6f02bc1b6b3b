package generator_test

import (
	"encoding/csv"
	"html"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"lapwork/content"
	"lapwork/generator/diag"
	"lapwork/generator/lang"
	"lapwork/generator/library"
)

// pseudo is a language that nobody speaks: every text that can be translated has its vowels changed. What stands in a pack
// with English vowels is the job's own, a source, or a text that no catalogue knows.
const pseudo = "eo"

var vowels = strings.NewReplacer("e", "ë", "o", "ø", "a", "å", "i", "ï", "u", "ü", "y", "ÿ", "E", "Ë", "O", "Ø", "A", "Å", "I", "Ï")

// keep is what a translation keeps: computed figures, and in patterns the values.
var keep = map[bool]*regexp.Regexp{false: regexp.MustCompile(`\{=[^}]*\}`), true: regexp.MustCompile(`%[-+# 0]*(?:\[\d+\])?\d*(?:\.\d+)?(?:\[\d+\])?[a-zA-Z%]`)}

func pseudoText(text string, pattern bool) string {
	var b strings.Builder
	done := 0
	for _, at := range keep[pattern].FindAllStringIndex(text, -1) {
		b.WriteString(vowels.Replace(text[done:at[0]]) + text[at[0]:at[1]])
		done = at[1]
	}
	return b.String() + vowels.Replace(text[done:])
}

// pseudoFiles are the files of that language, of the program and its library.
func pseudoFiles(t *testing.T) map[string][]byte {
	t.Helper()
	var found diag.List
	out := map[string][]byte{}
	write := func(name string, texts []string, pattern bool) {
		var b strings.Builder
		b.WriteString("language: " + pseudo + "\nreviewed: no\ntexts:\n")
		slices.Sort(texts)
		for _, text := range slices.Compact(texts) {
			b.WriteString("  " + strconv.Quote(text) + ": " + strconv.Quote(pseudoText(text, pattern)) + "\n")
		}
		out["lang/"+pseudo+"/"+name+".yaml"] = []byte(b.String())
	}
	for _, g := range lang.Patterns(content.FS, &found) {
		var texts []string
		for _, item := range g.Items {
			texts = append(texts, item.English)
		}
		write(g.Name, texts, true)
	}
	for _, g := range library.LoadLayers(library.Layers(content.FS, nil, nil, nil), &found).Texts(nil) {
		write(g.Group, g.Texts, false)
	}
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	return out
}

var english = regexp.MustCompile(`\b(?:the|and|of|with|for|from|are|is|not|each|when|without|under|over|than|only|its|has|have|on|in|by|at|or|to)\b`)

// TestEveryTextHasACatalogue: in a pack of a language in which everything is translated, nothing else is English than what
// the job says and where a figure comes from.
func TestEveryTextHasACatalogue(t *testing.T) {
	src := demoIn(t, "language: "+pseudo+"\n")
	files := src.Job.(fstest.MapFS)
	own := jobWords(t, files)
	for name, data := range pseudoFiles(t) {
		files[name] = &fstest.MapFile{Data: data}
	}
	dir := filepath.Join(t.TempDir(), "pack")
	generate(t, src, dir)
	left := map[string]string{}
	for _, page := range htmlBelow(t, dir, false) {
		text := html.UnescapeString(tags.ReplaceAllString(unread.ReplaceAllString(readFile(t, filepath.Join(dir, page)), "\n"), "\n"))
		for line := range strings.Lines(text) {
			for _, at := range english.FindAllStringIndex(line, -1) {
				if !saysItself(own, line, at[0], at[1]) && !joined(line, at) {
					left[strings.TrimSpace(line)] = page
					break
				}
			}
		}
	}
	for line, page := range left {
		t.Errorf("%s: %.200q is in no catalogue", page, line)
	}
}

// unread is what nobody reads, and what is sealed: that is English in every language, so that records of all of them agree.
var unread = regexp.MustCompile(`(?s)<script.*?</script>|<style.*?</style>|<span data-s="(?:kind|method)">.*?</span>`)

var spaces = regexp.MustCompile(`[^\pL\pN]+`)

// joined reports whether a word is part of an id: batten-over-layer.
func joined(line string, at []int) bool {
	return at[0] > 0 && line[at[0]-1] == '-' || at[1] < len(line) && line[at[1]] == '-'
}

// saysItself reports whether the word stands in a text with the word before it or with the one behind it.
func saysItself(text, line string, from, to int) bool {
	before, behind := strings.Fields(spaces.ReplaceAllString(line[:from], " ")), strings.Fields(spaces.ReplaceAllString(line[to:], " "))
	word := line[from:to]
	return len(before) > 0 && strings.Contains(text, before[len(before)-1]+" "+word) || len(behind) > 0 && strings.Contains(text, word+" "+behind[0])
}

// jobWords is all that the job's files and the sources of the tables say, word by word.
func jobWords(t *testing.T, job fstest.MapFS) string {
	t.Helper()
	var b strings.Builder
	for _, f := range job {
		b.Write(f.Data)
		b.WriteString("\n")
	}
	err := fs.WalkDir(content.FS, "tables", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(content.FS, p)
		if err != nil {
			return err
		}
		r := csv.NewReader(strings.NewReader(string(data)))
		r.Comment, r.FieldsPerRecord = '#', -1
		rows, err := r.ReadAll()
		if err != nil || len(rows) == 0 {
			return err
		}
		at := slices.Index(rows[0], "source")
		for _, row := range rows[1:] {
			if at >= 0 && at < len(row) {
				b.WriteString(row[at] + "\n")
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return spaces.ReplaceAllString(b.String(), " ")
}
