package pack

import (
	"cmp"
	"slices"
	"strings"

	"lapwork/generator/job"
	"lapwork/generator/record"
)

// Tool is an instrument that may be named beside a reading.
type Tool struct{ ID, Name, Due string }

// InstrumentRow is one instrument with the readings taken past its date.
type InstrumentRow struct {
	Name, Kind, Serial, Calibrated, Due string
	ID                                  string
	Late                                []string
}

// toolKinds are the kinds of instrument that a check's number is read with. Common practice, no source.
var toolKinds = map[string][]string{
	"QA-02": {"thermometer"}, "QA-06": {"moisture-meter"}, "QA-07": {"thermometer", "hygrometer"}, "QA-32": {"fan", "gauge"},
	"QA-33": {"anemometer"}, "QA-39": {"hygrometer", "thermometer"}, "QA-40": {"fan", "gauge"},
}

// tools are the job's instruments of some kinds.
func (a *assembler) toolsOf(kinds ...string) []Tool {
	var out []Tool
	for _, i := range a.Job.Instruments {
		if slices.Contains(kinds, i.Kind) {
			out = append(out, Tool{i.ID, strings.TrimSpace(i.ID + " " + i.Name), i.Due})
		}
	}
	return out
}

// pastDate says that the instrument of a record was past its calibration date when the record was made; empty: it was not.
func (a *assembler) pastDate(r record.Record) string {
	if r.Tool == "" {
		return ""
	}
	for _, i := range a.Job.Instruments {
		if i.ID == r.Tool {
			if i.Due != "" && day(r.At) > i.Due {
				return a.say("instrument %s was past its calibration date %s", i.ID, i.Due)
			}
			return ""
		}
	}
	return a.say("instrument %s is not in the job's list", r.Tool)
}

// instrumentRow is an instrument with the readings taken past its date.
func (a *assembler) instrumentRow(i job.Instrument) InstrumentRow {
	row := InstrumentRow{ID: i.ID, Name: i.Name, Kind: strings.ReplaceAll(i.Kind, "-", " "), Serial: i.Serial, Calibrated: i.Calibrated, Due: i.Due}
	for _, r := range a.site().tooled {
		if r.Tool == i.ID && a.pastDate(r) != "" {
			row.Late = append(row.Late, a.say("%s on %s by %s", cmp.Or(r.Check, "readings before the start"), day(r.At), r.Who))
		}
	}
	return row
}
