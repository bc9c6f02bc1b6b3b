package main

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"lapwork/generator"
	"lapwork/generator/job"
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
		return failed(writeJSON(cmd.OutOrStdout(), newVariantsJSON(outcomes)))
	}
	return failed(printOutcomes(cmd.OutOrStdout(), outcomes))
}

// variantJSON is the job as it stands or a variant of it, as --json prints it.
type variantJSON struct {
	Name string `json:"name"`
	tallyJSON
}

func newVariantsJSON(outcomes []generator.Outcome) []variantJSON {
	var out []variantJSON
	for _, o := range outcomes {
		out = append(out, variantJSON{o.Name, newTallyJSON(o.Tally)})
	}
	return out
}

// outcomeRow is one figure of the comparison: its number, which differences are taken of, and how it is written.
type outcomeRow struct {
	name  string
	buys  bool // a sum of what is bought: no difference says anything where one of both leaves more out
	value func(generator.Tally) float64
	text  func(float64) string
}

func outcomeRows(currency string) []outcomeRow {
	f := q.English
	area := func(x float64) string { return f.Area(q.Area(x)) }
	metres := func(x float64) string { return f.Metres(q.Length(x)) }
	count := func(x float64) string { return strconv.Itoa(int(x)) }
	rows := []outcomeRow{
		{"sheet cut", false, func(t generator.Tally) float64 { return float64(t.Sheet) }, area},
		{"sheet bought", false, func(t generator.Tally) float64 { return float64(t.Bought) }, area},
		{"rolls", false, func(t generator.Tally) float64 { return float64(t.Rolls) }, count},
		{"pieces", false, func(t generator.Tally) float64 { return float64(t.Strips) }, count},
		{"laps", false, func(t generator.Tally) float64 { return float64(t.Laps) }, count},
		{"end joints", false, func(t generator.Tally) float64 { return float64(t.Joints) }, count},
		{"seams, net", false, func(t generator.Tally) float64 { return float64(t.Seams) }, metres},
		{"tape with waste", false, func(t generator.Tally) float64 { return float64(t.Tape) }, metres},
		{"fitting, likely", false, func(t generator.Tally) float64 { return float64(t.Minutes.Likely) },
			func(x float64) string { return f.Minutes(q.Minutes(x)) }},
		{"working days", false, func(t generator.Tally) float64 { return float64(t.Days) }, count},
	}
	if currency == "" {
		return rows
	}
	money := func(x float64) string { return job.Price{Amount: int64(x), Currency: currency}.String() }
	return append(rows, outcomeRow{"material bought", true, func(t generator.Tally) float64 { return float64(t.Cost.Material) }, money},
		outcomeRow{"fitting, priced", false, func(t generator.Tally) float64 { return float64(wages(t)) }, money},
		outcomeRow{"both", true, func(t generator.Tally) float64 { return float64(t.Cost.Material + wages(t)) }, money})
}

// wages is what the fitting likely costs; 0 without a price of an hour.
func wages(t generator.Tally) int64 {
	if t.Cost.Labour == nil {
		return 0
	}
	return t.Cost.Labour.Likely
}

// printOutcomes writes one column a variant, each figure with its difference from the job as it stands.
func printOutcomes(w io.Writer, outcomes []generator.Outcome) error {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, o := range outcomes {
		fmt.Fprintf(table, "\t%s", o.Name)
	}
	fmt.Fprintln(table)
	for _, r := range outcomeRows(outcomes[0].Cost.Currency) {
		fmt.Fprint(table, r.name)
		for _, o := range outcomes {
			fmt.Fprintf(table, "\t%s", r.cell(o.Tally, outcomes[0].Tally))
		}
		fmt.Fprintln(table)
	}
	fmt.Fprint(table, "finish")
	for _, o := range outcomes {
		fmt.Fprintf(table, "\t%s", o.Finish)
	}
	fmt.Fprintln(table)
	if err := table.Flush(); err != nil {
		return err
	}
	return printUnpriced(w, outcomes)
}

// cell writes a figure, and how it differs from that of the job as it stands.
func (r outcomeRow) cell(t, now generator.Tally) string {
	text, more := r.text(r.value(t)), r.value(t)-r.value(now)
	switch {
	case r.buys && leavesOutMore(t, now):
		return text + " (no price of all)"
	case more > 0 && r.text(more) != r.text(0):
		return fmt.Sprintf("%s (+%s)", text, r.text(more))
	case more < 0 && r.text(-more) != r.text(0):
		return fmt.Sprintf("%s (−%s)", text, r.text(-more))
	}
	return text
}

// leavesOutMore reports whether a sum leaves out a component that the job as it stands buys at a price.
func leavesOutMore(t, now generator.Tally) bool {
	return slices.ContainsFunc(t.Cost.Unpriced, func(id job.ComponentID) bool { return !slices.Contains(now.Cost.Unpriced, id) })
}

// printUnpriced names what the sums of money leave out.
func printUnpriced(w io.Writer, outcomes []generator.Outcome) error {
	for _, o := range outcomes {
		if o.Cost.Currency == "" || len(o.Cost.Unpriced) == 0 {
			continue
		}
		var ids []string
		for _, id := range o.Cost.Unpriced {
			ids = append(ids, string(id))
		}
		if _, err := fmt.Fprintf(w, "%s: no price stated for %s\n", o.Name, strings.Join(ids, ", ")); err != nil {
			return err
		}
	}
	return nil
}
