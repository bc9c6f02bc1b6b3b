package pack

import (
	"math"
	"strconv"

	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/record"
)

// typedResults are the checks under which a fan test's result is typed on a tablet, by the kind of test.
var typedResults = map[string]job.TestKind{"QA-32": job.InterimTest, "QA-40": job.FinalTest}

// sameResult is how far a typed result may lie from that of the readings: half of the last of two decimals, since that is how
// it is read off, and a hundredth of it for another rounding on the way (own choice).
func sameResult(typed, analysed float64) bool {
	return math.Abs(typed-analysed) <= 0.005+0.01*math.Abs(analysed)
}

// typedOtherwise tells where a result typed on site and the readings kept with the job say different things. Readings are of the
// whole dwelling, so a job of several test zones is not compared.
func (a *assembler) typedOtherwise() []Note {
	if len(a.Zones()) != 1 {
		return nil
	}
	var out []Note
	for _, c := range a.Results.ChecksIn(assess.ZoneScope(a.Zones()[0])) {
		if c.QA == nil || typedResults[c.QA.ID] == "" {
			continue
		}
		analysed, ok := a.analysed(typedResults[c.QA.ID])
		for _, s := range a.standing[c.Key] {
			typed, err := strconv.ParseFloat(s.Record.Value, 64)
			if !ok || s.Record.Kind != record.Reading || err != nil || sameResult(typed, analysed) {
				continue
			}
			out = append(out, Note{Level: diag.Open.String(), Item: c.QA.ID, Text: a.say("%s was typed as %s by %s; the readings kept with the job give %s. One of the two is wrong, or they are of different tests.",
				c.QA.Title, a.format.Number(typed, 2), s.Record.Who, a.format.Number(analysed, 2))})
		}
	}
	return out
}

// analysed is the last result of a kind of test in the figure of the job's target.
func (a *assembler) analysed(kind job.TestKind) (value float64, ok bool) {
	for _, t := range a.Air.Tests {
		if t.Stated.Kind == kind && len(t.Outcomes) > 0 {
			value, ok = float64(t.Outcomes[0].Measured.Value), true
		}
	}
	return value, ok
}
