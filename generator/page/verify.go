package page

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"sync"

	"lapwork/generator/pack"
	"lapwork/generator/parallel"
	"lapwork/generator/record"
)

// verify holds every seal against its statement: a tablet computes it again from the page and refuses a signature where
// they differ, which must not happen on a page that nobody has touched.
func (r *renderer) verify() error {
	if _, err := parallel.Try(len(r.pack.Checks), func(i int) (struct{}, error) { return struct{}{}, sealed(&r.pack.Checks[i]) }); err != nil {
		return err
	}
	_, err := parallel.Try(len(r.pack.Pages), func(i int) (struct{}, error) {
		pg := r.pack.Pages[i]
		var errs []error
		eachCheck(reflect.ValueOf(&r.pack.Pages[i]), func(c *pack.Check) {
			if err := r.verifyCheck(c); err != nil {
				errs = append(errs, fmt.Errorf("page %s: %w", pg.Path, err))
			}
		})
		if s := pg.SignOff; s != nil && s.Seal != record.Seal(s.Statement()) {
			errs = append(errs, fmt.Errorf("page %s: the seal %q is not that of its statement", pg.Path, s.Seal))
		}
		return struct{}{}, errors.Join(errs...)
	})
	return err
}

// verifyCheck holds a check as a page shows it against its seal. Nearly every page says what the pack's list of checks says,
// whose seals are verified already.
func (r *renderer) verifyCheck(c *pack.Check) error {
	at, listed := r.index.at[c.Key]
	if !listed {
		return fmt.Errorf("check %s is not among the pack's checks", c.Key)
	}
	if sameWords(c, &r.pack.Checks[at]) {
		return nil
	}
	return sealed(c)
}

// sameWords is whether two checks have the same seal and the same words that it covers.
func sameWords(a, b *pack.Check) bool {
	return a.Seal == b.Seal && a.Key == b.Key && a.Title == b.Title && a.Hold == b.Hold && a.Accept == b.Accept && a.Unit == b.Unit && a.Method == b.Method && a.Who == b.Who &&
		slices.Equal(a.Places, b.Places)
}

// sealed holds a check against its seal.
func sealed(c *pack.Check) error {
	if c.Seal != record.Seal(c.Statement()) {
		return fmt.Errorf("check %s: the seal %q is not that of its statement", c.Key, c.Seal)
	}
	return nil
}

var checkType = reflect.TypeFor[pack.Check]()

// carriers says of each type met whether a check may hang in it: most of a view is rows of tables, in which none does.
var carriers sync.Map // bool by reflect.Type

func carries(t reflect.Type) bool {
	if known, ok := carriers.Load(t); ok {
		return known.(bool)
	}
	found := false
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice:
		found = carries(t.Elem())
	case reflect.Struct:
		found = t == checkType
		for i := 0; i < t.NumField() && !found; i++ {
			found = carries(t.Field(i).Type)
		}
	}
	carriers.Store(t, found)
	return found
}

// eachCheck visits every check in a view, wherever it hangs.
func eachCheck(v reflect.Value, visit func(*pack.Check)) {
	if !carries(v.Type()) {
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			eachCheck(v.Elem(), visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			eachCheck(v.Index(i), visit)
		}
	case reflect.Struct:
		if v.Type() == checkType {
			visit(v.Addr().Interface().(*pack.Check))
			return
		}
		for i := range v.NumField() {
			eachCheck(v.Field(i), visit)
		}
	}
}
