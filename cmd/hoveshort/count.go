package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/quantity"
)

type countOptions struct {
	actOptions
	bestBefore, useBy, bought, place string
}

func newCountCommand(c *call) *cobra.Command {
	var opts countOptions
	cmd := &cobra.Command{
		Use:   "count FOOD [bought|used|thrown-away] PACKS",
		Short: "Write down how many packs of a food are there, or were bought, used, thrown away",
		Long: "Write down how many packs of a food are there. With a date or a place it is that lot\nalone; without, all lots of the food together.\n\n" +
			"bought adds packs: without a date they were bought today, without a place they lie where\nmost of that food does. used and thrown-away take packs off a lot, the one that ends\n" +
			"soonest where several fit. What the rations eat is taken off by itself: used is beside them." +
			actExits(),
		Example: "  hoveshort count rice 3\n  hoveshort count olive oil 1.5 --best-before 2027-03-01 --place \"galley / locker\"\n" +
			"  hoveshort count rice bought 4 --best-before 2027-08-01\n  hoveshort count cabbage thrown-away 1",
		Args: atLeast(2),
		RunE: do(func(args []string) error { return runCount(c, opts, args) }),
	}
	cmd.Flags().StringVar(&opts.bestBefore, "best-before", "", "the `date` of quality on the lot, as 2027-02-01")
	cmd.Flags().StringVar(&opts.useBy, "use-by", "", "the `date` of safety on the lot")
	cmd.Flags().StringVar(&opts.bought, "bought", "", "the `date` on which the lot was bought")
	cmd.Flags().StringVar(&opts.place, "place", "", "`where` the lot lies")
	opts.flags(cmd.Flags())
	return cmd
}

func runCount(c *call, opts countOptions, words []string) error {
	counted, err := opts.count(words)
	if err != nil {
		return err
	}
	return c.act(opts.actOptions, func(m moment) (checklist.Act, error) {
		return m.definitions.NewStocked(m.state, m.assess(), counted)
	})
}

func (o countOptions) count(words []string) (checklist.Count, error) {
	last := len(words) - 1
	if last > 1 && (words[last] == "packs" || words[last] == "pack") {
		last--
	}
	n, err := strconv.ParseFloat(words[last], 64)
	if err != nil || n != n {
		return checklist.Count{}, usage("for example: hoveshort count rice 3", "%q is no number of packs", words[last])
	}
	food, did := whatWasDone(strings.Join(words[:last], " "))
	counted := checklist.Count{Food: food, Packs: n, Place: o.place, Did: did}
	for _, date := range []struct {
		flag, text string
		to         *quantity.Date
	}{{"best-before", o.bestBefore, &counted.BestBefore}, {"use-by", o.useBy, &counted.UseBy}, {"bought", o.bought, &counted.Bought}} {
		if date.text == "" {
			continue
		}
		if *date.to, err = quantity.ParseDate(date.text); err != nil {
			return checklist.Count{}, coded(exitUsage, "", fmt.Errorf("--%s: %w", date.flag, err))
		}
	}
	return counted, nil
}

// whatWasDone parts "rice bought" into the food and what was done with it.
func whatWasDone(text string) (food string, did checklist.CountWord) {
	for _, word := range checklist.CountWords {
		for _, written := range []string{string(word), strings.ReplaceAll(string(word), " ", "-")} {
			if food, is := strings.CutSuffix(text, " "+written); is {
				return strings.TrimSpace(food), word
			}
		}
	}
	return text, ""
}
