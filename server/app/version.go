package app

import (
	"github.com/spf13/cobra"

	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/verdict"
)

func versionCommand() *cobra.Command {
	return &cobra.Command{
		Use: "version", Short: "Print the versions of program, judgement and rulebooks",
		Example: "  gaugebook version", Args: none,
		RunE: func(cmd *cobra.Command, _ []string) error {
			w := cmd.OutOrStdout()
			sayf(w, "gaugebook %s\nengine %s", Version, verdict.Engine)
			for _, b := range rulebook.All() {
				sayf(w, "rulebook %s", b.Name())
			}
			return nil
		},
	}
}
