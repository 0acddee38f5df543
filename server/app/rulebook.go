package app

import (
	"fmt"
	"io"
	"log/slog"
	"strings"
	"text/tabwriter"

	"github.com/mitchellh/go-wordwrap"
	"github.com/spf13/cobra"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/rulebook"

	"gaugebook.dev/server/shoprules"
	"gaugebook.dev/server/words"
)

func rulebookCommand() *cobra.Command {
	cmd := &cobra.Command{Use: "rulebook", Short: "Show the limits that visits are judged by, with their sources",
		Example: "  gaugebook rulebook list\n  gaugebook rulebook show us-light", Args: commandKnown,
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() }}
	cmd.AddCommand(
		&cobra.Command{
			Use: "list", Short: "List the rulebooks", Example: "  gaugebook rulebook list", Args: none,
			RunE: func(cmd *cobra.Command, _ []string) error { return listRulebooks(cmd.OutOrStdout()) },
		},
		&cobra.Command{
			Use: "show ID", Short: "Print one rulebook as a table with sources",
			Example: "  gaugebook rulebook show us-light\n  gaugebook rulebook show us-light@1", Args: one("ID"),
			RunE: func(cmd *cobra.Command, args []string) error {
				b, ok := rulebook.Get(args[0])
				if !ok {
					return inputError{noRulebook(args[0])}
				}
				return showRulebook(cmd.OutOrStdout(), b)
			},
		},
		&cobra.Command{
			Use: "check FILE", Short: "Check a file of shops' own rules and print them as tables",
			Long: `Check a file of shops' own rules, as serve takes it with --rules, and print
them. Each limit is stricter than one of a rulebook (rulebook show ID):

  shops:
    shop-1:
      version: 1        # raised with every change: kept answers name it
      limits:
        - id: tread
          stricter_than: us-light.depth
          value: 4/32 in
          says: We replace at 4/32 in.`,
			Example: "  gaugebook rulebook check rules.yaml",
			Args:    one("FILE"),
			RunE:    func(cmd *cobra.Command, args []string) error { return checkRules(cmd.OutOrStdout(), args[0]) },
		},
	)
	return cmd
}

func checkRules(w io.Writer, name string) error {
	file, err := shoprules.Open(name, slog.New(slog.DiscardHandler))
	if err != nil {
		return rulesError(err)
	}
	for i, shop := range file.Shops() {
		if i > 0 {
			sayf(w, "")
		}
		sayf(w, "%s:", shop)
		if err := showRulebook(w, file.Of(shop)); err != nil {
			return err
		}
	}
	return nil
}

func noRulebook(name string) error {
	return fmt.Errorf("there is no rulebook %q; there are %s", name, strings.Join(rulebookIDs(), ", "))
}

func rulebookIDs() []string {
	var ids []string
	for _, b := range rulebook.All() {
		ids = append(ids, b.ID)
	}
	return ids
}

func listRulebooks(w io.Writer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, b := range rulebook.All() {
		_, _ = fmt.Fprintf(t, "%s\t%d limits\t%s\n", b.Name(), len(b.Limits), b.Title)
	}
	return t.Flush()
}

var (
	authorities = map[finding.Authority]string{
		finding.LawInUse: "law-in-use", finding.ModelStandard: "model-standard", finding.PublishedStandard: "published-standard",
		finding.CommonPractice: "common-practice", finding.Maker: "maker", finding.Shop: "shop",
	}
	knowns = map[finding.Known]string{finding.Read: "read", finding.Reported: "reported", finding.FromMemory: "from-memory"}
)

// showRulebook prints each limit as a block of at most 80 columns: number and
// scope on top, then the rule in words, then where it is written and how known.
func showRulebook(w io.Writer, b *rulebook.Book) error {
	teller, _ := words.Reader{}.Tellers()
	var out strings.Builder
	fmt.Fprintf(&out, "%s  %s\n\n%-28s %-12s %s\n", b.Name(), b.Title, "LIMIT", "VALUE", "OF")
	for _, l := range b.Limits {
		value := teller.Value(words.Exact(l.Value))
		if value == "" {
			value = "-"
		}
		fmt.Fprintf(&out, "\n%-28s %-12s %s\n", l.ID, value, l.Subject)
		source := fmt.Sprintf("%s; %s; %s", l.Citation, teller.Text(words.Labels, "authority."+authorities[l.Authority]), teller.Text(words.Labels, "known."+knowns[l.Known]))
		says := l.Says
		if l.Informs != "" {
			says += " A note: nothing is judged by it, as " + l.Informs + "."
		}
		for _, text := range []string{"Applies to: " + l.Applies.Text + ".", says, "Source: " + source + "."} {
			for line := range strings.SplitSeq(wordwrap.WrapString(words.Harmless(text), 76), "\n") {
				fmt.Fprintf(&out, "    %s\n", line)
			}
		}
	}
	for line := range strings.Lines(out.String()) {
		if _, err := io.WriteString(w, words.Harmless(strings.TrimSuffix(line, "\n"))+"\n"); err != nil {
			return err
		}
	}
	return nil
}
