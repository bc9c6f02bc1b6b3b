package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"lapwork/generator"
	q "lapwork/generator/quantity"
)

// compare prints the job as it stands beside its variants.
func compare(cmd *cobra.Command, o generator.Options, texts []string, asJSON bool) error {
	var variants []generator.Variant
	for _, text := range texts {
		v, err := generator.ParseVariant(text)
		if err != nil {
			return err
		}
		variants = append(variants, v)
	}
	outcomes, report, err := generator.Compare(cmd.Context(), o, variants)
	if err != nil {
		return faults(cmd, report.Findings, err)
	}
	if asJSON {
		return failed(writeJSON(cmd.OutOrStdout(), outcomes))
	}
	return failed(printOutcomes(cmd.OutOrStdout(), outcomes))
}

// printOutcomes writes one column a variant; the second line of a figure is its difference.
func printOutcomes(w io.Writer, outcomes []generator.Outcome) error {
	f := q.English
	rows := []struct {
		name  string
		value func(generator.Tally) string
	}{
		{"sheet cut", func(t generator.Tally) string { return f.Area(t.Sheet) }},
		{"sheet bought", func(t generator.Tally) string { return f.Area(t.Bought) }},
		{"rolls", func(t generator.Tally) string { return fmt.Sprint(t.Rolls) }},
		{"pieces", func(t generator.Tally) string { return fmt.Sprint(t.Strips) }},
		{"seams, net", func(t generator.Tally) string { return f.Metres(t.Seams) }},
		{"tape with waste", func(t generator.Tally) string { return f.Metres(t.Tape) }},
		{"fitting, likely", func(t generator.Tally) string { return f.Minutes(t.Minutes.Likely) }},
		{"finish", func(t generator.Tally) string { return t.Finish }},
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, o := range outcomes {
		fmt.Fprintf(table, "\t%s", o.Name)
	}
	fmt.Fprintln(table)
	for _, r := range rows {
		fmt.Fprint(table, r.name)
		for _, o := range outcomes {
			fmt.Fprintf(table, "\t%s", r.value(o.Tally))
		}
		fmt.Fprintln(table)
	}
	return table.Flush()
}
