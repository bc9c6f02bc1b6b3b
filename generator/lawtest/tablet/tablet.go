// Package tablet makes records and exports as a tablet does, for tests of what takes them in.
package tablet

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"testing"
	"time"

	"lapwork/generator/record"
)

// Tablet is one device with its chain.
type Tablet struct {
	Pack, Rev, Dev, Who string
	Clock               time.Time // of the next record; each takes a minute
	Records             []record.Record
	Photos              map[string][]byte

	t testing.TB
}

// New gives the n-th tablet of a test, with nothing on it.
func New(t testing.TB, pack string, n int) *Tablet {
	return &Tablet{Pack: pack, Rev: "2-1a2b3c4d5e6f", Dev: fmt.Sprintf("%024x", n+1), Who: "A. Example", t: t,
		Clock: time.Date(2026, 11, 25, 7, n%60, 0, 0, time.FixedZone("", 3600)), Photos: map[string][]byte{}}
}

// Keep appends a record to the chain, with what every record carries.
func (t *Tablet) Keep(r record.Record) record.Record {
	t.t.Helper()
	r.V, r.Pack, r.Rev, r.Lang, r.Dev, r.Who, r.Seq = max(r.V, 1), t.Pack, t.Rev, "en", t.Dev, t.Who, len(t.Records)+1
	id := sha256.Sum256(fmt.Appendf(nil, "%s %d %s %s", t.Dev, r.Seq, t.Who, r.Value))
	r.ID, r.At = hex.EncodeToString(id[:12]), t.Clock.Format(time.RFC3339)
	t.Clock = t.Clock.Add(time.Minute)
	if r.Seq > 1 {
		r.Prev = t.Records[r.Seq-2].Hash
	}
	sum, err := r.Sum()
	if err != nil {
		t.t.Fatal(err)
	}
	r.Hash = sum
	t.Records = append(t.Records, r)
	return r
}

// Tick answers a check.
func (t *Tablet) Tick(check, value string) record.Record {
	t.t.Helper()
	return t.Keep(record.Record{Kind: record.Tick, Check: check, Value: value})
}

// Snap takes a photo for a check, another for each n.
func (t *Tablet) Snap(check string, n int) record.Record {
	t.t.Helper()
	img := image.NewGray(image.Rect(0, 0, 40, 30))
	for i := range img.Pix {
		img.Set(i%40, i/40, color.Gray{Y: uint8(i * (n + 1))})
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.t.Fatal(err)
	}
	return t.Attach(check, b.Bytes())
}

// Attach records any bytes as a photo.
func (t *Tablet) Attach(check string, data []byte) record.Record {
	t.t.Helper()
	sum := sha256.Sum256(data)
	hash := hex.EncodeToString(sum[:])
	t.Photos[hash] = data
	return t.Keep(record.Record{Kind: record.Photo, Check: check, Value: hash})
}

// Export writes the records from position from on, one a line, and their photos.
func (t *Tablet) Export(from int) []byte {
	t.t.Helper()
	var b bytes.Buffer
	fmt.Fprintf(&b, `{"v":1,"form":"lapwork-records","pack":%q,"rev":%q,"dev":%q,"at":%q,"records":[`, t.Pack, t.Rev, t.Dev, t.Clock.Format(time.RFC3339))
	photos, sep := "", "\n"
	for _, r := range t.Records[min(from-1, len(t.Records)):] {
		line, err := json.Marshal(r)
		if err != nil {
			t.t.Fatal(err)
		}
		b.WriteString(sep + string(line))
		sep = ",\n"
		if data := t.Photos[r.Value]; r.Kind == record.Photo && data != nil {
			photos += fmt.Sprintf(",\n%q:%q", r.Value, base64.StdEncoding.EncodeToString(data))
		}
	}
	fmt.Fprintf(&b, "\n],\"photos\":{%s}}\n", bytes.TrimPrefix([]byte(photos), []byte(",")))
	return b.Bytes()
}
