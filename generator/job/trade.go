package job

import "lapwork/generator/diag"

// TradeTime is what another trade says its work takes: the program has no figure for it. Times are minutes of work on
// site at each place of the activity, by that trade's own people; the wait runs day and night.
type TradeTime struct {
	Activity          string   // id of an activity of which another trade does at least a part
	Rooms             []RoomID // empty: everywhere
	Low, Likely, High int
	Wait              int // minutes before the next activity may begin, as drying plaster asks
	By                string
	Pos               diag.Pos `hash:"ignore"`
}
