package share_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"lapwork/generator/diag"
	"lapwork/generator/lawtest/tablet"
	"lapwork/generator/record"
	"lapwork/generator/share"
)

func post(t *testing.T, c *cabin, client *http.Client, export []byte) (int, map[string]any) {
	t.Helper()
	status, body := c.do(client, "POST", share.RecordsPath, string(export))
	var a map[string]any
	if err := json.Unmarshal([]byte(body), &a); err != nil {
		t.Fatalf("%d %s", status, body)
	}
	return status, a
}

func TestRecordsComeBack(t *testing.T) {
	c := newCabin(t, nil)
	client := c.client(c.server.Code())
	d := tablet.New(t, "ml-12", 0)
	d.Keep(record.Record{Kind: record.Tick, Check: "A1/QA-17/A1-W1", Value: "yes", Seal: record.Seal(lap)})
	d.Snap("A1/QA-17/A1-W1", 1)
	if status, a := post(t, c, client, d.Export(1)); status != 200 || a["kept"] != 2.0 || a["photos"] != 1.0 {
		t.Fatalf("%d %v", status, a)
	}
	d.Tick("A1/QA-17/A1-W2", "no")
	if status, a := post(t, c, client, d.Export(3)); status != 200 || a["kept"] != 1.0 {
		t.Fatalf("only what is new: %d %v", status, a)
	}
	before := walk(t, c.job)
	if status, a := post(t, c, client, d.Export(1)); status != 200 || a["kept"] != 0.0 || a["known"] != 3.0 {
		t.Fatalf("again: %d %v", status, a)
	}
	if after := walk(t, c.job); len(after) != len(before) {
		t.Errorf("the same again makes %d files of %d", len(after), len(before))
	}
	j, found := record.Load(os.DirFS(c.job))
	if len(found.Sorted()) != 0 || len(j.Records) != 3 || len(j.Photos) != 1 || len(j.Receipts) != 2 {
		t.Errorf("%d records, %d photos, %d receipts: %v", len(j.Records), len(j.Photos), len(j.Receipts), found.Sorted())
	}
	if got := j.Statements[record.Seal(lap)]; fmt.Sprint(got) != fmt.Sprint(lap) {
		t.Errorf("the words recorded against are %v, want %v", got, lap)
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	last := c.events[len(c.events)-1]
	if last.Known != 3 || len(last.Records) != 0 || !last.At.Equal(c.now) {
		t.Errorf("told %+v", last)
	}
}

func TestRefusedPosts(t *testing.T) {
	c := newCabin(t, nil)
	client := c.client(c.server.Code())
	d := tablet.New(t, "ml-12", 0)
	d.Tick("A1/QA-17/A1-W1", "yes")
	good := string(d.Export(1))
	other := tablet.New(t, "ml-13", 1)
	other.Tick("A1/QA-17/A1-W1", "yes")
	for name, x := range map[string]struct{ body, want string }{
		"changed":     {strings.Replace(good, `"value":"yes"`, `"value":"no"`, 1), "was changed"},
		"cut off":     {good[:len(good)-5], "cut off"},
		"another job": {string(other.Export(1)), "ml-13"},
		"newer":       {strings.Replace(good, `{"v":1,"form"`, `{"v":2,"form"`, 1), "version 2"},
		"no export":   {"hello", "cut off or damaged"},
	} {
		status, a := post(t, c, client, []byte(x.body))
		if status != 422 || !strings.Contains(fmt.Sprint(a["says"]), x.want) {
			t.Errorf("%s: %d %v", name, status, a)
		}
	}
	if j, _ := record.Load(os.DirFS(c.job)); len(j.Records) != 0 {
		t.Errorf("%d records were kept", len(j.Records))
	}
	// A photo that cannot be kept must not stop a tablet's later records for good.
	d.Attach("A1/QA-17/A1-W1", []byte("no picture"))
	if status, a := post(t, c, client, d.Export(1)); status != 200 || a["kept"] != 2.0 || a["photos"] != 0.0 || !strings.Contains(fmt.Sprint(a["says"]), "not a JPEG") {
		t.Errorf("a bad photo: %d %v", status, a)
	}
	if status, a := post(t, c, client, bytes.Repeat([]byte(" "), 49<<20)); status != 413 {
		t.Errorf("49 MB: %d %v", status, a)
	}
	for range 100 {
		if status, _ := post(t, c, client, []byte("{}")); status == 429 {
			return
		}
	}
	t.Error("100 posts at once were all taken")
}

func TestReadingOnly(t *testing.T) {
	c := newCabin(t, func(o *share.Options) { o.Store = nil })
	client := c.client(c.server.Code())
	if status, a := post(t, c, client, []byte("{}")); status != 404 {
		t.Errorf("%d %v", status, a)
	}
	if len(walk(t, c.job)) != 0 {
		t.Error("files were written")
	}
}

// What is on its way when the server is told to stop still arrives, is kept and is answered.
func TestStopLetsPostsFinish(t *testing.T) {
	c := newCabin(t, nil)
	code := c.server.Code()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- c.server.Serve(ctx, l) }()
	c.web.URL = "http://" + l.Addr().String()
	client := c.client(code)
	d := tablet.New(t, "ml-12", 0)
	d.Tick("A1/QA-17/A1-W1", "yes")
	body := d.Export(1)
	r, w := io.Pipe()
	answered := make(chan int, 1)
	go func() {
		req, err := http.NewRequest("POST", c.web.URL+share.RecordsPath, r)
		if err != nil {
			answered <- -1
			return
		}
		resp, err := client.Do(req)
		if err != nil {
			answered <- -2
			return
		}
		answered <- resp.StatusCode
		resp.Body.Close()
	}()
	if _, err := w.Write(body[:100]); err != nil {
		t.Fatal(err)
	}
	time.Sleep(50 * time.Millisecond)
	stop()
	time.Sleep(50 * time.Millisecond)
	if _, err := w.Write(body[100:]); err != nil {
		t.Fatal(err)
	}
	w.Close()
	if status := <-answered; status != 200 {
		t.Errorf("answered %d", status)
	}
	if err := <-ended; err != nil {
		t.Error(err)
	}
	if j, _ := record.Load(os.DirFS(c.job)); len(j.Records) != 1 {
		t.Errorf("%d records", len(j.Records))
	}
}

