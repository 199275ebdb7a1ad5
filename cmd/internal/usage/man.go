package usage

import (
	"fmt"
	"io"
	"strings"

	"github.com/alecthomas/kong"
)

// Man writes the manual page, made from the commands as they are. topics are the
// names of the texts that help has.
func Man(w io.Writer, app *kong.Application, version string, topics []string) error {
	var b strings.Builder
	fmt.Fprintf(&b, ".TH READBACK 1 \"\" \"readback %s\" \"\"\n.SH NAME\nreadback \\- %s\n", roff(version), roff(strings.TrimSuffix(app.Help, ".")))
	b.WriteString(".SH SYNOPSIS\n.B readback\n[\\fICOMMAND\\fR] [\\fIOPTIONS\\fR] [\\fIFILES\\fR]\n.SH DESCRIPTION\nWithout a command your own default book is opened.\n.SH COMMANDS\n")
	for _, c := range commandsOf(app) {
		fmt.Fprintf(&b, ".SS %s\n%s\n", roff(c.Summary()), roff(c.Help))
		if c.Detail != "" {
			fmt.Fprintf(&b, ".PP\n.nf\n%s\n.fi\n", roff(c.Detail))
		}
		for _, p := range c.Positional {
			fmt.Fprintf(&b, ".TP\n\\fI%s\\fR\n%s\n", roff(p.Name), roff(p.Help))
		}
		for _, f := range flagsOf(c) {
			if f.Name != "help" && f.Name != "version" {
				fmt.Fprintf(&b, ".TP\n\\fB%s\\fR\n%s\n", roff(f.String()), roff(f.Help))
			}
		}
	}
	b.WriteString(".SH TOPICS\n.B readback help\n\\fITOPIC\\fR prints one of: " + roff(strings.Join(topics, ", ")) + ".\n")
	b.WriteString(".SH EXIT STATUS\n0 done; 1 the answer is no; 2 bad usage or a bad input file; 128+n ended by signal n.\n")
	b.WriteString(".SH CAUTION\nNever sight the Sun, and let nobody look along a telescope near it, without a proper solar filter.\nBoundary, legal and safety\\-critical results belong to licensed practice and to the local code.\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// roff writes a text so that the manual's formatter takes nothing in it for a command.
func roff(s string) string {
	s = strings.NewReplacer("\\", "\\e", "-", "\\-", "\n.", "\n\\&.", "\n'", "\n\\&'").Replace(s)
	if strings.HasPrefix(s, ".") || strings.HasPrefix(s, "'") {
		s = "\\&" + s
	}
	return s
}
