package programme

import q "lapwork/generator/quantity"

// Working reports whether a day has work; days before 1 have none.
func (c Calendar) Working(day int) bool {
	return day >= 1 && c.Works[(c.FirstDay+day-1)%7] && !c.Closed[day]
}

// next gives the first instant at or after t at which work can start.
func (c Calendar) next(t Instant) Instant {
	day, minute := max(t, 0).Day()
	for ; ; day, minute = day+1, 0 {
		if !c.Working(day) || minute >= c.DayStart+c.DayMinutes {
			continue
		}
		return at(day, max(minute, c.DayStart))
	}
}

// open gives the first instant at or after t at which something without work can be done: t itself in working time, the
// end of the day included, else the next start of work.
func (c Calendar) open(t Instant) Instant {
	day, minute := t.Day()
	if c.Working(day) && c.DayStart <= minute && minute <= c.DayStart+c.DayMinutes {
		return t
	}
	return c.next(t)
}

// ready gives when an activity can start once it may.
func (c Calendar) ready(t Instant, a Activity) Instant {
	w := work(a)
	if w == 0 {
		return c.open(t)
	}
	t = c.next(t)
	if day, minute := t.Day(); a.Whole && w <= c.DayMinutes && minute+w > c.DayStart+c.DayMinutes {
		return c.next(at(day+1, 0))
	}
	return t
}

// latest gives the latest instant from which an activity can be done by t.
func (c Calendar) latest(t Instant, a Activity) Instant {
	w := work(a)
	start := c.sub(t, w)
	if day, minute := start.Day(); w > 0 && a.Whole && w <= c.DayMinutes && minute+w > c.DayStart+c.DayMinutes {
		return at(day, c.DayStart+c.DayMinutes-w)
	}
	return start
}

func at(day, minute int) Instant { return Instant((day-1)*minutesPerDay + minute) }

// add gives the instant after this much work from t. No work ends where it starts, also at night.
func (c Calendar) add(t Instant, work int) Instant {
	if work == 0 {
		return t
	}
	t = c.next(t)
	for {
		day, minute := t.Day()
		left := c.DayStart + c.DayMinutes - minute
		if work <= left {
			return t + Instant(work)
		}
		work -= left
		t = c.next(at(day+1, 0))
	}
}

// sub gives the latest instant from which this much work is done by t.
func (c Calendar) sub(t Instant, work int) Instant {
	if work == 0 {
		return t
	}
	for day, minute := t.Day(); day >= 1; day, minute = day-1, minutesPerDay {
		if !c.Working(day) {
			continue
		}
		done := min(minute, c.DayStart+c.DayMinutes) - c.DayStart
		if done <= 0 {
			continue
		}
		if work <= done {
			return at(day, c.DayStart+done-work)
		}
		work -= done
	}
	return Instant(-work) // before the first day: only where the late pass has no room, which check excludes
}

// Days counts the working days before an instant, with the part of its own day that is over: the place of an instant on
// an axis of working days.
func (c Calendar) Days(t Instant) float64 {
	day, minute := t.Day()
	n := 0.0
	for d := 1; d < day; d++ {
		if c.Working(d) {
			n++
		}
	}
	if c.Working(day) {
		n += float64(min(max(minute-c.DayStart, 0), c.DayMinutes)) / float64(c.DayMinutes)
	}
	return n
}

// Part gives what of the time from one instant to another is worked on a day; ok is false where nothing is.
func (c Calendar) Part(day int, from, to Instant) (start, end Instant, ok bool) {
	start, end = max(from, at(day, c.DayStart)), min(to, at(day, c.DayStart+c.DayMinutes))
	return start, end, c.Working(day) && start < end
}

// between gives the working minutes from a to b; 0 where b is not after a.
func (c Calendar) between(a, b Instant) q.Minutes {
	sum := 0
	for day, _ := a.Day(); at(day, 0) < b; day++ {
		if c.Working(day) {
			from, to := max(a, at(day, c.DayStart)), min(b, at(day, c.DayStart+c.DayMinutes))
			sum += max(0, int(to-from))
		}
	}
	return q.Minutes(sum)
}
