package main

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/cookiejar"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"lapwork/generator/diag"
	"lapwork/generator/lawtest/tablet"
	"lapwork/generator/output"
	"lapwork/generator/record"
)

// shared is a running `lapwork share`, the real program.
type shared struct {
	cmd   *exec.Cmd
	url   string
	mu    sync.Mutex
	said  strings.Builder
	ended chan struct{} // closed when nothing more is said
}

var addressLine = regexp.MustCompile(`(?m)^open (\S+)$`)
var codeLine = regexp.MustCompile(`(?m)^code for the next tablet: (\d{4}) (\d{4})$`)

// startShare runs the program until it says where it is.
func startShare(t *testing.T, args ...string) *shared {
	t.Helper()
	s := &shared{cmd: exec.Command("lapwork", append([]string{"share", "--port", "0"}, args...)...), ended: make(chan struct{})}
	out, err := s.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	s.cmd.Stderr = os.Stderr
	if err := s.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.end(t, os.Kill) })
	ready := make(chan struct{})
	go func() {
		defer close(s.ended)
		lines := bufio.NewScanner(out)
		for lines.Scan() {
			s.mu.Lock()
			s.said.WriteString(lines.Text() + "\n")
			s.mu.Unlock()
			if lines.Text() == "stop with Ctrl-C" {
				close(ready)
			}
		}
	}()
	select {
	case <-ready:
	case <-s.ended:
		t.Fatalf("share ended: %s", s.log())
	case <-time.After(30 * time.Second):
		t.Fatalf("share does not start: %s", s.log())
	}
	s.url = addressLine.FindStringSubmatch(s.log())[1]
	return s
}

func (s *shared) log() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.said.String()
}

// now is the code shown last.
func (s *shared) now() string {
	all := codeLine.FindAllStringSubmatch(s.log(), -1)
	last := all[len(all)-1]
	return last[1] + last[2]
}

// end stops the program with a signal; nil where it has stopped before.
func (s *shared) end(t *testing.T, sig os.Signal) error {
	t.Helper()
	if s.cmd.ProcessState != nil {
		return nil
	}
	if err := s.cmd.Process.Signal(sig); err != nil {
		t.Fatal(err)
	}
	<-s.ended
	return s.cmd.Wait()
}

// crew is a tablet with its browser.
type crew struct {
	*tablet.Tablet
	client *http.Client
	sent   int // records that were acknowledged
}

func newCrew(t *testing.T, s *shared, n int) *crew {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	c := &crew{Tablet: tablet.New(t, "ml-12", n), client: &http.Client{Jar: jar, Timeout: 20 * time.Second}}
	resp, err := c.client.Post(s.url+"/pair", "application/x-www-form-urlencoded", strings.NewReader("code="+s.now()))
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(resp.Body)
	resp.Body.Close()
	if err != nil || resp.StatusCode != 200 || !bytes.Contains(text, []byte(`data-post="/records"`)) {
		t.Fatalf("tablet %d is not let in: %v, %v", n, resp.Status, err)
	}
	return c
}

// post sends what was not acknowledged, as a tablet does; false where no answer came.
func (c *crew) post(t *testing.T, url string) bool {
	to := len(c.Records)
	resp, err := c.client.Post(url+"/records", "application/json", bytes.NewReader(c.Export(c.sent+1)))
	if err != nil {
		return false // the program was killed
	}
	defer resp.Body.Close()
	if resp.StatusCode != 200 {
		t.Errorf("answered %s", resp.Status)
		return false
	}
	c.sent = to
	return true
}

// packed makes a job and a small pack of it.
func packed(t *testing.T) (job, pack string) {
	t.Helper()
	top := t.TempDir()
	job, pack = jobAt(t, filepath.Join(top, "job")), filepath.Join(top, "pack")
	text := `<!doctype html><html lang="en" data-pack="ml-12" data-build="single"><title>Small</title></html>`
	if err := output.Write(pack, output.Pack{Job: "ml-12", Revision: "1", Files: []output.File{{Path: "ml-12.html", Data: []byte(text)}}}); err != nil {
		t.Fatal(err)
	}
	return job, pack
}

