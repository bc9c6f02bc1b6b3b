package material

import (
	"math"
	"strconv"
	"strings"
)

const numberHint = "write digits with a decimal point, no unit; leave it empty if nobody knows"

// value reads a figure that may be missing; "infinite" where the column allows it.
func (r *row) value(column, named string, low, high float64, infinite bool) Value {
	text := r.cells[column].text
	if text == "" {
		return Value{}
	}
	if infinite && text == "infinite" {
		return Value{X: math.Inf(1), Known: true, Status: r.statusOf(named)}
	}
	x, ok := number(text, low, high)
	if !ok {
		r.fault(column, numberHint, "not a number from "+show(low)+" to "+show(high))
		return Value{}
	}
	return Value{X: x, Known: true, Status: r.statusOf(named)}
}

// span reads a figure or a range "10-200".
func (r *row) span(column string, low, high float64) Range {
	text := r.cells[column].text
	if text == "" {
		return Range{}
	}
	first, second, two := strings.Cut(text, "-")
	if !two {
		second = first
	}
	a, okA := number(first, low, high)
	b, okB := number(second, low, high)
	if !okA || !okB || a > b {
		r.fault(column, numberHint+"; a range as 10-200", "not a number or range from "+show(low)+" to "+show(high))
		return Range{}
	}
	return Range{Low: a, High: b, Known: true, Status: r.statusOf(column)}
}

func number(text string, low, high float64) (float64, bool) {
	x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	return x, err == nil && x >= low && x <= high
}

func show(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
