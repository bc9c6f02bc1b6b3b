package survey

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"
)

// rest adds storeys, kinds of surface and build-ups that the job does not have yet.
func (m *merging) rest() error {
	var storeys, faces, stacks []string
	for _, l := range m.Levels {
		if m.storeys[l] {
			storeys = append(storeys, fmt.Sprintf("- {id: %s, name: %s, level: %d}", quote(string(l.ID)), quote(label(l.Name)), l.Level))
		}
	}
	for _, f := range m.faces {
		if m.has("faces", f.name) {
			continue
		}
		text, comment := f.faceText()
		if comment != "" {
			comment = " # " + comment
		}
		faces = append(faces, f.name+": "+text+comment)
	}
	for _, c := range m.constructions() {
		if u := m.buildUps[c]; u != nil && !m.has("build-ups", u.ID) {
			stacks = append(stacks, u.ID+": "+u.flow())
		}
	}
	return errors.Join(m.extend("storeys", storeys), m.extend("faces", faces), m.extend("build-ups", stacks), m.assumed())
}

// flow is a build-up on one line.
func (u *BuildUp) flow() string {
	var layers []string
	for _, l := range u.Layers {
		if l.Air {
			layers = append(layers, fmt.Sprintf("{air: yes, thickness: %d}", l.Thickness))
		} else {
			layers = append(layers, fmt.Sprintf("{material: %s, thickness: %d}", l.Material, l.Thickness))
		}
	}
	return fmt.Sprintf("{name: %s, layers: [%s]}", quote(u.Name), strings.Join(layers, ", "))
}

// has says whether any file of the job holds an entry of a mapping.
func (m *merging) has(key, name string) bool {
	for _, f := range m.tree.files {
		if valueOf(valueOf(f.root, key), name) != nil {
			return true
		}
	}
	return false
}

// extend puts entries after the last of a top key of the first file that has it, or under a new one at the end of
// job.yaml.
func (m *merging) extend(key string, entries []string) error {
	if len(entries) == 0 {
		return nil
	}
	lines := func(indent string) string {
		var b strings.Builder
		for _, e := range entries {
			b.WriteString(indent + e + "\n")
		}
		return b.String()
	}
	for _, f := range m.tree.files {
		block := valueOf(f.root, key)
		switch {
		case block == nil:
		case block.Tag == "!!null" || block.Kind != yaml.ScalarNode && len(block.Content) == 0:
			f.refill(key, lines("  "))
			return nil
		case block.Kind != yaml.ScalarNode:
			return f.appendTo(block, key, lines)
		}
	}
	m.tree.files[0].atEnd("\n" + key + ":\n" + lines("  "))
	return nil
}

// files are those that changed, and the record if it did.
func (m *merging) files(old []byte) []File {
	var out []File
	for _, f := range m.tree.files {
		if data := f.bytes(); data != nil {
			out = append(out, File{f.path, data})
		}
	}
	if rec := m.record(m.kept); !bytes.Equal(rec, old) {
		out = append(out, File{RecordFile, rec})
	}
	return out
}
