package assess

import (
	"lapwork/generator/calc/strips"
	"lapwork/generator/junction"
	q "lapwork/generator/quantity"
)

// nearNoggin is how far off a level blocking a seam may lie and still be pressed against it. Common practice, no source.
const nearNoggin q.MM = 30

// SeamsOf turns layouts into the seams that junction makes records of.
func SeamsOf(layouts []*Layout) []junction.SurfaceSeams {
	var out []junction.SurfaceSeams
	for _, l := range layouts {
		s := junction.SurfaceSeams{Surface: l.Surface}
		for i, st := range l.Strips {
			if i > 0 {
				s.Laps = append(s.Laps, l.lap(st))
			}
			for n, j := range st.Joints {
				s.EndJoints = append(s.EndJoints, junction.Seam{Strip: st.No, Joint: n + 1, Length: q.MMOf(j.Tape),
					Upright: l.Direction == strips.Level, Supported: true})
			}
		}
		out = append(out, s)
	}
	return out
}

// lap is the seam between a strip and the one before it.
func (l *Layout) lap(st strips.Strip) junction.Seam {
	lines, level := junction.FramingLines(l.Surface)
	seam := junction.Seam{Strip: st.No - 1, Length: q.MMOf(st.SeamTape), Upright: l.Direction == strips.Upright}
	if len(lines) == 0 {
		seam.Supported = true
		return seam
	}
	if level == (l.Direction == strips.Level) {
		seam.Supported = true // on a line of the framing, or on the backing that was asked for
		return seam
	}
	for _, x := range lines {
		for _, run := range st.Seam {
			if at := l.Along(x); run.From < at && at < run.To {
				seam.Studs++
			}
		}
	}
	for _, n := range l.Surface.Face.Framing.Noggins {
		if n-nearNoggin <= st.At && st.At <= n+nearNoggin {
			seam.Supported = true
		}
	}
	return seam
}
