// Command scripts makes what packs carry of the tablet's scripts: each script of themes/site that a page names, with the files
// it imports, as one file without what only people read. "go generate ./themes" runs it; its argument is where themes/site lies,
// and optionally another folder for what it makes.
package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"log"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

// made are the scripts that pages name; what one imports is part of it.
var made = []string{"head.js", "pack.js", "shown.js", "record.js", "single.js"}

func main() {
	log.SetFlags(0)
	if len(os.Args) < 2 {
		log.Fatal("usage: scripts THEMES [OUT]")
	}
	themes, out := os.Args[1], filepath.Join(os.Args[1], "built")
	if len(os.Args) > 2 {
		out = os.Args[2]
	}
	sum, err := sumOf(filepath.Join(themes, "site"))
	if err != nil {
		log.Fatal(err)
	}
	for _, name := range made {
		text, err := build(filepath.Join(themes, "site"), name, sum)
		if err == nil {
			err = os.WriteFile(filepath.Join(out, name), []byte(text), 0o644)
		}
		if err != nil {
			log.Fatalf("%s: %v", name, err)
		}
	}
}

// sumOf is the SHA-256 of all sources, in the order of their names, each behind its name and size.
func sumOf(site string) (string, error) {
	names, err := filepath.Glob(filepath.Join(site, "*.js"))
	if err != nil {
		return "", err
	}
	slices.Sort(names)
	h := sha256.New()
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(h, "%s %d\n%s", filepath.Base(name), len(text), text)
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// build gives a script behind two remarks: what it is made from, and what it says. Scripts of one pack know each other by the
// first digits of the sum.
func build(site, name, sum string) (string, error) {
	site, err := filepath.Abs(site)
	if err != nil {
		return "", err
	}
	r := api.Build(api.BuildOptions{
		EntryPoints: []string{filepath.Join(site, name)}, AbsWorkingDir: site, Bundle: true, Format: api.FormatIIFE, Target: api.ES2021, Charset: api.CharsetUTF8,
		MinifyWhitespace: true, MinifyIdentifiers: true, MinifySyntax: true, LegalComments: api.LegalCommentsNone, Metafile: true,
		Define: map[string]string{"BUILD": `"` + sum[:12] + `"`}, LogLevel: api.LogLevelWarning,
	})
	if len(r.Errors) > 0 {
		return "", fmt.Errorf("%s", r.Errors[0].Text)
	}
	sources, err := inputs(r.Metafile)
	if err != nil {
		return "", err
	}
	says, err := said(site, sources)
	if err != nil {
		return "", err
	}
	head := "// Made by go generate ./themes from " + strings.Join(sources, " ") + " of site: change those. Their sum: " + sum + "\n"
	return head + "// Says " + says + "\n" + string(r.OutputFiles[0].Contents), nil
}

func inputs(metafile string) ([]string, error) {
	var meta struct{ Inputs map[string]struct{} }
	if err := json.Unmarshal([]byte(metafile), &meta); err != nil {
		return nil, err
	}
	var out []string
	for name := range meta.Inputs {
		out = append(out, name)
	}
	slices.Sort(out)
	return out, nil
}

// literal is what a source gives to tr; package page finds the same, and a test holds the two against each other.
var literal = regexp.MustCompile(`\btr\('((?:[^'\\]|\\.)*)'`)

// said are the texts of the sources as JSON.
func said(site string, sources []string) (string, error) {
	texts := []string{}
	for _, name := range sources {
		text, err := os.ReadFile(filepath.Join(site, name))
		if err != nil {
			return "", err
		}
		for _, g := range literal.FindAllStringSubmatch(string(text), -1) {
			texts = append(texts, strings.ReplaceAll(g[1], `\'`, `'`))
		}
	}
	slices.Sort(texts)
	out, err := json.Marshal(slices.Compact(texts))
	return string(out), err
}
