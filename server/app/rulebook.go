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
		listCommand(),
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
them. Each limit is stricter than one of a rulebook (rulebook show ID), or a
lower figure of a published standard that is told beside one:

  shops:
    shop-1:
      version: 1        # raised with every change: kept answers name it
      limits:
        - id: tread
          stricter_than: us-light.depth
          value: 4/32 in
          says: We replace at 4/32 in.
        - id: roadside-front       # a fleet's own edition of a published
          beside: us-commercial.front-depth # standard, told beside the law
          value: 2/32 in
          standard: Roadside criteria
          edition: edition of 2026`,
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

func listCommand() *cobra.Command {
	place := ""
	cmd := &cobra.Command{
		Use: "list", Short: "List the rulebooks", Args: none,
		Long: `List the rulebooks, those of law with the code of their place: the country's,
or that of one of its States or provinces (ISO 3166).`,
		Example: "  gaugebook rulebook list --place ES\n  gaugebook rulebook list --place US-NC",
		RunE:    func(cmd *cobra.Command, _ []string) error { return listRulebooks(cmd.OutOrStdout(), place) },
	}
	cmd.Flags().StringVar(&place, "place", "", "only those that may bind in this country, State or province: ES, US-NC")
	return cmd
}

func listRulebooks(w io.Writer, place string) error {
	books := rulebook.All()
	if place != "" {
		if books = rulebook.In(place); len(books) == 0 {
			return inputError{fmt.Errorf("no law of %s is here: condition and common practice are judged there", place)}
		}
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, b := range books {
		_, _ = fmt.Fprintf(t, "%s\t%s\t%d limits\t%s\n", b.Name(), strings.Join(b.Places(), " "), len(b.Limits), b.Title)
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

// whom are those that a rule may bind, with the label that tells each.
var whom = []struct {
	is    finding.Binds
	label string
}{
	{finding.BindsDriver, "driver"}, {finding.BindsOwner, "owner"}, {finding.BindsEmployer, "employer"}, {finding.BindsCarrier, "carrier"},
	{finding.BindsInstallerOrSeller, "installer-or-seller"},
}

// copyists say whose copy of a law was read.
var copyists = map[rulebook.Copyist]string{rulebook.OfState: "copy of the law", rulebook.Reprint: "reprint", rulebook.Agency: "official guidance"}

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
		sources := []string{l.Citation, teller.Text(words.Labels, "authority."+authorities[l.Authority]), teller.Text(words.Labels, "known."+knowns[l.Known])}
		if l.Text.Copy != "" {
			sources = append(sources, copyists[l.Text.By]+": "+l.Text.Copy)
		}
		for _, w := range whom {
			if b.Bound(l)&w.is != 0 {
				sources = append(sources, "binds "+teller.Text(words.Labels, "binds."+w.label))
			}
		}
		says := l.Says
		if l.Informs != "" {
			says += " A note: nothing is judged by it, as " + l.Informs + "."
		}
		texts := []string{"Applies to: " + l.Applies.Text + ".", says, "Source: " + strings.Join(sources, "; ") + "."}
		if l.Text.Words != "" {
			texts = append(texts, `In its words: "`+l.Text.Words+`"`)
		}
		for _, text := range texts {
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
