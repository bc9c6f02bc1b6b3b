package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"lapwork/generator"
	"lapwork/generator/assess"
	"lapwork/generator/diag"
)

func newMoisture() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "moisture [JOB]",
		Short: "Check each build-up for condensed water by the monthly method",
		Long: `Computes every build-up between heated rooms and outside or unheated air: temperatures and vapour pressures month
by month, condensed and drying water, the inside surface, the U-value, and what the answer is worth. Where the moisture
storage of every layer is known it also simulates the years hour by hour, through the weather file (.epw) that the job
names as its climate or through smoothed monthly means. A build-up that is
not proven keeps hanging locked until the job records who accepts it.

Exit 1 on wrong data; with --strict 3 while a build-up is neither proven nor accepted.`,
		Example: `  lapwork moisture jobs/mill-lane
  lapwork moisture jobs/mill-lane --json   every figure, for another program
  lapwork moisture                         the demo job`,
		Args: cobra.MaximumNArgs(1),
		RunE: runMoisture,
	}
	cmd.Flags().Bool("strict", false, "exit 3 while a build-up is neither proven nor accepted")
	cmd.Flags().Bool("json", false, "print the results as JSON")
	return cmd
}

func runMoisture(cmd *cobra.Command, args []string) error {
	src, v, err := sources(cmd, args)
	if err != nil {
		return failed(err)
	}
	report, err := generator.Moisture(cmd.Context(), generator.Options{Sources: src, Version: Version, Progress: progress(cmd)})
	if err != nil {
		return readingFaults(cmd, report.Findings, err)
	}
	if v.GetBool("json") {
		err = writeJSON(cmd.OutOrStdout(), moistureOf(report))
	} else {
		printFindings(cmd.ErrOrStderr(), report.Findings, diag.Fault)
		printMoisture(cmd.OutOrStdout(), report)
	}
	if err != nil {
		return failed(err)
	}
	if v.GetBool("strict") {
		for _, c := range report.Checks.Checks {
			if c.Open() {
				return exitError{code: exitOpen}
			}
		}
	}
	return nil
}

// printMoisture writes one paragraph a build-up: verdict, method and scope, then how to close it.
func printMoisture(w io.Writer, r generator.MoistureReport) {
	for i, c := range r.Checks.Checks {
		v := r.Verdicts[i]
		fmt.Fprintf(w, "%s: %s: %s\n\t%s: %s\n", c.BuildUp.ID, c.Outcome.Word(), v.Verdict, v.Method, v.Scope)
		if c.U > 0 {
			fmt.Fprintf(w, "\tU %.2g W/(m²·K)\n", float64(c.U))
		}
		if s := c.Reserve; s != nil && s.Dry > 0 {
			fmt.Fprintf(w, "\tdrying reserve of %.0f g/m²: months until dry: %d\n", 1000*float64(s.Water), s.Dry)
		}
		printRun(w, c)
		if c.Open() {
			fmt.Fprintf(w, "\thint: %s\n", c.WayOut())
		}
	}
	if len(r.Checks.Checks) == 0 {
		fmt.Fprintln(w, "no build-up stands between a heated room and outside or unheated air")
	}
}

// moistureJSON is the checks as --json prints them. Pressures are in Pa, water in kg/m².
type moistureJSON struct {
	Climate  string          `json:"climate,omitempty"`
	Hourly   bool            `json:"hourly_weather"`
	Class    int             `json:"humidity_class,omitempty"`
	Assumed  bool            `json:"indoor_assumed"`
	BuildUps []moistureCheck `json:"build_ups"`
	Findings []findingJSON   `json:"findings"`
}

type moistureCheck struct {
	ID       string           `json:"id"`
	Outcome  string           `json:"outcome"`
	Verdict  string           `json:"verdict"`
	Method   string           `json:"method"`
	Scope    string           `json:"scope"`
	Open     bool             `json:"open"`
	Accepted string           `json:"accepted_by,omitempty"`
	U        float64          `json:"u_w_m2k,omitempty"`
	Factor   float64          `json:"frsi,omitempty"`
	Required float64          `json:"frsi_required,omitempty"`
	Limit    float64          `json:"water_limit_kg_m2,omitempty"`
	Reserve  *reserveJSON     `json:"drying_reserve,omitempty"`
	Reasons  []moistureReason `json:"reasons"`
	Run      *simulationJSON  `json:"simulation,omitempty"`
	Storage  []string         `json:"no_storage_data_for,omitempty"`
	Cases    []moistureCase   `json:"cases"`
}

