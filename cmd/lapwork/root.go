package main

import "github.com/spf13/cobra"

// newRoot builds the command tree. Nothing is global, so that tests run many in one process.
func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "lapwork",
		Short: "Installation packs for an internal air-and-vapour control layer",
		Long: `Lapwork turns one job's data into an offline installation pack: what to fit where, in which order, with how much
of what, how to know it is right, and the record that it was.

Settings: flags, then LAPWORK_* in the environment, then firm.yaml, then the defaults.
Exit codes: 0 done; 1 faults, nothing written; 2 wrong command line; 3 open points remain (check --strict).`,
		Version:       Version,
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	root.PersistentFlags().String("firm", "", "the firm's folder with firm.yaml and its own details (default: firm/ in or beside the job)")
	root.AddCommand(newPack(), newCheck(), newStart(), newOrder(), newChanges(), newReadings(), newMoisture(), newVerify(), newShare(), newGather(), newLessons(), newLibrary(), newSchema())
	root.AddCommand(newSurvey())
	return root
}
