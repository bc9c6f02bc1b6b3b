package themes_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lapwork/generator/page"
	"lapwork/themes"
)

// made are the scripts in built, each with its first two lines taken apart.
func made(t *testing.T) map[string][3]string {
	t.Helper()
	names, err := filepath.Glob("built/*.js")
	if err != nil || len(names) == 0 {
		t.Fatalf("scripts in built: %v, %v", names, err)
	}
	out := map[string][3]string{}
	for _, name := range names {
		data, err := themes.FS.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.SplitN(string(data), "\n", 3)
		if len(lines) != 3 {
			t.Fatalf("%s has no remark before its text", name)
		}
		out[filepath.Base(name)] = [3]string(lines)
	}
	return out
}

func sourcesOf(lines [3]string) []string {
	from, _, _ := strings.Cut(strings.TrimPrefix(lines[0], "// Made by go generate ./themes from "), " of site:")
	return strings.Fields(from)
}

// TestScriptsAreCurrent holds the scripts of a pack against the sources they name: by their sum, and by what they say.
func TestScriptsAreCurrent(t *testing.T) {
	const again = "; go generate ./themes makes them anew"
	h := sha256.New()
	names, err := filepath.Glob("site/*.js")
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(names)
	used := map[string]bool{}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(h, "%s %d\n%s", filepath.Base(name), len(text), text)
		used[filepath.Base(name)] = false
	}
	sum := hex.EncodeToString(h.Sum(nil))
	for name, lines := range made(t) {
		if !strings.HasSuffix(lines[0], " Their sum: "+sum) {
			t.Errorf("%s is not made from the sources as they are%s", name, again)
		}
		var want, got []string
		for _, source := range sourcesOf(lines) {
			text, err := os.ReadFile("site/" + source)
			if err != nil {
				t.Fatal(err)
			}
			used[source] = true
			want = append(want, page.ScriptPatterns(string(text))...)
		}
		if err := json.Unmarshal([]byte(strings.TrimPrefix(lines[1], "// Says ")), &got); err != nil {
			t.Fatal(err)
		}
		slices.Sort(want)
		if want = slices.Compact(want); !slices.Equal(got, want) && len(got)+len(want) > 0 {
			t.Errorf("%s says %q, its sources %q%s", name, got, want, again)
		}
		for _, text := range got {
			if literal, err := json.Marshal(text); err != nil || !strings.Contains(lines[2], strings.Trim(string(literal), `"`)) {
				t.Errorf("%s does not hold %q as it stands, so that no translation is found for it", name, text)
			}
		}
	}
	for name, lines := range made(t) {
		for _, source := range sourcesOf(lines) {
			if name != "pack.js" && source != "dom.js" && slices.Contains(sourcesOf(made(t)["pack.js"]), source) {
				t.Errorf("%s has %s once more, whose state stands in pack.js", name, source)
			}
		}
	}
	for source, ok := range used {
		if !ok {
			t.Errorf("no script is made from %s", source)
		}
	}
}

// TestScriptsAreMadeSo makes the scripts once more. The bundler is no part of the program; without CI it may be missing.
func TestScriptsAreMadeSo(t *testing.T) {
	out := t.TempDir()
	c := exec.Command("go", "run", "-C", "../.ci", "./scripts", "../themes", out)
	c.Env = os.Environ()
	if os.Getenv("CI") == "" {
		c.Env = append(c.Env, "GOPROXY=off")
	}
	if text, err := c.CombinedOutput(); err != nil && os.Getenv("CI") == "" {
		t.Skipf("the bundler does not run here: %s", text)
	} else if err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	for name := range made(t) {
		was, err := os.ReadFile("built/" + name)
		if err != nil {
			t.Fatal(err)
		}
		if is, err := os.ReadFile(filepath.Join(out, name)); err != nil || !bytes.Equal(is, was) {
			t.Errorf("built/%s is not what its sources make (%v); go generate ./themes makes it anew", name, err)
		}
	}
}
