package parallel

import (
	"errors"
	"fmt"
	"testing"
)

func TestInOrder(t *testing.T) {
	got := Map(1000, func(i int) int { return i * i })
	for i, v := range got {
		if v != i*i {
			t.Fatalf("place %d holds %d", i, v)
		}
	}
	if len(Map(0, func(int) int { return 1 })) != 0 {
		t.Error("nothing gives something")
	}
}

func TestErrorsInOrder(t *testing.T) {
	tried := Map(10, func(int) bool { return false })
	_, err := Try(10, func(i int) (int, error) {
		tried[i] = true
		if i%4 == 3 {
			return 0, fmt.Errorf("item %d", i)
		}
		return i, nil
	})
	if err == nil || err.Error() != "item 3\nitem 7" {
		t.Errorf("errors: %v", err)
	}
	for i, ok := range tried {
		if !ok {
			t.Errorf("item %d was not tried", i)
		}
	}
	if _, err := Try(3, func(i int) (int, error) { return i, errors.Join() }); err != nil {
		t.Error(err)
	}
}
