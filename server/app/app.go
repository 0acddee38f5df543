// Package app is the program: its commands, and the one room where the parts of
// the service are put together.
package app

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"github.com/agnivade/levenshtein"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"gaugebook.dev/server/words"
)

// Version of the program, set when a release is built.
var Version = "0.1.0-dev"

// Exit statuses of the program, of the same meaning in every command.
const (
	exitDone     = 0
	exitFailed   = 1 // something could not be read, written or carried through
	exitBadInput = 2 // what was given is wrong: the call, or what stands in a file
)

// statuses tells them in the help.
const statuses = `Exit status, of every command: 0 done; 1 something could not be read, written
or carried through; 2 what was given is wrong, be it the call or a file.`

// inputError is an error of the caller's making.
type inputError struct{ error }

// callError is a call that no command takes: how the command is called stands below it.
type callError struct {
	error
	of *cobra.Command
}

func (e callError) Unwrap() error { return inputError{e.error} }

// sayf writes a line for a person, or several, with nothing in them that steers a
// terminal. One that takes nothing more leaves no one to tell.
func sayf(w io.Writer, format string, args ...any) {
	for line := range strings.SplitSeq(fmt.Sprintf(format, args...), "\n") {
		_, _ = io.WriteString(w, words.Harmless(line)+"\n")
	}
}

// Main runs one command and gives the exit status of the process.
// scenario holds the invented visits of the demo.
func Main(ctx context.Context, args []string, scenario fs.FS, in io.Reader, out, errs io.Writer) int {
	keepPrivate()
	root := commands(scenario)
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errs)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return exitDone
	}
	sayf(errs, "gaugebook: %v", err)
	if wrong, ok := errors.AsType[callError](err); ok {
		sayf(errs, "%s", wrong.howCalled())
	}
	if _, ok := errors.AsType[inputError](err); ok {
		return exitBadInput
	}
	return exitFailed
}

// commands makes the tree of commands.
func commands(scenario fs.FS) *cobra.Command {
	root := &cobra.Command{
		Use:   "gaugebook",
		Short: "The service behind the gauge: tire readings in, findings with evidence and an order of work out",
		Long: `The service behind the gauge: tire readings in, findings with evidence and an
order of work out.

` + statuses,
		Example:       "  gaugebook assess testdata/demo/sedan-nail.json\n  gaugebook demo",
		Version:       Version,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          commandKnown,
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetVersionTemplate("gaugebook {{.Version}}\n")
	root.SetFlagErrorFunc(flagWrong)
	root.SetHelpCommand(helpCommand())
	root.AddCommand(assessCommand(), serveCommand(), backupCommand(), restoreCommand(), verifyCommand(), salvageCommand(), rejudgeCommand(), demoCommand(scenario), acceptLossCommand(), rulebookCommand(), versionCommand())
	refuseWrongCalls(root)
	return root
}

func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use: "help [COMMAND]", Short: "Say how a command is called", Example: "  gaugebook help assess", Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			of, rest, err := cmd.Root().Find(args)
			if err := cmp.Or(commandKnown(of, rest), err); err != nil {
				return callError{err, of}
			}
			return of.Help()
		},
	}
}

// refuseWrongCalls lets a command and those below it refuse a call with how it is
// called: a wrong number of arguments, a flag that is missing.
func refuseWrongCalls(cmd *cobra.Command) {
	check := cmd.Args
	cmd.Args = func(cmd *cobra.Command, args []string) error {
		err := cmp.Or(check(cmd, args), cmd.ValidateRequiredFlags(), cmd.ValidateFlagGroups())
		if err == nil {
			return nil
		}
		return callError{err, cmd}
	}
	for _, below := range cmd.Commands() {
		refuseWrongCalls(below)
	}
}

// one takes one argument, which is what it is called.
func one(what string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		switch {
		case len(args) == 0:
			return fmt.Errorf("%s is missing", what)
		case len(args) > 1:
			return fmt.Errorf("only one %s; given %s", what, strings.Join(args, " "))
		}
		return nil
	}
}

// none takes no arguments.
func none(cmd *cobra.Command, args []string) error {
	if len(args) > 0 {
		return fmt.Errorf("%s takes flags alone; given %s", cmd.Name(), strings.Join(args, " "))
	}
	return nil
}

// howCalled is how the command is called, with an example.
func (e callError) howCalled() string {
	text := "\nUsage:\n  " + e.of.UseLine() + "\n"
	if e.of.HasAvailableSubCommands() {
		text = "\nUsage:\n  " + e.of.CommandPath() + " COMMAND\n"
	}
	return text + "\nExample:\n" + e.of.Example + "\n\n" + e.of.CommandPath() + " --help says more."
}

// suggestWithin is the distance of the farthest word that may have been meant.
const suggestWithin = 2

// commandKnown refuses a word that is no command, with the nearest one.
func commandKnown(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	cmd.SuggestionsMinimumDistance = suggestWithin
	return fmt.Errorf("there is no command %q%s", args[0], didYouMean(cmd.SuggestionsFor(args[0])))
}

// flagWrong refuses a flag, with the nearest ones where there is none of that name.
func flagWrong(cmd *cobra.Command, err error) error {
	unknown, ok := errors.AsType[*pflag.NotExistError](err)
	if !ok {
		return callError{err, cmd}
	}
	given := strings.ToLower(unknown.GetSpecifiedName())
	var near []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		if len(given) > 1 && (levenshtein.ComputeDistance(given, f.Name) <= suggestWithin || strings.HasPrefix(f.Name, given)) {
			near = append(near, "--"+f.Name)
		}
	})
	return callError{fmt.Errorf("%w%s", err, didYouMean(near)), cmd}
}

// didYouMean asks for one of several names; of none it asks nothing.
func didYouMean(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return "; did you mean " + strings.Join(names, " or ") + "?"
}
