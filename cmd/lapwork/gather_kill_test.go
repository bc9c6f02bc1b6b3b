package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"
	"time"

	"lapwork/generator/lawtest/tablet"
	"lapwork/generator/record"
)

var takenLine = regexp.MustCompile(`(?m)^.*/(\d)\.json: \d+ records new`)

// acknowledged is what a job keeps, without what a killed run left half written beside it: nobody was told of that, and it goes
// after a day.
func acknowledged(t *testing.T, dir string) string {
	t.Helper()
	left, err := filepath.Glob(filepath.Join(dir, record.Folder, "unfinished", "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range left {
		if err := os.Remove(name); err != nil {
			t.Fatal(err)
		}
	}
	return contents(t, dir)
}

// TestKilledGatherLosesNothing kills gather at any moment of taking in three tablets' files, over and over, and lets it run to
// its end once more. What it said it took in stayed, nothing is torn, and the folder is in the end what an undisturbed run
// leaves.
func TestKilledGatherLosesNothing(t *testing.T) {
	top := t.TempDir()
	var files []string
	for n := range 3 {
		d := tablet.New(t, "ml-12", n)
		for i := range 40 {
			d.Tick(fmt.Sprintf("A1/QA-17/A1-W%d", i%4+1), "yes")
			if i%8 == 0 {
				d.Snap("A1/QA-17/A1-W1", n<<8+i)
			}
		}
		file := filepath.Join(top, fmt.Sprintf("%d.json", n))
		if err := os.WriteFile(file, d.Export(1), 0o644); err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
	}
	undisturbed := jobAt(t, filepath.Join(top, "undisturbed"))
	say(t, append([]string{"gather", undisturbed}, files...)...)
	want := acknowledged(t, undisturbed)

	rounds := 8
	if os.Getenv("LAPWORK_LONG") != "" {
		rounds = 60
	}
	chance, killed := rand.New(rand.NewPCG(3, 5)), 0
	for round := range rounds {
		dir := jobAt(t, filepath.Join(top, fmt.Sprintf("job%d", round)))
		var said bytes.Buffer
		cmd := exec.Command("lapwork", append([]string{"gather", dir}, files...)...)
		cmd.Stdout = &said
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(chance.IntN(500)) * time.Millisecond)
		if err := cmd.Process.Kill(); err != nil {
			t.Logf("round %d ended before it was killed: %v", round, err)
		}
		if err := cmd.Wait(); err != nil {
			killed++
		}
		j, found := record.Load(os.DirFS(dir))
		for _, f := range found.Sorted() { // records may have come without those before them; none may be damaged
			if bytes.Contains([]byte(f.Msg), []byte("left out")) || bytes.Contains([]byte(f.Msg), []byte("changed")) {
				t.Fatalf("round %d: %v", round, f)
			}
		}
		if photos := record.CheckPhotos(os.DirFS(dir), j); len(photos.Sorted()) != 0 {
			t.Fatalf("round %d: %v", round, photos.Sorted())
		}
		have := map[string]int{}
		for _, r := range j.Records {
			have[r.Dev]++
		}
		for _, m := range takenLine.FindAllStringSubmatch(said.String(), -1) {
			if n := have[fmt.Sprintf("%023d%d", 0, int(m[1][0]-'0')+1)]; n != 45 {
				t.Errorf("round %d: of tablet %s it said to have taken in there are %d records", round, m[1], n)
			}
		}
		say(t, append([]string{"gather", dir}, files...)...)
		if acknowledged(t, dir) != want {
			t.Errorf("round %d: the folder is not that of an undisturbed run", round)
		}
	}
	if killed == 0 {
		t.Skip("this machine is too quick: no run was killed in the middle")
	}
	t.Logf("%d of %d runs were killed in the middle", killed, rounds)
}
