package ifc

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"lapwork/generator/survey"
)

func TestTakeTry(t *testing.T) {
	p := os.Getenv("TAKE")
	if p == "" {
		t.Skip("x")
	}
	b := readFile(t, p)
	_ = filepath.Base
	s := survey.Take(b.Building, survey.Limits{})
	for _, r := range s.Rooms {
		fmt.Printf("%+v\n", r)
	}
	for _, x := range s.Skipped {
		fmt.Println("skip", x)
	}
	for _, x := range s.Guessed {
		fmt.Println("guess", x)
	}
	fmt.Println(s.Repairs)
	for _, x := range s.Found.Sorted() {
		fmt.Println(x)
	}
	for _, x := range s.Envelope {
		fmt.Printf("%+v\n", x)
	}
	for _, x := range s.Figures {
		fmt.Printf("%+v\n", x)
	}
}
