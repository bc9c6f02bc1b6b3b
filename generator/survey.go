package generator

import (
	"archive/zip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"lapwork/generator/diag"
	"lapwork/generator/lang"
	"lapwork/generator/library"
	q "lapwork/generator/quantity"
	"lapwork/generator/survey"
	"lapwork/generator/survey/gbxml"
	"lapwork/generator/survey/ifc"
	"lapwork/generator/survey/roomlist"
)

// SurveyOptions is a building model or room list to make job data of. Job nil: a new job; else the job that the survey is
// merged into.
type SurveyOptions struct {
	Sources
	Name   string // the file as the user gave it
	Data   io.ReaderAt
	Size   int64
	Texts  *lang.Catalogue // the language of the report, and of a new job; nil: English
	Height q.MM            // usual height of rooms that state none; 0: 2500
}

// SurveyReport is what a survey found and made.
type SurveyReport struct {
	Survey   *survey.Survey
	Files    []survey.File   // of the job: all of a new one, the changed ones of another
	Merged   bool            // into a job; else a new one was made
	Changes  []survey.Change // of a job that was merged into
	Page     []byte          // the report as one page
	Findings []diag.Finding
}

// Survey reads a file, makes rooms of it and the files of a job. With a fault nothing is to be written.
func Survey(_ context.Context, o SurveyOptions) (SurveyReport, error) {
	b, err := readSurvey(o)
	if err != nil {
		return SurveyReport{}, err
	}
	s := survey.Take(b, survey.Limits{UsualHeight: o.Height})
	report := SurveyReport{Survey: s, Findings: s.Found.Sorted(), Merged: o.Job != nil}
	if err := s.Found.Err(); err != nil {
		return report, err
	}
	s.Words = surveySaid(o.Texts.Quiet()).said
	table := materialRows(o.Sources)
	if o.Job == nil {
		s.Language = o.Texts.Tag()
		report.Files = s.Write(table)
	} else if report.Files, report.Changes, err = s.Merge(o.Job, table); err != nil {
		return report, err
	}
	report.Findings = s.Found.Sorted()
	report.Page, err = surveyPage(o, report)
	return report, err
}

// materialRows are the materials that layers may be matched with.
func materialRows(src Sources) []survey.Material {
	var unused diag.List // the library's own findings are shown by check
	var out []survey.Material
	for _, m := range library.Load(src.Content, src.Firm, nil, &unused).Moisture.Materials {
		if !m.Thin() {
			out = append(out, survey.Material{ID: m.ID, Name: m.Name, Lambda: m.Lambda.X})
		}
	}
	return out
}

// readSurvey reads a building by what its bytes are, whatever its name says.
func readSurvey(o SurveyOptions) (*survey.Building, error) {
	sum := sha256.New()
	if _, err := io.Copy(sum, io.NewSectionReader(o.Data, 0, o.Size)); err != nil {
		return nil, fmt.Errorf("%s: %w", o.Name, err)
	}
	read, err := readerFor(o)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", o.Name, err)
	}
	b, err := read(o.Name, o.Data, o.Size)
	if err != nil {
		return nil, err
	}
	b.Source.SHA256 = hex.EncodeToString(sum.Sum(nil))
	return b, nil
}

type surveyReader func(name string, data io.ReaderAt, size int64) (*survey.Building, error)

// readerFor picks the reader of a file.
func readerFor(o SurveyOptions) (surveyReader, error) {
	head := make([]byte, 512)
	n, err := o.Data.ReadAt(head, 0)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	if head = head[:n]; survey.IsZip(head) {
		return readerInside(o)
	}
	text, err := io.ReadAll(survey.NewText(strings.NewReader(string(head))))
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, err
	}
	switch start := strings.TrimSpace(string(text)); {
	case start == "":
		return nil, errors.New("the file is empty")
	case strings.HasPrefix(start, "ISO-10303-21"):
		return ifc.Read, nil
	case strings.HasPrefix(start, "<"):
		return gbxml.Read, nil
	}
	return roomlist.Read, nil
}

// readerInside picks the reader of a container by the names of its files.
func readerInside(o SurveyOptions) (surveyReader, error) {
	z, err := zip.NewReader(o.Data, o.Size)
	if err != nil {
		return nil, fmt.Errorf("the container cannot be read: %w", err)
	}
	for _, f := range z.File {
		switch strings.ToLower(path.Ext(f.Name)) {
		case ".ifc":
			return ifc.Read, nil
		case ".gbxml":
			return gbxml.Read, nil
		}
		if f.Name == "xl/workbook.xml" {
			return roomlist.Read, nil
		}
	}
	return gbxml.Read, nil
}
