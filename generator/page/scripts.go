package page

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"strings"

	"lapwork/generator/lang"
)

// script is one of a pack's, with what it says in the pack's language.
type script struct{ name, text string }

// scriptFiles are the scripts in the order they run in a single file, which carries them all. Pages of a folder name the first,
// which runs before layout, and the second; that one fetches the next two when they are wanted.
var scriptFiles = []string{"head.js", onEvery, "shown.js", "record.js", onlySingle}

// onEvery is the script that every page names and that lends its words to the others.
const onEvery = "pack.js"

// onlySingle finds the page that a single file shows.
const onlySingle = "single.js"

func readScripts(theme fs.FS, c *lang.Catalogue) ([]script, error) {
	var out []script
	var always []string // what the script says that every page has
	for _, name := range scriptFiles {
		data, err := fs.ReadFile(theme, "built/"+name)
		if err != nil {
			return nil, fmt.Errorf("theme: %w", err)
		}
		text, says, err := made(string(data))
		if err != nil {
			return nil, fmt.Errorf("theme: %s: %w", name, err)
		}
		texts, err := scriptTexts(says, always, c)
		if err != nil {
			return nil, err
		}
		if name == onEvery {
			always = says
		}
		out = append(out, script{name, texts + text})
	}
	return out, nil
}

// made takes a script apart that was made from the theme's sources: below a remark for people it lists what it says.
func made(data string) (text string, says []string, err error) {
	_, data, _ = strings.Cut(data, "\n")
	list, text, ok := strings.Cut(data, "\n")
	list, isList := strings.CutPrefix(list, "// Says ")
	if !ok || !isList {
		return "", nil, fmt.Errorf("it does not begin with what it is made from and what it says; go generate ./themes makes it")
	}
	if strings.Contains(text, "</") {
		return "", nil, fmt.Errorf(`it contains "</", which may end it inside a page`)
	}
	return text, says, json.Unmarshal([]byte(list), &says)
}

// scriptTexts begins a script with what it says in the pack's language, but for what is known already; empty in English without
// plural forms.
func scriptTexts(says, known []string, c *lang.Catalogue) (string, error) {
	texts := map[string]any{}
	for _, p := range says {
		forms := c.Forms(p)
		switch {
		case len(forms) == 1:
			texts[p] = forms["other"]
		case len(forms) > 1:
			texts[p] = forms
		}
	}
	for _, p := range known {
		delete(texts, p)
	}
	if len(texts) == 0 {
		return "", nil
	}
	text, err := json.Marshal(texts) // sorted by key; escapes what could end the element
	return "Object.assign(window.lapworkTexts||={}," + string(text) + ");\n", err
}
