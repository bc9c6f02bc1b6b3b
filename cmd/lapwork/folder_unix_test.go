//go:build unix

package main

import (
	"syscall"
	"testing"
)

func makePipe(t *testing.T, at string) {
	t.Helper()
	if err := syscall.Mkfifo(at, 0o644); err != nil {
		t.Skipf("no pipes here: %v", err)
	}
}
