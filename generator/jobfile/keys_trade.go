package jobfile

import (
	"strconv"

	"lapwork/generator/job"
)

// rawTradeTime is what another trade says its work takes.
type rawTradeTime struct {
	activity, by          at[string]
	rooms                 at[[]at[string]]
	time, low, high, wait at[int]
}

var tradeTimeValue = object("a trade time",
	field("activity", "activity of the programme that the trade does: insulate, plaster, services, lining", id(plainName), func(x *rawTradeTime) *at[string] { return &x.activity }).required(),
	field("for", "rooms it holds for; everywhere if left out", oneOrMore(id(roomName)), func(x *rawTradeTime) *at[[]at[string]] { return &x.rooms }),
	field("time", "working time on site, at each room, storey or zone the activity has", span, func(x *rawTradeTime) *at[int] { return &x.time }).required(),
	field("at-least", "its low figure", span, func(x *rawTradeTime) *at[int] { return &x.low }),
	field("at-most", "its high figure", span, func(x *rawTradeTime) *at[int] { return &x.high }),
	field("wait", "what must pass before the next work, day and night, as for plaster to dry", span, func(x *rawTradeTime) *at[int] { return &x.wait }),
	field("by", "who said so", text(120), func(x *rawTradeTime) *at[string] { return &x.by }).required(),
)

// span is a time that may be longer than a day.
var span = scalar("a time as 6 h or 90 min", schema{Type: "string", Pattern: duration.String()},
	func(_ *reader, text string) (int, string, string) {
		m := duration.FindStringSubmatch(text)
		if m == nil {
			return 0, "\"" + clip(text) + "\" is not a duration", "write it with its unit: 6 h, 90 min, 168 h for a week"
		}
		whole, err := strconv.Atoi(m[1])
		tenths := 0
		if err == nil && m[2] != "" {
			tenths, err = strconv.Atoi(m[2])
		}
		total := whole
		if m[3] == "h" {
			total = whole*60 + tenths*6
		}
		if err != nil || total < 1 || total > maxSpan || m[3] == "min" && tenths > 0 {
			return 0, "\"" + clip(text) + "\" is out of range", "from 1 min to 2000 h"
		}
		return total, "", ""
	})

// maxSpan is twelve weeks of days and nights, about.
const maxSpan = 2000 * 60

// tradeTimes takes what other trades say; which activities are theirs is known later.
func (s *resolver) tradeTimes() {
	for _, x := range s.raw.tradeTimes.v {
		out := job.TradeTime{Activity: x.v.activity.v, Rooms: s.roomList(x.v.rooms.v), Likely: x.v.time.v,
			Low: x.v.low.or(x.v.time.v), High: x.v.high.or(x.v.time.v), Wait: x.v.wait.v, By: x.v.by.v, Pos: x.pos}
		if x.v.time.v > 0 && (out.Low > out.Likely || out.Likely > out.High) {
			s.fault(x.v.time.pos, "put them in order: at-least, time, at-most", "the times of %s contradict each other", out.Activity)
		}
		s.job.TradeTimes = append(s.job.TradeTimes, out)
	}
}