// TestManyTablets: twenty tablets send at once; every acknowledged record is there.
func TestManyTablets(t *testing.T) {
	c := newCabin(t, nil)
	const tablets, posts = 20, 10
	var clients []*http.Client
	for range tablets {
		clients = append(clients, c.client(c.server.Code()))
		c.pass(15 * time.Second) // all come from one address here
	}
	start := time.Now()
	var wait sync.WaitGroup
	var mu sync.Mutex
	var slowest time.Duration
	for n, client := range clients {
		d := tablet.New(t, "ml-12", n)
		var exports [][]byte
		for i := range posts {
			d.Tick(fmt.Sprintf("A1/QA-17/A1-W%d", i), "yes")
			from := len(d.Records)
			d.Snap("A1/QA-17/A1-W1", n*posts+i)
			exports = append(exports, d.Export(from))
		}
		wait.Go(func() {
			for _, e := range exports {
				begin := time.Now()
				resp, err := client.Post(c.web.URL+share.RecordsPath, "application/json", bytes.NewReader(e))
				if err != nil || resp.StatusCode != 200 {
					t.Errorf("tablet %d: %v %v", n, resp, err)
					return
				}
				resp.Body.Close()
				mu.Lock()
				slowest = max(slowest, time.Since(begin))
				mu.Unlock()
			}
		})
	}
	wait.Wait()
	j, found := record.Load(os.DirFS(c.job))
	if len(j.Records) != 2*tablets*posts || found.Count(diag.Open) != 0 {
		t.Errorf("%d records, want %d: %v", len(j.Records), 2*tablets*posts, found.Sorted())
	}
	t.Logf("%d posts of 2 records and a photo from %d tablets in %v, slowest %v", tablets*posts, tablets, time.Since(start), slowest)
}
