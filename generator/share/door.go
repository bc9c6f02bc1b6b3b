package share

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"fmt"
	"io"
	"math/big"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"
)

// cookieName holds a tablet's token.
const cookieName = "lapwork-tablet"

// cookieAge is how long a tablet stays let in: longer than a job, shorter than browsers' bound of 400 days (from memory).
const cookieAge = 300 * 24 * time.Hour

// codeRange makes codes of eight digits, which gloves can type. With at most 30 tries a minute over all addresses a day
// of guessing finds one with a chance of 0.04 %.
const codeRange = 100_000_000

// door lets tablets in.
type door struct {
	random io.Reader
	own    limiter // tries of one address
	all    limiter // tries of everybody

	mu    sync.Mutex
	code  string
	known map[string]bool // SHA-256 of tokens, hex
}

func newDoor(random io.Reader, known []string) (*door, error) {
	d := &door{random: random, known: map[string]bool{}, own: limiter{every: 12 * time.Second, burst: 5},
		all: limiter{every: 2 * time.Second, burst: 30}}
	for _, hash := range known {
		d.known[hash] = true
	}
	return d, d.change()
}

// change draws a new code. The caller holds the lock, or is the only one yet.
func (d *door) change() error {
	n, err := rand.Int(d.random, big.NewInt(codeRange))
	if err != nil {
		return err
	}
	d.code = fmt.Sprintf("%08d", n)
	return nil
}

func (d *door) now() string {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.code
}

// open gives a token for the code, once; "" where the code is another.
func (d *door) open(code string) (token string, err error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if subtle.ConstantTimeCompare([]byte(code), []byte(d.code)) != 1 {
		return "", nil
	}
	raw := make([]byte, 16)
	if _, err := io.ReadFull(d.random, raw); err != nil {
		return "", err
	}
	if err := d.change(); err != nil {
		return "", err
	}
	token = hex.EncodeToString(raw)
	d.known[hashOf(token)] = true
	return token, nil
}

func (d *door) knows(token string) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.known[hashOf(token)]
}

// forget shuts a token out again that could not be kept.
func (d *door) forget(token string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	delete(d.known, hashOf(token))
}

func hashOf(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

// tokenOf is the token a request carries; "" without one that is known.
func (s *Server) tokenOf(r *http.Request) string {
	c, err := r.Cookie(cookieName)
	if err != nil || !s.door.knows(c.Value) {
		return ""
	}
	return c.Value
}

// paired lets only tablets through that were let in.
func (s *Server) paired(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch {
		case s.tokenOf(r) != "":
			next.ServeHTTP(w, r)
		case r.Method == http.MethodGet && strings.Contains(r.Header.Get("Accept"), "text/html"):
			http.Redirect(w, r, "/pair", http.StatusSeeOther)
		default:
			http.Error(w, "this tablet is not let in: open the address in the browser and enter the code", http.StatusUnauthorized)
		}
	})
}

func (s *Server) showDoor(w http.ResponseWriter, r *http.Request) {
	if s.tokenOf(r) != "" {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return
	}
	s.writeDoor(w, http.StatusOK, "")
}

// knock tries a code.
func (s *Server) knock(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, 1<<10)
	code := strings.Map(digitsOnly, r.PostFormValue("code"))
	now := s.o.Now()
	wait := s.door.own.allow(from(r), now)
	if wait == 0 {
		wait = s.door.all.allow("", now)
	}
	if wait > 0 {
		w.Header().Set("Retry-After", strconv.Itoa(int(wait.Seconds())+1))
		s.tell(Event{From: from(r), Refused: "too many codes were tried"})
		s.writeDoor(w, http.StatusTooManyRequests, "Too many codes were tried. Wait a minute.")
		return
	}
	token, err := s.door.open(code)
	if err == nil && token != "" && s.o.Store != nil {
		if err = s.o.Store.AddTablet(now, from(r), hashOf(token)); err != nil {
			s.door.forget(token)
		}
	}
	switch {
	case err != nil:
		s.tell(Event{From: from(r), Refused: err.Error()})
		s.writeDoor(w, http.StatusInternalServerError, "The computer could not keep this. Tell who runs it.")
	case token == "":
		s.tell(Event{From: from(r), Refused: "a wrong code was tried"})
		s.writeDoor(w, http.StatusForbidden, "This is not the code shown now. Each code works once.")
	default:
		http.SetCookie(w, &http.Cookie{Name: cookieName, Value: token, Path: "/", MaxAge: int(cookieAge.Seconds()), HttpOnly: true,
			Secure: s.o.Secure, SameSite: http.SameSiteStrictMode})
		s.tell(Event{From: from(r), Paired: true})
		http.Redirect(w, r, "/", http.StatusSeeOther)
	}
}

func digitsOnly(r rune) rune {
	if r >= '0' && r <= '9' {
		return r
	}
	return -1
}