type reserveJSON struct {
	Water  float64 `json:"water_kg_m2"`
	Months int     `json:"dry_after_months"`
}

type moistureReason struct {
	Text       string `json:"text"`
	Source     string `json:"source"`
	Status     string `json:"status"`
	Unanswered bool   `json:"unanswered"`
}

type moistureCase struct {
	Name     string          `json:"name"`
	Decides  bool            `json:"decides"`
	Verdict  string          `json:"verdict"`
	Peak     float64         `json:"peak_kg_m2"`
	DryAfter int             `json:"dry_after_months"`
	Planes   []string        `json:"planes"`
	Months   []moistureMonth `json:"months"`
}

type moistureMonth struct {
	Year        int       `json:"year"`
	Month       int       `json:"month"`
	Te          float64   `json:"te_c"`
	Pe          float64   `json:"pe_pa"`
	Ti          float64   `json:"ti_c"`
	Pi          float64   `json:"pi_pa"`
	Temperature []float64 `json:"temperature_c"`
	Saturation  []float64 `json:"saturation_pa"`
	Pressure    []float64 `json:"pressure_pa"`
	Change      []float64 `json:"change_kg_m2"`
	Stock       []float64 `json:"stock_kg_m2"`
}

func moistureOf(r generator.MoistureReport) moistureJSON {
	out := moistureJSON{Class: int(r.Checks.Indoor.Class), Assumed: r.Checks.Indoor.Assumed, BuildUps: []moistureCheck{}, Findings: findingsJSON(r.Findings)}
	if r.Checks.Known {
		out.Climate, out.Hourly = r.Checks.Climate.ID, r.Checks.Hours != nil
	}
	for i, c := range r.Checks.Checks {
		v := r.Verdicts[i]
		b := moistureCheck{ID: string(c.BuildUp.ID), Outcome: c.Outcome.Word(), Verdict: v.Verdict, Method: v.Method, Scope: v.Scope, Open: c.Open(),
			U: float64(c.U), Factor: float64(c.Factor), Required: float64(c.Surface.Required), Limit: float64(c.Limit.Most), Reasons: []moistureReason{}, Cases: []moistureCase{}}
		if c.Accepted != nil {
			b.Accepted = c.Accepted.By
		}
		if s := c.Reserve; s != nil {
			b.Reserve = &reserveJSON{float64(s.Water), s.Dry}
		}
		b.Run, b.Storage = simulationOf(c.Run), c.Storage
		for _, x := range c.Reasons {
			b.Reasons = append(b.Reasons, moistureReason{x.Text, x.Source.Text, x.Source.Status.String(), x.Unanswered})
		}
		for n, k := range c.Cases {
			b.Cases = append(b.Cases, caseOf(k, n == c.Shown))
		}
		out.BuildUps = append(out.BuildUps, b)
	}
	return out
}

func caseOf(k assess.Case, decides bool) moistureCase {
	out := moistureCase{Name: k.Name, Decides: decides, Verdict: k.Result.Verdict.String(), Peak: float64(k.Result.Peak.Total), DryAfter: k.Result.DryAfter, Planes: k.Result.Names}
	for _, m := range k.Result.Months {
		b := m.Boundary
		out.Months = append(out.Months, moistureMonth{Year: m.Year, Month: b.Month, Te: float64(b.Te), Pe: float64(b.Pe), Ti: float64(b.Ti), Pi: float64(b.Pi),
			Temperature: bare(m.Temperature), Saturation: bare(m.Saturation), Pressure: bare(m.Pressure), Change: bare(m.Change), Stock: bare(m.Stock)})
	}
	return out
}

// bare takes the unit off a list of quantities.
func bare[T ~float64](list []T) []float64 {
	out := make([]float64, len(list))
	for i, x := range list {
		out[i] = float64(x)
	}
	return out
}
