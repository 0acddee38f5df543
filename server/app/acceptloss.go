package app

import (
	"errors"
	"log/slog"

	"github.com/spf13/cobra"

	"gaugebook.dev/server/history/badger"
)

func acceptLossCommand() *cobra.Command {
	var at place
	cmd := &cobra.Command{
		Use:   "accept-loss --store FOLDER CODE",
		Short: "Go on with a damaged book without what is missing of it",
		Long: `Go on with a damaged book without what is missing of it. A server that finds
damage does not start: it says what is damaged and how much may be missing, and
prints the code of that damage, which is good for it alone. Putting back a copy
made before may lose less.

What can be read stays. What is cut, mended or taken out is kept as it was in a
folder beside the book, which is named at the end. The feed gets a new epoch:
every counter is told to list again. Nothing is changed where nothing is damaged.`,
		Example: "  gaugebook accept-loss --store book 7gqzd-m4wxa",
		Args:    one("CODE"),
		RunE: func(cmd *cobra.Command, args []string) error {
			log := slog.New(slog.NewTextHandler(cmd.ErrOrStderr(), nil))
			kept, err := badger.AcceptLoss(at.dir, args[0], badger.Options{Logger: log, StateDir: at.stateDir()})
			if wrong, ok := errors.AsType[*badger.CodeError](err); ok {
				if wrong.Damage == nil {
					sayf(cmd.OutOrStdout(), "Nothing is damaged in %s, so there is no loss to accept.", at.dir)
					return nil
				}
				return inputError{at.told(err)}
			}
			if err != nil {
				return at.told(err)
			}
			sayf(cmd.OutOrStdout(), "The book in %s can be served again, without what was missing. What was cut is kept in %s.", at.dir, kept)
			return nil
		},
	}
	cmd.Flags().StringVar(&at.dir, "store", "", "folder of the book, which no server has open")
	at.stateFlag(cmd)
	cobra.CheckErr(cmd.MarkFlagRequired("store"))
	return cmd
}
