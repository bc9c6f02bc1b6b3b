package generator

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"

	"lapwork/generator/survey"
	"lapwork/generator/survey/gbxml"
)

// SurveyOptions is a file to survey.
type SurveyOptions struct {
	Sources // for the material table
	Name    string
	Data    []byte
}

// readSurvey reads a building by what its bytes are, whatever its name says.
func readSurvey(o SurveyOptions) (*survey.Building, error) {
	in, size := bytes.NewReader(o.Data), int64(len(o.Data))
	b, err := gbxml.Read(o.Name, in, size)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(o.Data)
	b.Source.SHA256 = hex.EncodeToString(sum[:])
	return b, nil
}

var _ = fmt.Sprint
var _ io.Reader
