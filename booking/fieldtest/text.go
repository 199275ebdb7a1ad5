package fieldtest

import (
	"fmt"
	"strings"

	"example.org/readback/reduce"
)

// probability is that of the confidence interval and of the tests.
const probability = 0.95

// Text prints the report in lines of at most 80 columns.
func Text(r Report) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Field test after ISO 17123-3: %s", r.Instrument.Name)
	if r.Instrument.Serial != "" {
		fmt.Fprintf(&b, " serial %s", r.Instrument.Serial)
	}
	fmt.Fprintf(&b, "\nSetups: %s\n", strings.Trim(fmt.Sprint(r.Setups), "[]"))
	if h := r.Horizontal; h != nil {
		r.part(&b, "one direction observed once on both faces", *h)
	}
	if v := r.Vertical; v != nil {
		r.part(&b, "one altitude observed once on both faces", v.FieldTest)
		fmt.Fprintf(&b, "  Index error %s, standard deviation %.2f″: %s\n", signed(v.Index), v.IndexSD, differs(v.IsZero, "zero"))
	}
	for _, m := range r.Missing {
		fmt.Fprintf(&b, "\n%s\n", m)
	}
	b.WriteString("\nThe standard asks for targets spread round the horizon, near it, 100 m to 250 m\n" +
		"away. The weather belongs beside the result.\n")
	return b.String()
}

// part prints one of the two tests.
func (r Report) part(b *strings.Builder, of string, t reduce.FieldTest) {
	form := "not a form of the standard"
	switch {
	case t.Full:
		form = "the full test"
	case t.AsStandard:
		form = "the short form"
	}
	fmt.Fprintf(b, "\nStandard deviation of %s\n  (%s)\n", of, form)
	for i, s := range t.Series {
		fmt.Fprintf(b, "  series %d  s %6.2f″  degrees of freedom %2d\n", i+1, s.S, s.Dof)
	}
	writeAgainst(b, t.Series)
	low, high := t.S.Confidence(probability)
	fmt.Fprintf(b, "  all       s %6.2f″  degrees of freedom %2d  95 %%: %.2f″ to %.2f″\n", t.S.S, t.S.Dof, low, high)
	sigma := r.Instrument.Sigma.Seconds()
	test := t.S.AgainstStated(sigma, 1-probability)
	if !test.Possible {
		fmt.Fprintln(b, "  The instrument's σ is not stated: there is nothing to hold this against.")
		return
	}
	limit := sigma * reduce.StatedFactor(t.S.Dof, 1-probability)
	word := "is not larger than"
	if !test.Passed {
		word = "is larger than"
	}
	fmt.Fprintf(b, "  At 95 %% this %s the stated σ of %.2f″ (s up to %.2f″ passes).\n", word, sigma, limit)
}

// writeAgainst holds two series against each other, where there are two: F, both
// sides.
func writeAgainst(b *strings.Builder, series []reduce.Spread) {
	if len(series) != 2 {
		return
	}
	t := series[0].Against(series[1], 1-probability)
	if !t.Possible {
		fmt.Fprintln(b, "  The two cannot be held against each other: one of them has no spread.")
		return
	}
	word := "do not differ"
	if !t.Passed {
		word = "differ"
	}
	fmt.Fprintf(b, "  At 95 %% the two series %s: s²/s² = %.2f, F from %.2f to %.2f.\n", word, t.Statistic, t.Low, t.High)
}

func differs(t reduce.Test, from string) string {
	if t.Passed {
		return "at 95 % it does not differ from " + from + "."
	}
	return "at 95 % it differs from " + from + "."
}

// signed writes seconds with their sign.
func signed(s float64) string {
	return strings.Replace(fmt.Sprintf("%+.2f″", s), "-", "−", 1)
}
