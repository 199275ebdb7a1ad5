package main

import (
	"fmt"
	"slices"
	"strings"

	"example.org/readback/cmd/internal/topics"
	"example.org/readback/cmd/internal/usage"
)

// HelpCmd explains commands and topics.
type HelpCmd struct {
	Topic []string `arg:"" optional:"" help:"A command, a topic, or schema NAME."`
}

// Help shows how it is called.
func (HelpCmd) Help() string {
	return `Examples:
  readback help
  readback help export
  readback help keying
  readback help schema reductions`
}

// Run prints the text.
func (h HelpCmd) Run(c *Context) error {
	switch {
	case len(h.Topic) == 0:
		return h.list(c)
	case h.Topic[0] == "schema":
		return h.schema(c)
	}
	text, ok := topics.Text(h.Topic[0])
	command := slices.Contains(commandNames(c.app), h.Topic[0])
	if ok && command { // limits, sheet: the topic, and where its command is explained
		text += fmt.Sprintf("\nThe command: readback %s --help.\n", h.Topic[0])
	}
	if command && !ok {
		if code := run([]string{h.Topic[0], "--help"}, c); code != exitFine {
			return &exitError{code: code}
		}
		return nil
	}
	if !ok {
		names := append(topics.Names(), commandNames(c.app)...)
		if near := usage.Nearest(h.Topic[0], names); near != "" {
			return badInput(fmt.Errorf("there is no help on %s: did you mean readback help %s?", h.Topic[0], near))
		}
		return badInput(fmt.Errorf("there is no help on %s: readback help lists what there is", h.Topic[0]))
	}
	_, err := fmt.Fprint(c.Out, text)
	return err
}

// list prints the commands and the topics.
func (h HelpCmd) list(c *Context) error {
	if code := run([]string{"--help"}, c); code != exitFine {
		return &exitError{code: code}
	}
	fmt.Fprintln(c.Out, "\nTopics (readback help TOPIC):")
	for _, name := range topics.Names() {
		fmt.Fprintf(c.Out, "  %-10s  %s\n", name, topics.Title(name))
	}
	_, err := fmt.Fprintf(c.Out, "\nSchemas (readback help schema NAME): %s\n", strings.Join(topics.Schemas(), ", "))
	return err
}

// schema prints the schema of a JSON output.
func (h HelpCmd) schema(c *Context) error {
	if len(h.Topic) == 2 {
		if text, ok := topics.Schema(h.Topic[1]); ok {
			_, err := fmt.Fprint(c.Out, text)
			return err
		}
	}
	return badInput(fmt.Errorf("expected readback help schema NAME, NAME being one of %s", strings.Join(topics.Schemas(), ", ")))
}
