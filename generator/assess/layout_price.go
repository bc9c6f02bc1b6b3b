package assess

import (
	"math"
	"strings"
	"sync"

	"lapwork/generator/calc/strips"
	"lapwork/generator/diag"
	"lapwork/generator/job"
	"lapwork/generator/junction"
	q "lapwork/generator/quantity"
	"lapwork/generator/surface"
)

// pricing knows what sheet, seams and pieces cost, as far as the job states prices. nil: it states none. It may be asked
// side by side.
type pricing struct {
	c     Context
	m     *surface.Model
	sheet map[q.MM]float64 // a millimetre of each width
	seams sync.Map         // float64 by seamKey
}

type seamKey struct {
	s       *surface.Surface
	upright bool
}

// sheetRates are prices in hundredths of the currency's unit.
type sheetRates struct {
	sheet float64 // a millimetre of strip
	tape  float64 // a millimetre of seam with its labour
	piece float64 // measuring, cutting and carrying one
}

// pricing collects the prices of the sheet. Without an hour's rate or a price for every width it gives nil: then the rules
// of the trade decide, and money is not spoken of.
func (c Context) pricing(m *surface.Model) *pricing {
	p := &pricing{c: c, m: m, sheet: map[q.MM]float64{}}
	for _, r := range c.Job.Stock {
		if !c.isSheet(r.Component) || r.Leftover != "" {
			continue
		}
		if r.Price == nil {
			return nil
		}
		each := float64(r.Price.Amount) / float64(r.Length)
		if known, ok := p.sheet[r.Width]; !ok || each < known {
			p.sheet[r.Width] = each
		}
	}
	if len(p.sheet) == 0 || c.Job.Rates.Hour == nil {
		return nil
	}
	return p
}

// of gives the rates of a surface for a width and direction; ok is false where a price is missing.
func (p *pricing) of(s *surface.Surface, width q.MM, d strips.Direction) (r sheetRates, ok bool) {
	if p == nil {
		return r, false
	}
	sheet, known := p.sheet[width]
	tape := p.seam(s, d)
	if !known || tape < 0 {
		return r, false
	}
	minutes, _ := p.c.Library.Setting("piece_min", p.c.Job.Settings, s.Room.ID, s.ID)
	return sheetRates{sheet, tape, minutes * p.minute() * p.c.retrofitFactor() * p.c.pace()}, true
}

// minute is the price of one fitter's minute.
func (p *pricing) minute() float64 { return float64(p.c.Job.Rates.Hour.Amount) / 60 }

// seam is the price of a millimetre of seam: what the statement that answers such a lap takes in tape and minutes. A lap
// of eleven metres less one of one metre leaves out what its ends take. Negative: no price of that tape.
func (p *pricing) seam(s *surface.Surface, d strips.Direction) float64 {
	key := seamKey{s, d == strips.Upright}
	if known, ok := p.seams.Load(key); ok {
		return known.(float64)
	}
	short, okShort := p.lap(s, d, 1000)
	long, okLong := p.lap(s, d, 11_000)
	each := -1.0
	if okShort && okLong {
		each = max(0, long-short) / 10_000
	}
	p.seams.Store(key, each)
	return each
}

// lap is the price of tape and labour of one lap of a surface.
func (p *pricing) lap(s *surface.Surface, d strips.Direction, length q.MM) (float64, bool) {
	lines, level := junction.FramingLines(s)
	seam := junction.Seam{Strip: 1, Length: length, Upright: d == strips.Upright,
		Supported: len(lines) == 0 || level == (d == strips.Level)}
	records := junction.Seams(p.m, []junction.SurfaceSeams{{Surface: s, Laps: []junction.Seam{seam}}})
	var quiet diag.List // the real seams report what is wrong
	sum := 0.0
	for _, place := range p.c.Select(records, &quiet) {
		one, ok := p.worth(place)
		if !ok {
			return 0, false
		}
		sum += one
	}
	return sum, true
}

// worth is the price of tape and labour of one place; ok is false where the price of a tape is missing.
func (p *pricing) worth(place *Place) (sum float64, ok bool) {
	if !place.Answered() {
		return 0, false
	}
	sum = float64(place.Minutes.Likely) * p.minute()
	for _, line := range place.Lines {
		component := p.c.Library.Components.Find(line.Component)
		price, ok := p.c.Job.Rates.Pack(job.ComponentID(line.Component))
		if ok && component != nil && component.Pack.Likely > 0 {
			sum += line.Amount / component.Pack.Likely * float64(price.Amount)
		} else if strings.HasPrefix(line.Component, "tape-") {
			return 0, false
		}
	}
	return sum, true
}

// micro is how many units of strips.Rates make a hundredth of the currency's unit.
const micro = 1_000_000

// strips gives the rates to the search, within what it accepts.
func (r sheetRates) strips() strips.Rates {
	unit := func(x float64, most int64) int64 { return min(int64(math.Round(x*micro)), most) }
	return strips.Rates{SheetPerMM: unit(r.sheet, strips.MaxRate), PerPiece: unit(r.piece, strips.MaxPieceRate), TapePerMM: unit(r.tape, strips.MaxRate)}
}

// stopGap is the full-height gap from which on stopping a strip costs less than running through: stopping saves the gap
// less two end allowances of sheet and takes a piece more.
func (r sheetRates) stopGap(allowance q.MM) q.MM {
	if r.sheet <= 0 {
		return stopGap
	}
	return min(strips.MaxExtent, 2*allowance+1+q.MM(min(r.piece/r.sheet, float64(strips.MaxExtent))))
}

// cost prices a layout.
func (r sheetRates) cost(l strips.Layout) LayCost {
	return LayCost{Known: true, Sheet: int64(math.Round(r.sheet * float64(l.Length))), Cuts: int64(math.Round(r.piece * float64(l.Pieces))),
		Seams: int64(math.Round(r.tape * float64(l.Tape()) * 1000))}
}
