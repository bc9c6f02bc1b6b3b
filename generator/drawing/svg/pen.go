package svg

import "lapwork/generator/drawing"

// pen writes the data of a path as short as it can be: steps relative to where it stands, in whole tenths of a pixel, so
// that nothing adds up.
type pen struct {
	data           []byte
	x, y           int  // where it stands, tenths
	startX, startY int  // of the line being drawn
	last           byte // command that further numbers would go on with; 0: none
}

// corners draws straight lines through the points.
func (p *pen) corners(points []drawing.Pt, closed bool) {
	p.move(tenths(points[0].X), tenths(points[0].Y))
	for i, at := range points[1:] {
		x, y := tenths(at.X), tenths(at.Y)
		if x == p.x && y == p.y && len(points) > 2 {
			continue
		}
		if closed && i == len(points)-2 && x == p.startX && y == p.startY {
			break
		}
		p.line(x, y)
	}
	if closed {
		p.close()
	}
}

// dot draws a point, which shows by the round ends of its stroke.
func (p *pen) dot(at drawing.Pt) {
	p.move(tenths(at.X), tenths(at.Y))
	p.data, p.last = append(p.data, "h0"...), 0
}

// curve draws a soft line through the middles between the points.
func (p *pen) curve(points []drawing.Pt, closed bool) {
	n := len(points)
	mid := func(i int) (x, y int) {
		a, b := points[i%n], points[(i+1)%n]
		return tenths((a.X + b.X) / 2), tenths((a.Y + b.Y) / 2)
	}
	p.move(mid(0))
	ends := n - 1
	if closed {
		ends = n + 1
	}
	cx, cy := p.x, p.y // the guide point before
	for i := 1; i < ends; i++ {
		gx, gy := tenths(points[i%n].X), tenths(points[i%n].Y)
		x, y := mid(i)
		if mx, my := 2*p.x-cx, 2*p.y-cy; i > 1 && near(mx, gx) && near(my, gy) {
			cx, cy = mx, my // the mirrored guide point, which need not be written
			p.step('t', x-p.x, y-p.y)
		} else {
			cx, cy = gx, gy
			p.step('q', gx-p.x, gy-p.y)
			p.data = appendNext(appendNext(p.data, x-p.x), y-p.y)
		}
		p.x, p.y = x, y
	}
	switch {
	case closed:
		p.close()
	case n == 2:
		p.line(tenths(points[1].X), tenths(points[1].Y))
	}
}

func near(a, b int) bool { return a-b <= 1 && b-a <= 1 }

// move begins a line, by the shorter of place and way.
func (p *pen) move(x, y int) {
	var room [32]byte
	place := appendPair(append(room[:0], 'M'), x, y)
	if len(p.data) == 0 {
		p.data, p.last = append(p.data, place...), 0
	} else {
		from := len(p.data)
		p.data, p.last = appendPair(append(p.data, 'm'), x-p.x, y-p.y), 'l'
		if len(place) < len(p.data)-from {
			p.data, p.last = append(p.data[:from], place...), 0
		}
	}
	p.x, p.y, p.startX, p.startY = x, y, x, y
}

func (p *pen) line(x, y int) {
	switch {
	case y == p.y:
		p.data, p.last = appendTenths(append(p.data, 'h'), x-p.x), 0
	case x == p.x:
		p.data, p.last = appendTenths(append(p.data, 'v'), y-p.y), 0
	default:
		p.step('l', x-p.x, y-p.y)
	}
	p.x, p.y = x, y
}

func (p *pen) close() {
	p.data, p.last = append(p.data, 'z'), 0
	p.x, p.y = p.startX, p.startY
}

// step writes a command with a way, or the way alone where the command before goes on.
func (p *pen) step(c byte, x, y int) {
	if p.last == c {
		p.data = appendNext(p.data, x)
	} else {
		p.data, p.last = appendTenths(append(p.data, c), x), c
	}
	p.data = appendNext(p.data, y)
}

// appendNext writes a number after another one. A minus parts them as well as a blank does, and so does the point of a
// bare fraction where the number before has a fraction of its own.
func appendNext(b []byte, t int) []byte {
	if bare := t > 0 && t < 10; t >= 0 && !(bare && len(b) > 1 && b[len(b)-2] == '.') {
		b = append(b, ' ')
	}
	return appendTenths(b, t)
}

func appendPair(b []byte, x, y int) []byte { return appendNext(appendTenths(b, x), y) }
