package reductions

import _ "embed" // for the schema below

// Schema is the JSON schema of what Write writes.
//
//go:embed reductions.schema.json
var Schema string
