// Package topics holds the texts of readback help: one file a topic.
package topics

import (
	"embed"
	"maps"
	"slices"
	"strings"

	"example.org/readback/booking/exchange/reductions"
	"example.org/readback/booking/exchange/reports"
)

//go:embed *.txt
var texts embed.FS

// order is that of a day: from the first reading to what the office asks.
var order = []string{"keying", "checks", "limits", "figures", "sheet", "readings", "json", "landxml", "database", "journal", "recovery", "words", "sources"}

// Names lists the topics.
func Names() []string { return slices.Clone(order) }

// Text returns the text of a topic.
func Text(name string) (text string, ok bool) {
	b, err := texts.ReadFile(name + ".txt")
	return string(b), err == nil && slices.Contains(order, name)
}

// Title returns the first line of a topic.
func Title(name string) string {
	text, _ := Text(name)
	title, _, _ := strings.Cut(text, "\n")
	return title
}

// schemas are the JSON schemas of what the program prints, by name: made where they
// are asked for, since no other command needs them.
func schemas() map[string]string {
	all := reports.Schemas()
	all["reductions"] = reductions.Schema
	return all
}

// Schemas lists the names of the schemas.
func Schemas() []string { return slices.Sorted(maps.Keys(schemas())) }

// Schema returns a schema.
func Schema(name string) (text string, ok bool) { text, ok = schemas()[name]; return text, ok }
