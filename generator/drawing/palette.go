package drawing

import "slices"

// Palette gives every ink its colour, as #RRGGBB.
type Palette [inkCount]string

// The schemes. A style sheet brings them, see svg.Colours.
var (
	light = Palette{Black: "#14201D", Quiet: "#43524E", Rule: "#B9C2BD", Ground: "#FBFAF6", Shade: "#EEF1EB", SheetInk: "#3B2F7F",
		TapeInk: "#A63D00", Accent: "#0B4F6C", DoneInk: "#1E5631", StopInk: "#8A1C1C", Warn: "#7A4B00"}
	sun = Palette{Black: "#000000", Quiet: "#000000", Rule: "#000000", Ground: "#FFFFFF", Shade: "#FFFFFF", SheetInk: "#000000",
		TapeInk: "#000000", Accent: "#000000", DoneInk: "#000000", StopInk: "#000000", Warn: "#000000"}
	dark = Palette{Black: "#F1F4EF", Quiet: "#B9C6C0", Rule: "#4B5955", Ground: "#101816", Shade: "#1D2825", SheetInk: "#B7ADF5",
		TapeInk: "#FFA268", Accent: "#86CBE8", DoneInk: "#8FD6A4", StopInk: "#FFA3A0", Warn: "#F2C063"}
)

// Light is the scheme of the drawings as written: dark ink on warm paper.
func Light() Palette { return light }

// Sun is black on white without tints, for screens in full sun and for paper.
func Sun() Palette { return sun }

// Dark is light ink on a dark ground, at the same ratios.
func Dark() Palette { return dark }

// Inks lists every ink that has a colour.
func Inks() []Ink {
	var all []Ink
	for i := Black; i < inkCount; i++ {
		all = append(all, i)
	}
	return all
}

// ChartInks are drawn in charts and as the frames of sections only, which stand on pages that are read in the office.
func ChartInks() []Ink { return []Ink{Rule, DoneInk, StopInk, Warn} }

// PlanInks are all others: plans, surfaces, strips and junctions are drawn in them, and charts too.
func PlanInks() []Ink {
	return slices.DeleteFunc(Inks(), func(i Ink) bool { return slices.Contains(ChartInks(), i) })
}
