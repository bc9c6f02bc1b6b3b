// Package share gives a pack to tablets over a local network and takes their records back. A tablet is let in by a code
// that works once. What a tablet sends is on the disk before it is answered, so that being killed at any moment loses
// nothing that a tablet counts as sent.
//
// Plain http is enough for recording: the pack carries its own SHA-256 and lives in one tab. TLS with a certificate that
// no authority vouches for keeps others on the network from reading along, and gives the tablet a secure context: the
// share sheet, and a screen kept awake. It does not give a service worker, so a page reloaded out of reach is gone until
// the server is back, with its records safe in the tablet; only a certificate the tablet already trusts would change that.
package share

import (
	"context"
	"errors"
	"io"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"sync"
	"time"

	"golang.org/x/net/netutil"

	"lapwork/generator/diag"
	"lapwork/generator/record"
)

// RecordsPath is where tablets send records to.
const RecordsPath = "/records"

// Bounds of the server. Own choice: a site has some dozen tablets, and an export part is about 20 MB.
const (
	maxPost      = 48 << 20
	maxConns     = 256
	shutdownTime = 10 * time.Second
)

// Options is what a server is made of.
type Options struct {
	Site   Site
	Store  *record.Store    // nil: nothing is taken back
	Now    func() time.Time // the clock
	Random io.Reader        // for codes and tokens
	Hosts  []string         // names it answers to beside localhost and addresses
	LAN    bool             // private addresses may connect, not only this computer
	Secure bool             // it is served over TLS
	Tell   func(Event)      // told what happens, one call at a time; may be nil
}

// Event is something that happened, to be shown to who runs the server.
type Event struct {
	At       time.Time
	From     string          // network address
	Paired   bool            // a tablet was let in, and the code changed
	Refused  string          // why something was not let in or not kept
	Records  []record.Record // new ones
	Known    int             // records that were there before
	Photos   int
	Findings []diag.Finding
}

// Server serves one pack to many tablets.
type Server struct {
	o       Options
	door    *door
	posts   limiter
	small   chan struct{} // places for posts of up to smallPost bytes
	large   chan struct{} // places for larger ones, which take memory
	handler http.Handler
	telling sync.Mutex
}

// New makes a server. Tablets let in by an earlier run of the same job are known again.
func New(o Options) (*Server, error) {
	known := []string{}
	if o.Store != nil {
		list, err := o.Store.Tablets()
		if err != nil {
			return nil, err
		}
		known = list
	}
	d, err := newDoor(o.Random, known)
	if err != nil {
		return nil, err
	}
	s := &Server{o: o, door: d, posts: limiter{every: time.Second / 5, burst: 60},
		small: make(chan struct{}, 64), large: make(chan struct{}, 3)}
	s.handler = s.routes()
	return s, nil
}

// Code is the code that lets the next tablet in.
func (s *Server) Code() string { return s.door.now() }

// Handler answers requests.
func (s *Server) Handler() http.Handler { return s.handler }

// Serve answers on l until ctx ends, then lets what is under way finish.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	srv := &http.Server{Handler: s.handler, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: 5 * time.Minute,
		WriteTimeout: 10 * time.Minute, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 16 << 10}
	ended := make(chan error, 1)
	go func() { ended <- srv.Serve(netutil.LimitListener(l, maxConns)) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	end, stop := context.WithTimeout(context.WithoutCancel(ctx), shutdownTime)
	defer stop()
	err := srv.Shutdown(end)
	if errors.Is(err, context.DeadlineExceeded) {
		err = srv.Close()
	}
	return err
}

func (s *Server) tell(e Event) {
	if s.o.Tell == nil {
		return
	}
	s.telling.Lock()
	defer s.telling.Unlock()
	e.At = s.o.Now()
	s.o.Tell(e)
}

func (s *Server) routes() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /pair", s.showDoor)
	mux.HandleFunc("POST /pair", s.knock)
	mux.Handle("POST "+RecordsPath, s.paired(http.HandlerFunc(s.receive)))
	mux.Handle("GET /", s.paired(http.HandlerFunc(s.page)))
	return s.guard(http.NewCrossOriginProtection().Handler(mux))
}

// guard sets what every answer carries and refuses strangers: addresses from outside the local network, and names that
// are not this server's, by which a page elsewhere could make a browser ask here.
func (s *Server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", "default-src 'none'; frame-ancestors 'none'")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		if !s.local(r.RemoteAddr) || !s.named(r.Host) {
			http.Error(w, "not for this address", http.StatusForbidden)
			return
		}
		next.ServeHTTP(w, r)
	})
}

func (s *Server) local(remote string) bool {
	at, err := netip.ParseAddrPort(remote)
	if err != nil {
		return false
	}
	a := at.Addr().Unmap()
	return a.IsLoopback() || s.o.LAN && (a.IsPrivate() || a.IsLinkLocalUnicast())
}

func (s *Server) named(host string) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	if _, err := netip.ParseAddr(strings.Trim(name, "[]")); err == nil || strings.EqualFold(name, "localhost") {
		return true
	}
	for _, own := range s.o.Hosts {
		if strings.EqualFold(name, own) {
			return true
		}
	}
	return false
}

// from is the address a request came from, without the port.
func from(r *http.Request) string {
	if at, err := netip.ParseAddrPort(r.RemoteAddr); err == nil {
		return at.Addr().Unmap().String()
	}
	return r.RemoteAddr
}
