package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"lapwork/generator"
	"lapwork/generator/diag"
	"lapwork/generator/lang"
	"lapwork/generator/pack"
)

func newOrder() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "order [JOB]",
		Short: "Print what to order, delivery by delivery, and the pick and cut lists",
		Long: `Prints the order as CSV: one line for each component of each delivery, whole packs rounded once. The figures are those
of the pack's materials page. Prices stand where the job or the firm states them, nowhere else. With --out the lists are
written into a new folder: order.csv, deliveries.csv, loads.csv, picks.csv, cuts.csv, workings.csv, order.xlsx with a sheet each, and
programme.ics, the calendar of hold points and deliveries, where the programme has dates. Headers and names are in the
job's language, for who buys; with --json they are English and do not change with it.`,
		Example: `  lapwork order jobs/mill-lane                     the order, to the terminal
  lapwork order jobs/mill-lane --list cuts         the cut list, roll by roll
  lapwork order jobs/mill-lane --list deliveries   what each delivery weighs and costs
  lapwork order jobs/mill-lane --list loads        what goes up at once, where stairs or hoist take no more
  lapwork order jobs/mill-lane --list calendar     hold points and deliveries for a calendar program
  lapwork order jobs/mill-lane --out order-2       all lists as files
  lapwork order --compare roll=3m,crew=1           the job beside variants of it
  lapwork order jobs/mill-lane --for 30s           rolls that stay unproven searched further, by the clock
  lapwork order --json                             for another program`,
		Args: cobra.MaximumNArgs(1),
		RunE: runOrder,
	}
	cmd.Flags().String("list", "order", "which list to print: order, deliveries, loads, picks, cuts, workings, calendar")
	cmd.Flags().String("out", "", "a new folder to write the lists into")
	cmd.Flags().StringSlice("compare", nil, "variants to set beside the job: roll=3m, direction=level, direction=upright, crew=2")
	cmd.Flags().Bool("json", false, "print the lists as JSON")
	cmd.Flags().Duration("for", 0, "search the rolls of a delivery that stay unproven further, up to this time: 30s; the result is marked and not reproducible")
	return cmd
}

// orderJSON is all lists as --json prints them.
type orderJSON struct {
	Order      []generator.OrderLine    `json:"order"`
	Deliveries []generator.DeliveryLine `json:"deliveries"`
	Loads      []generator.LoadLine     `json:"loads"`
	Picks      []generator.PickLine     `json:"picks"`
	Cuts       []generator.CutLine      `json:"cuts"`
	Findings   []findingJSON            `json:"findings"`
}

func runOrder(cmd *cobra.Command, args []string) error {
	src, v, err := sources(cmd, args)
	if err != nil {
		return failed(err)
	}
	o := generator.Options{Sources: src, Version: Version, Progress: progress(cmd)}
	if time := v.GetDuration("for"); time > 0 {
		search, end := context.WithTimeout(cmd.Context(), time)
		defer end()
		o.Search = search
	}
	if variants := v.GetStringSlice("compare"); len(variants) > 0 {
		return compare(cmd, o, variants, v.GetBool("json"))
	}
	if v.GetBool("json") {
		return orderAsJSON(cmd, o)
	}
	results, report, err := generator.ComputeSaid(cmd.Context(), o)
	if err != nil {
		return faults(cmd, report.Findings, err)
	}
	order, texts := generator.OrderOf(results).Shown(), generator.Texts(src, results.Job)
	calendar, dated := generator.Calendar(results)
	tables := map[string][][]string{"order": order.OrderTable(), "deliveries": order.DeliveryTable(), "loads": order.LoadTable(), "picks": order.PickTable(), "cuts": order.CutTable(), "workings": order.WorkingTable()}
	for name, table := range tables {
		tables[name] = generator.ListIn(table, texts)
	}
	if dir := v.GetString("out"); dir != "" {
		return failed(writeLists(dir, order, tables, calendar, texts))
	}
	if v.GetString("list") == "calendar" {
		if !dated {
			return failed(fmt.Errorf("the job has no calendar: %s", results.CalendarGap()))
		}
		_, err := cmd.OutOrStdout().Write(calendar)
		return failed(err)
	}
	table, ok := tables[v.GetString("list")]
	if !ok {
		return fmt.Errorf("--list is order, deliveries, loads, picks, cuts, workings or calendar, not %q", v.GetString("list"))
	}
	if err := writeCSV(cmd.OutOrStdout(), table); err != nil {
		return failed(err)
	}
	if n := countLevel(report.Findings, diag.Open); n > 0 {
		fmt.Fprintf(cmd.ErrOrStderr(), "%s remain; list them with: lapwork check\n", plural(n, "open point"))
	}
	return nil
}

// orderAsJSON prints the lists for another program: in English, whatever the job's language.
func orderAsJSON(cmd *cobra.Command, o generator.Options) error {
	results, report, err := generator.Compute(cmd.Context(), o)
	if err != nil {
		return faults(cmd, report.Findings, err)
	}
	order := generator.OrderOf(results).Shown()
	return failed(writeJSON(cmd.OutOrStdout(), orderJSON{order.Lines, order.Deliveries, order.Loads, order.Picks, order.Cuts, findingsJSON(report.Findings)}))
}

// writeLists writes all lists into a folder that does not exist yet; a calendar where there is one.
func writeLists(dir string, order generator.Order, tables map[string][][]string, calendar []byte, texts *lang.Catalogue) error {
	if err := writeTables(dir, tables); err != nil {
		return err
	}
	if len(calendar) > 0 {
		if err := os.WriteFile(filepath.Join(dir, pack.CalendarFile), calendar, 0o644); err != nil {
			return err
		}
	}
	return writeBook(filepath.Join(dir, "order.xlsx"), order, texts)
}

// writeTables writes each list as a file into a folder that does not exist yet.
func writeTables(dir string, tables map[string][][]string) error {
	if err := os.Mkdir(dir, 0o755); err != nil {
		return fmt.Errorf("%w\n\thint: name a new folder with --out; nothing was written", err)
	}
	for name, table := range tables {
		file, err := os.Create(filepath.Join(dir, name+".csv"))
		if err != nil {
			return err
		}
		if err := writeCSV(file, table); err != nil {
			return err
		}
		if err := file.Close(); err != nil {
			return err
		}
	}
	return nil
}

func writeCSV(w io.Writer, table [][]string) error {
	out := csv.NewWriter(w)
	return out.WriteAll(table)
}
