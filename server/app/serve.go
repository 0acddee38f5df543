package app

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"os/signal"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	"go.yaml.in/yaml/v3"

	"gaugebook.dev/server/access"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/shoprules"
)

func serveCommand() *cobra.Command {
	var accessFile, rulesFile string
	var at place
	var on doors
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "Keep the book and answer over gRPC and JSON until interrupted",
		Long: `Keep the book of the shops named in the access file and answer over gRPC and
JSON until interrupted. The access file lists tokens of 16 characters at least;
make your own:

  tokens:
    - {token: long-random-text-1, name: phone, role: bench, shops: [shop-1]}
    - {token: long-random-text-2, name: desk, role: counter, shops: [shop-1]}

A bench records vehicles and visits, and reads; a counter records vehicles,
reads, sets the shop's own settings and follows the feed.

A book is made with --new, once; afterwards a folder without one is refused.
All files are checked before the first call: a damaged book is not served.`,
		Example: "  gaugebook serve --store new-book --new --access access.yaml\n  gaugebook serve --store book --access access.yaml\n  gaugebook serve --store book --access access.yaml --rules rules.yaml",
		Args:    none,
		RunE: func(cmd *cobra.Command, _ []string) error {
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			defer context.AfterFunc(ctx, stop)() // a second signal ends the process at once
			if err := on.check(); err != nil {
				return err
			}
			keys, err := readAccess(accessFile)
			if err != nil {
				return err
			}
			limitMemory()
			log := slog.New(slog.NewTextHandler(cmd.ErrOrStderr(), nil))
			own, err := openRules(ctx, rulesFile, log)
			if err != nil {
				return err
			}
			store, err := at.open(log)
			if err != nil {
				return err
			}
			album, err := at.openPhotos()
			if err != nil {
				return errors.Join(err, store.Close())
			}
			s, err := start(store, album, keys, own, on, log)
			if err != nil {
				return err
			}
			s.operator = openOperator(at.dir, store, album, log)
			sayf(cmd.OutOrStdout(), "gRPC on %s, JSON on http://%s", s.grpcAt.Addr(), s.httpAt.Addr())
			return s.run(ctx)
		},
	}
	at.flags(cmd)
	cmd.Flags().StringVar(&accessFile, "access", "", "file of tokens, as above")
	cmd.Flags().StringVar(&rulesFile, "rules", "", "file of shops' own rules, each stricter than one of a rulebook; read again when it changes")
	on.flags(cmd)
	cobra.CheckErr(cmd.MarkFlagRequired("access"))
	return cmd
}

// lookAtRules is how often the file of the shops' own rules is looked at.
const lookAtRules = 2 * time.Second

// openRules gives the shops' own rules and keeps them as the file has them, until
// the context ends.
func openRules(ctx context.Context, name string, log *slog.Logger) (ownRules, error) {
	if name == "" {
		return judge.NoneOwn, nil
	}
	file, err := shoprules.Open(name, log)
	if err != nil {
		return nil, rulesError(err)
	}
	go file.Watch(ctx, lookAtRules)
	return file.Of, nil
}

// rulesError tells a file with something wrong in it from one that cannot be read.
func rulesError(err error) error {
	if problems := (shoprules.Problems)(nil); errors.As(err, &problems) {
		return inputError{err}
	}
	return err
}

// shortestToken is the fewest characters of a token that cannot be guessed.
const shortestToken = 16

// readAccess reads the file of tokens. What is wrong with it is said without
// repeating a token.
func readAccess(name string) ([]access.Key, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	var file struct {
		Tokens []accessToken `yaml:"tokens"`
	}
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	decoder.KnownFields(true)
	if err := decoder.Decode(&file); err != nil {
		return nil, inputError{fmt.Errorf("%s: %s", name, quotedInYAML.ReplaceAllString(err.Error(), "a value"))}
	}
	if len(file.Tokens) == 0 {
		return nil, inputError{fmt.Errorf("%s: no tokens: nobody could call", name)}
	}
	var keys []access.Key
	for i, t := range file.Tokens {
		if problem := t.problem(); problem != "" {
			return nil, inputError{fmt.Errorf("%s: tokens[%d]: %s", name, i, problem)}
		}
		key := access.NewKey(t.Token, t.Name, t.Role, t.Shops...)
		if k := slices.IndexFunc(keys, func(k access.Key) bool { return k.Hash == key.Hash }); k >= 0 {
			return nil, inputError{fmt.Errorf("%s: tokens[%d]: tokens[%d] is the same token", name, i, k)}
		}
		keys = append(keys, key)
	}
	return keys, nil
}

// quotedInYAML is how the decoder repeats what it cannot take.
var quotedInYAML = regexp.MustCompile("`[^`]*`")

type accessToken struct {
	Token string      `yaml:"token"`
	Name  string      `yaml:"name"`
	Role  access.Role `yaml:"role"`
	Shops []string    `yaml:"shops"`
}

func (t accessToken) problem() string {
	switch {
	case len(t.Token) < shortestToken:
		return fmt.Sprintf("a token has at least %d characters", shortestToken)
	case strings.TrimSpace(t.Token) != t.Token:
		return "a token has no blanks around it"
	case !slices.Contains([]access.Role{access.Bench, access.Counter}, t.Role):
		return fmt.Sprintf("no role %q; there are bench and counter", t.Role)
	case t.Name == "" || len(t.Shops) == 0:
		return "a name and at least one shop are needed"
	}
	for _, shop := range t.Shops {
		if err := history.CheckShop(shop); err != nil {
			return err.Error()
		}
	}
	return ""
}
