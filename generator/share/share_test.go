package share_test

import (
	"bytes"
	"crypto/rand"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"lapwork/generator/output"
	"lapwork/generator/record"
	"lapwork/generator/share"
)

const single = `<!doctype html>
<html lang="en" data-pack="ml-12" data-build="single"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src &#39;none&#39;; script-src &#39;sha256-abc=&#39;"></head>
<body><section class="page"><div data-page-seal="PAGE"></div><div data-check="A1/QA-17/A1-W1" data-seal="SEAL">
<b data-s="title">Lap &amp; tape</b> <small>QA-17</small><span data-s="accept" data-unit="mm">at  least
100</span><span data-s="who"> </span></div></section></body></html>
`

// lap is the statement in single, told apart by hand.
var lap = []record.Line{{Key: "A1/QA-17/A1-W1#title", Text: "Lap & tape"}, {Key: "A1/QA-17/A1-W1#accept", Text: "at least 100", Unit: "mm"}}

func packAt(t *testing.T, files ...output.File) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "pack")
	text := strings.NewReplacer("PAGE", record.Seal(lap), "SEAL", record.Seal(lap)).Replace(single)
	if files == nil {
		files = []output.File{{Path: "ml-12.html", Data: []byte(text)}, {Path: "index.html", Data: []byte("<!doctype html><p>folder")},
			{Path: "assets/pack.js", Data: []byte("'use strict';")}}
	}
	if err := output.Write(dir, output.Pack{Job: "ml-12", Revision: "2-1a2b3c4d5e6f", Files: files}); err != nil {
		t.Fatal(err)
	}
	return dir
}

// cabin is a running server with its job.
type cabin struct {
	t      *testing.T
	job    string
	server *share.Server
	web    *httptest.Server
	now    time.Time

	mu     sync.Mutex
	events []share.Event
}

func newCabin(t *testing.T, change func(*share.Options)) *cabin {
	t.Helper()
	c := &cabin{t: t, job: t.TempDir(), now: time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)}
	c.start(change)
	return c
}

// start runs a server on the job, as after a restart.
func (c *cabin) start(change func(*share.Options)) {
	c.t.Helper()
	site, err := share.Load(packAt(c.t), func(b []byte) []byte {
		return bytes.ReplaceAll(b, []byte("data-build"), []byte("data-post data-build"))
	})
	if err != nil {
		c.t.Fatal(err)
	}
	o := share.Options{Site: site, Store: record.At(c.job), Random: rand.Reader, Now: func() time.Time { c.mu.Lock(); defer c.mu.Unlock(); return c.now },
		Tell: func(e share.Event) { c.mu.Lock(); defer c.mu.Unlock(); c.events = append(c.events, e) }}
	if change != nil {
		change(&o)
	}
	if c.server, err = share.New(o); err != nil {
		c.t.Fatal(err)
	}
	c.web = httptest.NewServer(c.server.Handler())
	c.t.Cleanup(c.web.Close)
}

// pass lets time go by.
func (c *cabin) pass(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = c.now.Add(d)
}

// client is a browser with a cookie jar, let in unless code is empty.
func (c *cabin) client(code string) *http.Client {
	c.t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		c.t.Fatal(err)
	}
	client := &http.Client{Jar: jar, Timeout: 30 * time.Second}
	if code != "" {
		if status, _ := c.do(client, "POST", "/pair", "code="+code); status != 200 {
			c.t.Fatalf("not let in: %d", status)
		}
	}
	return client
}

