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
		Use:   "count FOOD PACKS",
		Short: "Write down how many packs of a food are there: of all lots, or of one",
		Long: "Write down how many packs of a food are there. With a date or a place it is that lot\nalone; without, all lots of the food together." +
			actExits(),
		Example: "  hoveshort count rice 3\n  hoveshort count olive oil 1.5 --best-before 2027-03-01 --place \"galley / locker\"",
		Args:    atLeast(2),
		RunE:    do(func(args []string) error { return runCount(c, opts, args) }),
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
	return c.act(opts.actOptions, func(m moment) (checklist.Act, error) { return m.definitions.NewCount(counted) })
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
	counted := checklist.Count{Food: strings.Join(words[:last], " "), Packs: n, Place: o.place}
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
