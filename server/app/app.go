// Package app is the program: its commands, and the one room where the parts of
// the service are put together.
package app

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"

	"github.com/spf13/cobra"
)

// Version of the program, set when a release is built.
var Version = "0.1.0-dev"

// Exit codes of the program.
const (
	exitDone     = 0
	exitFailed   = 1 // could not read or write
	exitBadInput = 2 // what was given cannot be judged
)

// inputError is an error of the caller's making.
type inputError struct{ error }

// sayf writes a line for a person. A terminal that takes nothing more leaves no
// one to tell.
func sayf(w io.Writer, format string, args ...any) {
	_, _ = fmt.Fprintf(w, format+"\n", args...)
}

// Main runs one command and gives the exit code of the process.
// scenario holds the invented visits of the demo.
func Main(ctx context.Context, args []string, scenario fs.FS, in io.Reader, out, errs io.Writer) int {
	root := &cobra.Command{
		Use:           "gaugebook",
		Short:         "The service behind the gauge: tire readings in, findings with evidence and an order of work out",
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          commandKnown,
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errs)
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return inputError{err} })
	root.AddCommand(assessCommand(), serveCommand(), rejudgeCommand(), demoCommand(scenario), rulebookCommand(), versionCommand())
	err := root.ExecuteContext(ctx)
	var bad inputError
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &bad):
		sayf(errs, "gaugebook: %v", err)
		return exitBadInput
	}
	sayf(errs, "gaugebook: %v", err)
	return exitFailed
}

// commandKnown refuses a word that is no command, with the nearest one.
func commandKnown(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	near := ""
	if s := cmd.SuggestionsFor(args[0]); len(s) > 0 {
		near = fmt.Sprintf("; did you mean %q?", s[0])
	}
	return inputError{fmt.Errorf("there is no command %q%s", args[0], near)}
}

// arguments wraps a check of positional arguments: a wrong number is bad input.
func arguments(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if err := check(cmd, args); err != nil {
			return inputError{err}
		}
		return nil
	}
}
