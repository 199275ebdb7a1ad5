package reductions

import _ "embed" // for the schema below

// Schema is the JSON schema of what Append and Writer write.
//
//go:embed reductions.schema.json
var Schema string
