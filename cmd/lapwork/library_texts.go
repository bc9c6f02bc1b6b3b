package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"lapwork/content"
	"lapwork/generator/diag"
	"lapwork/generator/lang"
	"lapwork/generator/library"
)

func newLibraryTexts() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "texts [DIR|ZIP|JOB]",
		Short: "List the texts to translate, as language files ready to fill in",
		Long: `Lists the English texts of details and tables, and without an argument those of the program itself, by the file of a
language that holds them. What the language has already stands beside its text. With --out the files are written below
that folder; a file that exists is left alone.

One line a text: "English": "translation". Figures {=lap_mm}, ** and, in interface files, values such as %s stay as they are.
A language is complete when --missing lists nothing.`,
		Example: "  lapwork library texts --language de --missing\n  lapwork library texts firm --language pl --out firm",
		Args:    cobra.MaximumNArgs(1),
		RunE:    runLibraryTexts,
	}
	cmd.Flags().String("language", "de", "tag of the language to translate into")
	cmd.Flags().Bool("missing", false, "only texts that the language does not have")
	cmd.Flags().String("group", "", "only this file: statements/wall-ceiling, tables/rules, common")
	cmd.Flags().String("out", "", "write the files below this folder, in lang/TAG")
	return cmd
}

func runLibraryTexts(cmd *cobra.Command, args []string) error {
	var found diag.List
	layers, err := layersFor(cmd, args, &found)
	if err != nil {
		return failed(err)
	}
	v, err := settings(cmd, "")
	if err != nil {
		return failed(err)
	}
	lib := library.LoadLayers(layers, &found)
	tag := v.GetString("language")
	var groups []lang.Group
	var origins []string
	if len(args) > 0 {
		for _, l := range layers[1:] {
			origins = append(origins, l.Name)
		}
	} else {
		groups = lang.Patterns(content.FS, &found)
	}
	groups = append(textGroups(ownTexts(lib, layers, origins)), groups...)
	var places []lang.Layer
	for _, l := range layers {
		places = append(places, lang.Layer{Dir: l.Dir, FS: l.FS})
	}
	c := lang.Load(tag, places, &found)
	if found.Err() != nil {
		return faults(cmd, found.Sorted(), found.Err())
	}
	if only := v.GetString("group"); only != "" {
		groups = slices.DeleteFunc(groups, func(g lang.Group) bool { return g.Name != only })
	}
	total, missing := 0, 0
	for i := range groups {
		total += len(groups[i].Items)
		left := slices.DeleteFunc(slices.Clone(groups[i].Items), func(x lang.Item) bool { return c.Has(x.English) })
		missing += len(left)
		if v.GetBool("missing") {
			groups[i].Items = left
		}
	}
	groups = slices.DeleteFunc(groups, func(g lang.Group) bool { return len(g.Items) == 0 })
	if out := v.GetString("out"); out != "" {
		return writeTexts(cmd.OutOrStdout(), filepath.Join(out, "lang", tag), tag, groups, c)
	}
	for _, g := range groups {
		fmt.Fprintf(cmd.OutOrStdout(), "# lang/%s/%s.yaml\n%s\n", tag, g.Name, lang.Skeleton(tag, g, c))
	}
	_, err = fmt.Fprintf(cmd.OutOrStdout(), "# %d of %d texts missing in %s\n", missing, total, tag)
	return failed(err)
}

// ownTexts are the texts of the built-in library, or what the layers with these origins add to it.
func ownTexts(lib *library.Library, layers []library.Layer, origins []string) []library.Texts {
	if origins == nil {
		return lib.Texts(nil)
	}
	var none diag.List // the built-in layer alone has no fault
	return append(library.Without(lib.Texts(origins), library.LoadLayers(layers[:1], &none).Texts(nil)), themeTexts(layers[1:], &none)...)
}

func textGroups(texts []library.Texts) []lang.Group {
	var out []lang.Group
	for _, t := range texts {
		g := lang.Group{Name: t.Group}
		for _, text := range t.Texts {
			g.Items = append(g.Items, lang.Item{English: text, Short: t.Short[text]})
		}
		out = append(out, g)
	}
	return out
}

func writeTexts(w io.Writer, dir, tag string, groups []lang.Group, c *lang.Catalogue) error {
	written, left := 0, 0
	for _, g := range groups {
		file := filepath.Join(dir, filepath.FromSlash(g.Name)+".yaml")
		if _, err := os.Lstat(file); err == nil {
			left++
			continue
		}
		if err := writeNew(file, string(lang.Skeleton(tag, g, c))); err != nil {
			return failed(err)
		}
		written++
	}
	_, err := fmt.Fprintf(w, "%s: %d files written, %d left alone\n", dir, written, left)
	return failed(err)
}
