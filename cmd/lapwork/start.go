package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"lapwork/content"
	"lapwork/generator/jobfile"
)

func newStart() *cobra.Command {
	return &cobra.Command{
		Use:   "start DIR",
		Short: "Make a new job folder with one room to change",
		Long: `Writes job.yaml with one room, explained line by line, and the schema for editor completion. Never overwrites.
The firm's own folder goes beside the jobs as firm/.`,
		Example: "  lapwork start jobs/mill-lane\n  lapwork check jobs/mill-lane",
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := start(args[0]); err != nil {
				return failed(err)
			}
			fmt.Fprintf(cmd.OutOrStdout(), "%s: change job.yaml, then: lapwork check %s\n", args[0], args[0])
			return nil
		},
	}
}

// start copies the new-job template into dir, which must be absent or empty.
func start(dir string) error {
	entries, err := os.ReadDir(dir)
	if err == nil && len(entries) > 0 {
		return fmt.Errorf("%s is not empty\n\thint: name a new folder; nothing was written", dir)
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	template, err := fs.Sub(content.FS, "start")
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	if err := os.CopyFS(dir, template); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "job.schema.json"), jobfile.Schema(), 0o644)
}

func newSchema() *cobra.Command {
	return &cobra.Command{
		Use:   "schema [job|firm|records]",
		Short: "Print the JSON Schema of job.yaml or firm.yaml, for editor completion, or of the records a tablet exports",
		Example: `  lapwork schema > job.schema.json
  lapwork schema firm > firm.schema.json
  lapwork schema records > records.schema.json`,
		Args:      cobra.MatchAll(cobra.MaximumNArgs(1), cobra.OnlyValidArgs),
		ValidArgs: []string{"job", "firm", "records"},
		RunE: func(cmd *cobra.Command, args []string) error {
			schema := jobfile.Schema()
			switch slices.Concat(args, []string{"job"})[0] {
			case "firm":
				schema = jobfile.FirmSchema()
			case "records":
				var err error
				if schema, err = fs.ReadFile(content.FS, "schema/records.schema.json"); err != nil {
					return failed(err)
				}
			}
			_, err := cmd.OutOrStdout().Write(schema)
			return failed(err)
		},
	}
}