func (c *cabin) do(client *http.Client, method, path, body string) (int, string) {
	c.t.Helper()
	req, err := http.NewRequest(method, c.web.URL+path, strings.NewReader(body))
	if err != nil {
		c.t.Fatal(err)
	}
	if path == "/pair" {
		req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	req.Header.Set("Accept", "text/html")
	resp, err := client.Do(req)
	if err != nil {
		c.t.Fatal(err)
	}
	defer resp.Body.Close()
	data, err := io.ReadAll(resp.Body)
	if err != nil {
		c.t.Fatal(err)
	}
	return resp.StatusCode, string(data)
}

// Headers of every kind of answer: OWASP's list of secure headers (from memory) as far as it bears on a local server.
func TestHeaders(t *testing.T) {
	c := newCabin(t, nil)
	in, out := c.client(c.server.Code()), c.client("")
	for _, x := range []struct {
		client     *http.Client
		path, csp  string
		cache, typ string
	}{
		{in, "/", "default-src 'none'; script-src 'sha256-abc='; frame-ancestors 'none'", "private, no-cache", "text/html; charset=utf-8"},
		{in, "/assets/pack.js", "default-src 'none'; frame-ancestors 'none'", "private, no-cache", "text/javascript; charset=utf-8"},
		{in, "/none", "default-src 'none'; frame-ancestors 'none'", "no-store", "text/plain; charset=utf-8"},
		{in, "/../manifest.json", "default-src 'none'; frame-ancestors 'none'", "no-store", "text/plain; charset=utf-8"},
		{out, "/pair", "form-action 'self'", "no-store", "text/html; charset=utf-8"},
	} {
		resp, err := x.client.Get(c.web.URL + x.path)
		if err != nil {
			t.Fatal(err)
		}
		h := resp.Header
		if err := resp.Body.Close(); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(h.Get("Content-Security-Policy"), x.csp) || strings.Contains(h.Get("Content-Security-Policy"), "unsafe") ||
			h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Cache-Control") != x.cache || h.Get("Content-Type") != x.typ {
			t.Errorf("%s: %v", x.path, h)
		}
	}
	resp, err := in.Get(c.web.URL + "/")
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	req, err := http.NewRequest("GET", c.web.URL+"/", nil)
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("If-None-Match", resp.Header.Get("ETag"))
	if resp, err = in.Do(req); err != nil || resp.StatusCode != 304 {
		t.Errorf("the same page again: %v %v", resp.StatusCode, err)
	}
	resp.Body.Close()
}

// A page elsewhere cannot use a tablet that was let in, nor reach the server under a name of its own.
func TestStrangersAreRefused(t *testing.T) {
	c := newCabin(t, nil)
	in := c.client(c.server.Code())
	for _, x := range []struct {
		name string
		set  func(*http.Request)
		want int
	}{
		{"another page", func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, 403},
		{"another page, older browser", func(r *http.Request) { r.Header.Set("Origin", "http://elsewhere.example") }, 403},
		{"another name", func(r *http.Request) { r.Host = "elsewhere.example" }, 403},
		{"its own page", func(r *http.Request) { r.Header.Set("Origin", c.web.URL) }, 422},
	} {
		req, err := http.NewRequest("POST", c.web.URL+share.RecordsPath, strings.NewReader("{}"))
		if err != nil {
			t.Fatal(err)
		}
		x.set(req)
		resp, err := in.Do(req)
		if err != nil || resp.StatusCode != x.want {
			t.Errorf("%s: %v %v, want %d", x.name, resp.StatusCode, err, x.want)
		}
		resp.Body.Close()
	}
	for _, x := range []struct {
		remote string
		lan    bool
		want   int
	}{{"192.168.1.20:5", false, 403}, {"192.168.1.20:5", true, 200}, {"169.254.3.4:5", true, 200}, {"8.8.8.8:5", true, 403}, {"127.0.0.1:5", false, 200}, {"nowhere", true, 403}} {
		s, err := share.New(share.Options{Random: rand.Reader, Now: time.Now, LAN: x.lan})
		if err != nil {
			t.Fatal(err)
		}
		w := httptest.NewRecorder()
		r := httptest.NewRequest("GET", "/pair", nil)
		r.RemoteAddr, r.Host = x.remote, "localhost:7483"
		s.Handler().ServeHTTP(w, r)
		if w.Code != x.want {
			t.Errorf("from %s, LAN %v: %d, want %d", x.remote, x.lan, w.Code, x.want)
		}
	}
}

func TestLoadRefuses(t *testing.T) {
	same := func(b []byte) []byte { return b }
	if _, err := share.Load(t.TempDir(), same); err == nil || !strings.Contains(err.Error(), "lapwork pack") {
		t.Errorf("no pack: %v", err)
	}
	dir := packAt(t)
	if err := os.WriteFile(filepath.Join(dir, "index.html"), []byte("changed"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := share.Load(dir, same); err == nil || !strings.Contains(err.Error(), "lapwork verify") {
		t.Errorf("a changed pack: %v", err)
	}
	if _, err := share.Load(packAt(t, output.File{Path: "index.html", Data: []byte("x")}), same); err == nil || !strings.Contains(err.Error(), "self-contained") {
		t.Errorf("no single file: %v", err)
	}
	storeys := packAt(t, output.File{Path: "ml-12-eg.html", Data: []byte(single)}, output.File{Path: "ml-12-og.html", Data: []byte(single)})
	site, err := share.Load(storeys, same)
	if err != nil {
		t.Fatal(err)
	}
	c := newCabin(t, func(o *share.Options) { o.Site = site })
	client := c.client(c.server.Code())
	if _, body := c.do(client, "GET", "/", ""); !strings.Contains(body, `href="/ml-12-eg.html"`) || !strings.Contains(body, `href="/ml-12-og.html"`) {
		t.Errorf("the storeys are not listed: %s", body)
	}
}