// TestKillLosesNothingAcknowledged kills the program without warning while four tablets send, over and over. Whatever was
// acknowledged is there, every file is whole, and in the end every record is there once.
func TestKillLosesNothingAcknowledged(t *testing.T) {
	job, pack := packed(t)
	rounds := 3
	if os.Getenv("LAPWORK_LONG") != "" {
		rounds = 25
	}
	s := startShare(t, pack, "--job", job)
	var crews []*crew
	for n := range 4 {
		crews = append(crews, newCrew(t, s, n))
	}
	chance := rand.New(rand.NewPCG(1, 2))
	acknowledged := 0
	for round := range rounds {
		var wait sync.WaitGroup
		for n, c := range crews {
			wait.Go(func() {
				for i := 0; i < 1000; i++ {
					c.Tick(fmt.Sprintf("N1/QA-17/N1-W%d", i%4+1), "yes")
					c.Snap("N1/QA-17/N1-W1", n<<10+i)
					if !c.post(t, s.url) {
						return
					}
				}
			})
		}
		time.Sleep(time.Duration(20+chance.IntN(200)) * time.Millisecond)
		if err := s.end(t, os.Kill); err == nil {
			t.Fatal("it was not killed")
		}
		wait.Wait()
		whole(t, job, crews, round)
		s = startShare(t, pack, "--job", job)
	}
	for _, c := range crews {
		c.Tick("N1/QA-17/N1-W1", "no")
		if !c.post(t, s.url) {
			t.Error("the last post was not taken")
		}
		acknowledged += c.sent
	}
	j, found := record.Load(os.DirFS(job))
	if len(j.Records) != acknowledged || found.Count(diag.Open)+found.Count(diag.Fault) != 0 {
		t.Errorf("%d records, %d were acknowledged: %v", len(j.Records), acknowledged, found.Sorted())
	}
	if err := s.end(t, syscall.SIGTERM); err != nil {
		t.Errorf("stopped with %v", err)
	}
	if log := s.log(); !strings.Contains(log, "tablet 000000, A. Example: ") {
		t.Errorf("the records are not listed: %s", log)
	}
	t.Logf("%d rounds, %d records acknowledged", rounds, acknowledged)
}

// whole checks that what was acknowledged is there and nothing there is torn. Of the last post of a tablet some records
// may have come without an answer, photos before the record that names them.
func whole(t *testing.T, job string, crews []*crew, round int) {
	t.Helper()
	j, found := record.Load(os.DirFS(job))
	photos := record.CheckPhotos(os.DirFS(job), j)
	if n := len(found.Sorted()) + len(photos.Sorted()); n != 0 {
		t.Fatalf("round %d: %v %v", round, found.Sorted(), photos.Sorted())
	}
	have := map[string]bool{}
	for _, r := range j.Records {
		have[r.Hash] = true
	}
	for _, c := range crews {
		for _, r := range c.Records[:c.sent] {
			if !have[r.Hash] {
				t.Fatalf("round %d: record %d of tablet %s was acknowledged and is lost", round, r.Seq, r.Dev)
			}
		}
	}
}

// TestShareOverTLS serves with a certificate of its own, which is kept for the next day.
func TestShareOverTLS(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	_, pack := packed(t)
	first := startShare(t, pack, "--tls")
	if !strings.HasPrefix(first.url, "https://127.0.0.1:") || !strings.Contains(first.log(), "records are not taken") {
		t.Errorf("says %s", first.log())
	}
	if _, err := http.Get(first.url); err == nil || !strings.Contains(err.Error(), "certificate") {
		t.Errorf("a client that does not know the certificate: %v", err)
	}
	if err := first.end(t, syscall.SIGTERM); err != nil {
		t.Error(err)
	}
	fingerprint := regexp.MustCompile(`(?m)^certificate (\S+)$`)
	a, b := fingerprint.FindString(first.log()), fingerprint.FindString(startShare(t, pack, "--tls").log())
	if a == "" || a != b {
		t.Errorf("fingerprints %q and %q", a, b)
	}
}
