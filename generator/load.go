package generator

import (
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/jobfile"
	"lapwork/generator/library"
)

// load reads the library of all layers, then the job against its tables.
func load(src Sources, found *diag.List) (*library.Library, *job.Job) {
	lib := library.Load(src.Content, src.Firm, src.Job, found)
	known := knownTo(lib)
	j := jobfile.Read(src.Job, src.JobName, known, found)
	if j == nil {
		return lib, nil
	}
	if src.Firm != nil {
		if sheet := jobfile.ReadFirm(src.Firm, "firm", known, found); sheet != nil {
			j.Firm = sheet.Firm
		}
	}
	return lib, j
}

// knownTo gives the names a job may use.
func knownTo(lib *library.Library) jobfile.Known {
	k := jobfile.Known{Substrates: jobfile.SetOf(lib.Substrates.IDs()...), Components: jobfile.SetOf(lib.Components.IDs()...),
		Flags: map[string][]string{}, Settings: map[string]jobfile.Range{}}
	for _, f := range lib.Flags.All() {
		k.Flags[string(f.ID)] = f.Values
	}
	for _, v := range lib.Variables.All() {
		if v.Scope == library.SettingScope {
			k.Settings[v.Name] = jobfile.Range{Unit: v.Unit, Low: v.Low, High: v.High}
		}
	}
	return k
}
