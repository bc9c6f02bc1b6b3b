package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"lapwork/generator/output"
)

func newVerify() *cobra.Command {
	cmd := &cobra.Command{
		Use:     "verify PACK",
		Short:   "Tell whether a byte of a pack has changed since it was written",
		Example: "  lapwork verify lapwork-pack",
		Args:    cobra.ExactArgs(1),
		RunE:    runVerify,
	}
	cmd.Flags().Bool("json", false, "print the result as JSON")
	return cmd
}

// changeJSON is a change as --json prints it.
type changeJSON struct {
	Path string `json:"path"`
	What string `json:"what"`
}

func runVerify(cmd *cobra.Command, args []string) error {
	v, err := settings(cmd, "")
	if err != nil {
		return failed(err)
	}
	changes, err := output.Verify(args[0])
	if err != nil {
		return failed(fmt.Errorf("%s: %w", args[0], err))
	}
	w := cmd.OutOrStdout()
	if v.GetBool("json") {
		list := []changeJSON{}
		for _, c := range changes {
			list = append(list, changeJSON(c))
		}
		err = writeJSON(w, struct {
			Changes []changeJSON `json:"changes"`
		}{list})
	} else {
		for _, c := range changes {
			fmt.Fprintf(w, "%s %s\n", c.Path, c.What)
		}
	}
	if err != nil {
		return failed(err)
	}
	if len(changes) > 0 {
		return exitError{exitFault, fmt.Sprintf("%s: %s since the pack was written", args[0], plural(len(changes), "change"))}
	}
	if !v.GetBool("json") {
		fmt.Fprintf(w, "%s: as it was written\n", args[0])
	}
	return nil
}
