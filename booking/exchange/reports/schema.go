package reports

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"time"
)

// Schemas returns the JSON schemas of the documents, by name.
func Schemas() map[string]string {
	return map[string]string{
		"figure":    schemaOf("The figures of books", Figures{}),
		"health":    schemaOf("The history of instruments", Health{}),
		"fieldtest": schemaOf("A field test", FieldTest{}),
		"audit":     schemaOf("An audit of a book", Audit{}),
		"season":    schemaOf("A season at a glance", Season{}),
		"plan":      schemaOf("What the plans of books bring", Plans{}),
	}
}

// A node is one part of a schema.
type node struct {
	Schema      string           `json:"$schema,omitempty"`
	Title       string           `json:"title,omitempty"`
	Description string           `json:"description,omitempty"`
	Type        string           `json:"type,omitempty"`
	Format      string           `json:"format,omitempty"`
	Required    []string         `json:"required,omitempty"`
	Properties  map[string]*node `json:"properties,omitempty"`
	Additional  *bool            `json:"additionalProperties,omitempty"`
	Items       *node            `json:"items,omitempty"`
}

// schemaOf makes the JSON schema (draft 2020-12) of a document from its
// declaration: the names of its json tags, the words of its what tags. A field that
// may be left out is not required.
func schemaOf(title string, document any) string {
	n := nodeOf(reflect.TypeOf(document))
	n.Schema, n.Title = "https://json-schema.org/draft/2020-12/schema", title
	text, _ := json.MarshalIndent(n, "", " ") // a node always marshals
	return string(text) + "\n"
}

func nodeOf(t reflect.Type) *node {
	switch t.Kind() {
	case reflect.Pointer:
		return nodeOf(t.Elem())
	case reflect.Slice:
		return &node{Type: "array", Items: nodeOf(t.Elem())}
	case reflect.Struct:
		if t == reflect.TypeFor[time.Time]() {
			return &node{Type: "string", Format: "date-time"}
		}
		no := false
		n := &node{Type: "object", Properties: map[string]*node{}, Additional: &no}
		n.fields(t)
		slices.Sort(n.Required)
		return n
	case reflect.String:
		return &node{Type: "string"}
	case reflect.Bool:
		return &node{Type: "boolean"}
	case reflect.Float64:
		return &node{Type: "number"}
	}
	return &node{Type: "integer"}
}

// fields adds the fields of a struct, those of an embedded one as its own.
func (n *node) fields(t reflect.Type) {
	for i := range t.NumField() {
		f := t.Field(i)
		name, rest, _ := strings.Cut(f.Tag.Get("json"), ",")
		if f.Anonymous && name == "" {
			n.fields(f.Type)
			continue
		}
		p := nodeOf(f.Type)
		p.Description = f.Tag.Get("what")
		n.Properties[name] = p
		if !strings.Contains(rest, "omitempty") {
			n.Required = append(n.Required, name)
		}
	}
}
