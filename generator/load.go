package generator

import (
	"cmp"
	"errors"
	"io/fs"
	"path"
	"slices"

	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/jobfile"
	"lapwork/generator/library"
)

// load reads the library of all layers, then the job against its tables, and how the firm wants its packs to look.
func load(src Sources, found *diag.List) (*library.Library, *job.Job, job.Look) {
	lib := library.LoadLayers(Layers(src, found), found)
	known := knownTo(lib)
	j := jobfile.ReadFolder(src.Job, src.JobName, known, found)
	if j == nil {
		return lib, nil, job.Look{}
	}
	var look job.Look
	if src.Firm != nil {
		if sheet := jobfile.ReadFirm(src.Firm, src.firmName(), src.firmKnown(known), found); sheet != nil {
			applyFirm(j, lib, sheet)
			look = sheet.Look
		}
	}
	if first, other, two := j.TwoCurrencies(); two {
		found.Faultf(other.Pos, "state every price in one currency", "a price in %s; the job counts in %s", other.Price.Currency, first.Price.Currency)
	}
	return lib, j, look
}

// Layers gives the layers of a run's library in their order. A pinned library that is not what was pinned is a fault, and
// left out.
func Layers(src Sources, found *diag.List) []library.Layer {
	jobLib := src.Job
	if src.FirmInJob {
		jobLib = nil
	}
	layers := library.Layers(src.Content, pinned(src, found), src.Firm, jobLib)
	for i := range layers {
		switch layers[i].Name {
		case "firm":
			layers[i].Dir = src.firmName()
		case "job":
			layers[i].Dir = src.JobName
		}
	}
	return layers
}

// firmName is what findings call the firm's folder.
func (s Sources) firmName() string { return cmp.Or(s.FirmName, "firm") }

// firmKnown are the names that firm.yaml may use: those of a job, and the flags of the command line.
func (s Sources) firmKnown(known jobfile.Known) jobfile.Known {
	known.Commands = s.Flags
	return known
}

func pinned(src Sources, found *diag.List) []library.Layer {
	if src.Firm == nil {
		return nil
	}
	var out []library.Layer
	for _, pin := range jobfile.Libraries(src.Firm, src.firmName()) {
		var own diag.List
		b, err := library.OpenBundle(src.Firm, pin.From, &own)
		for _, f := range own.Sorted() {
			f.Pos.File = path.Join(src.firmName(), f.Pos.File)
			found.Add(f)
		}
		switch {
		case errors.Is(err, fs.ErrNotExist):
			found.Faultf(pin.Pos, "put it there, or correct the name", "there is no %s in the firm's folder", pin.From)
		case err != nil:
			found.Faultf(pin.Pos, "name a folder or .zip inside the firm's folder", "library: %v", err)
		case b.Hash != pin.Hash:
			found.Faultf(pin.Pos, "see what changed in it, then pin "+b.Hash, "the library %s is not the one that was pinned", pin.From)
		default:
			out = append(out, b.Layer(path.Join(src.firmName(), pin.From)))
		}
	}
	return out
}

// applyFirm fills in from the firm's sheet what the job leaves open.
func applyFirm(j *job.Job, lib *library.Library, sheet *job.FirmSheet) {
	j.Firm = j.Firm.Over(sheet.Firm)
	j.Settings = append(slices.Clone(sheet.Settings), j.Settings...)
	if len(j.Stock) == 0 {
		j.Stock = sheet.Stock
	}
	priceStock(j, sheet.Stock)
	for class, chosen := range sheet.Choices {
		if _, ok := j.Components[class]; !ok {
			if j.Components == nil {
				j.Components = map[string]job.ComponentID{}
			}
			j.Components[class] = chosen
		}
	}
	rates := sheet.Rates
	for _, own := range sheet.Components {
		if c := lib.Components.Find(string(own.Component)); c != nil {
			applyOwn(c, own)
		}
		if _, stated := rates.Pack(own.Component); own.Price != nil && !stated {
			rates.Packs = append(rates.Packs, job.PackPrice{Component: own.Component, Price: *own.Price, Pos: own.Pos})
		}
	}
	j.Rates = j.Rates.Over(rates)
}

// priceStock gives the job's own list of rolls the prices and article numbers that the firm knows for the same rolls.
func priceStock(j *job.Job, firm []job.StockRoll) {
	for i := range j.Stock {
		s := &j.Stock[i]
		for _, f := range firm {
			if s.Leftover != "" || f.Leftover != "" || f.Component != s.Component || f.Width != s.Width || f.Length != s.Length {
				continue
			}
			if s.Price == nil {
				s.Price = f.Price
			}
			if s.Article == "" {
				s.Article = f.Article
			}
		}
	}
}

// applyOwn puts the firm's own article in place of the table's usual one.
func applyOwn(c *library.Component, own job.OwnComponent) {
	if own.Name != "" {
		c.Name, c.OwnName = own.Name, true
	}
	switch {
	case own.Pack > 0:
		c.Pack.Likely = own.Pack
	case own.Length > 0 && c.Unit == "m":
		c.Pack.Likely = float64(own.Length.Metres())
	}
	c.Article = own.Article
}

// knownTo gives the names a job may use.
func knownTo(lib *library.Library) jobfile.Known {
	k := jobfile.Known{Substrates: jobfile.SetOf(lib.Substrates.IDs()...), Components: jobfile.SetOf(lib.Components.IDs()...),
		Limits: jobfile.SetOf(lib.Air.LimitIDs()...), Documents: jobfile.SetOf(lib.Documents.IDs()...),
		Flags: map[string][]string{}, Settings: map[string]jobfile.Range{}}
	k.Materials, k.Climates, k.MaterialNames = jobfile.Set{}, jobfile.Set{}, map[string]string{}
	for _, m := range lib.Moisture.Materials {
		k.Materials[m.ID], k.MaterialNames[m.ID] = true, m.Name
	}
	for _, c := range lib.Moisture.Climates {
		k.Climates[c.ID] = true
	}
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
