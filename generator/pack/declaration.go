package pack

import (
	"lapwork/generator/assess"
	"lapwork/generator/diag"
	"lapwork/generator/job"
)

const declarationPath = "declaration.html"

// Declaration is the test result and the declaration of the firm, ready to sign.
type Declaration struct {
	Facts    []Figure // target, sizes
	Tests    []FanTest
	Untested string   // why there is no final result; empty: there is one
	States   []string // what the firm declares
	Open     []string // what it does not: stated openly
	Signers  []Term   // role and name, to sign by pen
	Checks   []Check  // the signatures that the plan asks for at the end
}

// declaration puts the tests' results and what the firm answers for on one page. It calls itself a result sheet, since only
// the tester's signed report is one.
func (a *assembler) declaration() Page {
	v := &Declaration{Facts: append(a.testFigures(), a.jobFacts()...)}
	for _, t := range a.Air.Tests {
		v.Tests = append(v.Tests, TestSheet(t, a.format, a.build.Lang))
	}
	if !a.tested(job.FinalTest) {
		v.Untested = a.say("No final test is kept with the job: this page is not yet a result.")
	}
	v.States = []string{
		a.say("The air and vapour control layer of %s was fitted by the details and quantities of revision %s of this pack.", a.Job.Name, a.head().Revision),
		a.say("What was fitted otherwise is listed in the handover: strips as measured, spots settled on site, answers that stand by name and reason."),
		a.say("What was recorded, by whom and when, stands in the handover; the records are kept with the job."),
	}
	v.Open = a.undeclared()
	for _, role := range []string{"site-lead", "tester", "designer", "client"} {
		v.Signers = append(v.Signers, Term{upperFirst(a.roles([]string{role})), a.personIn(role)})
	}
	v.Checks = a.checksWhere(func(c assess.Check) bool { return c.Hold != nil && (c.Hold.ID == "H7" || c.Hold.ID == "H8") })
	return Page{Path: declarationPath, Kind: KindDeclared, Title: a.say("Test result and declaration"), Where: a.say("Declaration"), Declared: v}
}

// personIn is who has a role in the job; empty: nobody named.
func (a *assembler) personIn(role string) string {
	if role == "client" {
		return a.Job.Client.Name
	}
	for _, p := range a.Job.People {
		if p.Role == role {
			return p.Name
		}
	}
	return ""
}

// undeclared is what stands in the way, in numbers, so that nobody signs past it.
func (a *assembler) undeclared() []string {
	t := a.tallyRecords()
	people := len(a.notes(diag.Open, nil))
	var out []string
	for _, x := range []struct {
		n    int
		text string
	}{
		{t.as[checkOpen], a.say("%d checks are not answered.", t.as[checkOpen])},
		{t.as[checkInPart], a.say("%d checks are answered in part.", t.as[checkInPart])},
		{t.superseded, a.say("%d answers were given to words that changed since.", t.superseded)},
		{t.foreign, a.say("%d answers are in a language that the pack does not have: name it under also-in.", t.foreign)},
		{t.standing, a.say("%d answers to other words stand because somebody says so, by name and reason.", t.standing)},
		{t.as[checkRefused], a.say("%d answers are no or out of range.", t.as[checkRefused])},
		{t.differing, a.say("%d answers differ between tablets: the newest counts, the others stand beside it.", t.differing)},
		{t.defects, a.say("%d defects are open.", t.defects)},
		{t.late, a.say("%d readings were taken with an instrument past its calibration date or not listed.", t.late)},
		{people, a.say("%d points of the job need a person.", people)},
	} {
		if x.n > 0 {
			out = append(out, x.text)
		}
	}
	return out
}
