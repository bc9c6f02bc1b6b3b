package jobfile

import "lapwork/generator/job"

// work is one fact about a room's work, by the word a file says it with.
type work struct {
	name string
	slot func(*job.Works) *bool
}

var works = []work{
	{"disturbs-old-material", func(w *job.Works) *bool { return &w.DisturbsOldMaterial }},
	{"abrades-old-paint", func(w *job.Works) *bool { return &w.AbradesOldPaint }},
	{"stair-or-void", func(w *job.Works) *bool { return &w.StairOrVoid }},
	{"hot-work", func(w *job.Works) *bool { return &w.HotWork }},
	{"nests", func(w *job.Works) *bool { return &w.Nests }},
	{"mould", func(w *job.Works) *bool { return &w.Mould }},
	{"low-space", func(w *job.Works) *bool { return &w.LowSpace }},
	{"pressure-pipes", func(w *job.Works) *bool { return &w.PressurePipes }},
	{"hot-room", func(w *job.Works) *bool { return &w.HotRoom }},
	{"solvent-primer", func(w *job.Works) *bool { return &w.SolventPrimer }},
	{"insulation-fibre", func(w *job.Works) *bool { return &w.InsulationFibre }},
	{"damp-signs", func(w *job.Works) *bool { return &w.DampSigns }},
	{"exposed-hazard", func(w *job.Works) *bool { return &w.ExposedHazard }},
}

func workNames() []string {
	out := make([]string, len(works))
	for i, w := range works {
		out[i] = w.name
	}
	return out
}

func worksOf(words []at[string]) (out job.Works) {
	for _, word := range words {
		for _, w := range works {
			if w.name == word.v {
				*w.slot(&out) = true
			}
		}
	}
	return out
}
