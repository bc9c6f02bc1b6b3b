package job

import (
	"lapwork/generator/diag"
	q "lapwork/generator/quantity"
)

// FirmSheet is what a firm keeps for all of its jobs, from firm.yaml.
type FirmSheet struct {
	Firm
	Rates      Rates
	Components []OwnComponent
	Choices    map[string]ComponentID // class the firm usually takes for a placeholder; a job's own choice wins
	Settings   []Setting              // for every job; a job's own wins
	Stock      []StockRoll            // what the firm can always buy; a job's own list wins
	Look       Look
	Libraries  []LibraryPin // further detail libraries, in the order of their layers
	Commands   []Command    // what flags of the program are when the command line does not say
}

// Command is a flag of the command line as the firm has it.
type Command struct {
	Flag, Value string
	Pos         diag.Pos `hash:"ignore"`
}

// LibraryPin is a detail library of others that the firm uses, held to the content it has looked at.
type LibraryPin struct {
	From string   // folder or .zip inside the firm's folder
	Hash string   // sha256- and 64 hex digits
	Pos  diag.Pos `hash:"ignore"`
}

// OwnComponent is an article of the firm's merchant that stands for a row of the component table.
type OwnComponent struct {
	Component ComponentID
	Name      string
	Article   string
	Pack      float64 // content of a pack in the component's unit; 0: the table's
	Width     q.MM    // of rolls and tapes; 0: the table's
	Length    q.MM
	Price     *Price   // of a pack
	Pos       diag.Pos `hash:"ignore"`
}

// Look is the firm's appearance on the pack.
type Look struct {
	Theme   string   // folder of theme files in the firm's folder; empty: theme, where there is one
	Accent  string   // colour of what can be touched, as #rrggbb
	Logo    string   // SVG or PNG file in the firm's folder
	Footer  string   // line at the foot of every page, on paper too
	Lines   []string // of the contact block, under name, address and contact
	Colours []Colour
	Pos     diag.Pos `hash:"ignore"`

	ThemePos, AccentPos, LogoPos diag.Pos `hash:"ignore"`
}

// Colour is one colour of one scheme that a firm sets itself.
type Colour struct {
	Scheme string   // usual, dark, sun
	Name   string   // of the style sheet's variable, without its hyphens
	Value  string   // #rrggbb
	Pos    diag.Pos `hash:"ignore"`
}

// Over gives the firm as a job states it, with what the job leaves out from the firm's own sheet.
func (f Firm) Over(sheet Firm) Firm {
	out := sheet
	if f.Name != "" {
		out.Name = f.Name
	}
	if f.Contact != "" {
		out.Contact = f.Contact
	}
	if f.Address != "" {
		out.Address = f.Address
	}
	if f.Crew != 0 {
		out.Crew = f.Crew
	}
	if f.Pos != (diag.Pos{}) {
		out.Pos = f.Pos
	}
	return out
}
