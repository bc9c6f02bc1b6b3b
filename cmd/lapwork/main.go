// Command lapwork makes offline installation packs for an internal air-and-vapour control layer from a job's data.
//
// Exit codes: 0 done; 1 the input has faults or the work failed, nothing was written; 2 the command line is wrong;
// 3 open points remain (check --strict).
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"syscall"

	"lapwork/generator"
)

// Version is the program's version, printed in every pack.
const Version = "0.1.0"

func main() {
	generator.TuneMemory(os.Getenv("GOMEMLIMIT") == "", os.Getenv("GOGC") == "")
	os.Exit(run(os.Args[1:]))
}

// run carries out one command line and gives its exit code.
func run(args []string) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second interrupt ends what does not listen
	root := newRoot()
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return 0
	}
	var exit exitError
	if errors.As(err, &exit) {
		if exit.text != "" {
			fmt.Fprintln(root.ErrOrStderr(), exit.text)
		}
		return exit.code
	}
	fmt.Fprintf(root.ErrOrStderr(), "lapwork: %v\n", err)
	return exitUsage
}

// The exit codes.
const (
	exitFault = 1
	exitUsage = 2
	exitOpen  = 3
)

// exitError ends the program with a code, and a text where the command has not printed one.
type exitError struct {
	code int
	text string
}

func (e exitError) Error() string { return e.text }

// failed ends the program with code 1 and the error's text.
func failed(err error) error {
	if err == nil {
		return nil
	}
	return exitError{exitFault, "lapwork: " + err.Error()}
}
