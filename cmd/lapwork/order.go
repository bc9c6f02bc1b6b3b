package main

import "github.com/spf13/cobra"

func newOrder() *cobra.Command { return &cobra.Command{Use: "order [JOB]", Short: "Order"} }
