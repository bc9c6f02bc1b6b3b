package share

import (
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strconv"
	"time"

	"lapwork/generator/diag"
	"lapwork/generator/record"
)

// smallPost is the size up to which a post takes no place from the large ones. Own choice.
const smallPost = 1 << 20

// answer is what a tablet is told.
type answer struct {
	Kept   int      `json:"kept"`  // new records
	Known  int      `json:"known"` // records that were there before
	Photos int      `json:"photos"`
	Says   []string `json:"says,omitempty"` // what was found
}

// receive takes one export in and answers when all of it is on the disk.
func (s *Server) receive(w http.ResponseWriter, r *http.Request) {
	if s.o.Store == nil {
		s.refuse(w, r, http.StatusNotFound, 0, "records are not taken here: no job was named")
		return
	}
	if wait := s.posts.allow(s.tokenOf(r), s.o.Now()); wait > 0 {
		s.refuse(w, r, http.StatusTooManyRequests, wait, "too many posts from one tablet")
		return
	}
	places := s.small
	if r.ContentLength < 0 || r.ContentLength > smallPost {
		places = s.large
	}
	select {
	case places <- struct{}{}:
		defer func() { <-places }()
	case <-r.Context().Done():
		return
	case <-time.After(20 * time.Second):
		s.refuse(w, r, http.StatusServiceUnavailable, 20*time.Second, "too many tablets send at once")
		return
	}
	data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, maxPost))
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &tooLarge):
		s.refuse(w, r, http.StatusRequestEntityTooLarge, 0, "an export larger than 48 MB")
	case err != nil:
		s.refuse(w, r, http.StatusBadRequest, 0, "an export was cut off on its way")
	default:
		s.take(w, r, data)
	}
}

// take reads an export, keeps it and answers.
func (s *Server) take(w http.ResponseWriter, r *http.Request, data []byte) {
	name := "post from " + from(r)
	export, found := record.Parse(name, data)
	if found.Err() == nil {
		var more diag.List
		export, more = record.Terms{Pack: s.o.Site.Pack, Now: s.o.Now()}.Admit(name, export)
		found = worthSaying(found)
		found.Add(more.Sorted()...)
	}
	if found.Err() != nil {
		s.tell(Event{From: from(r), Refused: "an export with faults", Findings: found.Sorted()})
		s.reply(w, http.StatusUnprocessableEntity, answer{Says: texts(found)})
		return
	}
	kept, err := s.keep(r, export)
	if err != nil {
		s.tell(Event{From: from(r), Refused: "records could not be kept: " + err.Error()})
		s.reply(w, http.StatusInsufficientStorage, answer{Says: []string{"the computer could not keep the records"}})
		return
	}
	s.tell(Event{From: from(r), Records: kept.Records, Known: kept.Known, Photos: kept.Photos, Findings: found.Sorted()})
	s.reply(w, http.StatusOK, answer{len(kept.Records), kept.Known, kept.Photos, texts(found)})
}

// keep brings an export with the words it was made against and a receipt to the disk.
func (s *Server) keep(r *http.Request, export record.Export) (record.Kept, error) {
	kept, err := s.o.Store.Add(export)
	if err != nil {
		return kept, err
	}
	for _, rec := range export.Records {
		seals := []string{rec.Seal}
		for _, seal := range rec.Seals {
			seals = append(seals, seal)
		}
		for _, seal := range seals {
			if lines := s.o.Site.seals[seal]; lines != nil {
				if err := s.o.Store.AddStatement(lines); err != nil {
					return kept, err
				}
			}
		}
	}
	return kept, s.o.Store.AddReceipts(s.o.Now(), from(r), export.Records)
}

// worthSaying drops what is usual when a tablet sends only what is new: earlier records and photos are not in the post.
func worthSaying(found diag.List) diag.List {
	var out diag.List
	for _, f := range found.Sorted() {
		if f.Level == diag.Fault {
			out.Add(f)
		}
	}
	return out
}

func texts(found diag.List) []string {
	var out []string
	for _, f := range found.Sorted() {
		out = append(out, f.String())
	}
	return out
}

func (s *Server) refuse(w http.ResponseWriter, r *http.Request, status int, wait time.Duration, why string) {
	if wait > 0 {
		w.Header().Set("Retry-After", strconv.Itoa(int(wait.Seconds())+1))
	}
	s.tell(Event{From: from(r), Refused: why})
	s.reply(w, status, answer{Says: []string{why}})
}

func (s *Server) reply(w http.ResponseWriter, status int, a answer) {
	data, err := json.Marshal(a)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	s.send(w, append(data, '\n'))
}
