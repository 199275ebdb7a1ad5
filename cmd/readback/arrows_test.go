package main

// arrows are the rooms and what each may import of the house: what is not drawn here
// may not be imported, a room that is not drawn here may not stand, and an arrow that
// nothing uses any more is taken away. Draw an arrow only where it shows downwards: to
// a floor below, or to a room of the same floor that does not know this one.
var arrows = map[string][]string{
	"reduce":           {"reduce/decimal"},
	"reduce/adjust":    {"reduce", "reduce/faces", "reduce/normal"},
	"reduce/fieldtest": {"reduce", "reduce/faces", "reduce/precision"},
	"reduce/decimal":   {},
	"reduce/faces":     {"reduce"},
	"reduce/lengths":   {"reduce", "reduce/decimal"},
	"reduce/normal":    {},
	"reduce/places":    {"reduce/normal", "reduce/precision", "reduce/traverse"},
	"reduce/precision": {},
	"reduce/slope":     {"reduce", "reduce/decimal"},
	"reduce/traverse":  {"reduce", "reduce/normal"},
	"reduce/trend":     {"reduce/precision"},
	"booking": {
		"booking/event", "booking/spec", "booking/spec/field", "reduce", "reduce/faces", "reduce/lengths",
	},
	"booking/spec": {
		"reduce", "reduce/decimal", "reduce/faces", "reduce/lengths", "reduce/precision", "reduce/slope",
		"booking/spec/field",
	},
	"booking/spec/field": {},
	"booking/event":      {"reduce", "reduce/decimal", "reduce/faces", "reduce/lengths", "booking/spec"},
	"booking/reduction": {
		"reduce", "reduce/adjust", "reduce/faces", "reduce/lengths", "reduce/precision", "reduce/slope",
		"booking", "booking/spec",
	},
	"booking/programme": {"reduce", "reduce/faces", "booking", "booking/reduction", "booking/spec"},
	"booking/day":       {"reduce", "booking", "booking/event", "booking/reduction", "booking/spec"},
	"booking/check": {
		"reduce", "reduce/faces", "reduce/lengths", "reduce/precision", "reduce/slope", "booking",
		"booking/check/align", "booking/check/completion", "booking/check/culprit", "booking/check/forecast",
		"booking/check/slip", "booking/day", "booking/event", "booking/programme", "booking/reduction",
		"booking/spec", "booking/spec/field",
	},
	"booking/check/align":      {"reduce", "reduce/faces", "reduce/precision"},
	"booking/check/completion": {"reduce"},
	"booking/check/culprit": {
		"reduce", "reduce/adjust", "reduce/faces", "reduce/precision", "booking/check/align",
		"booking/check/completion", "booking/check/slip",
	},
	"booking/check/forecast": {"reduce", "reduce/faces", "reduce/normal", "booking/check/align"},
	"booking/check/slip":     {"reduce", "booking/check/completion"},
	"booking/exchange": {
		"reduce", "reduce/faces", "reduce/lengths", "booking", "booking/check", "booking/event",
		"booking/spec", "booking/spec/field",
	},
	"booking/exchange/landxml": {
		"reduce", "reduce/faces", "reduce/lengths", "booking", "booking/check", "booking/page/sheet",
		"booking/reduction", "booking/spec",
	},
	"booking/exchange/reductions": {
		"reduce", "reduce/decimal", "reduce/faces", "reduce/lengths", "booking", "booking/check",
		"booking/exchange", "booking/instrument", "booking/page", "booking/reduction", "booking/spec",
	},
	"booking/exchange/reports": {
		"reduce/fieldtest", "reduce/places", "booking/check", "booking/day", "booking/instrument",
		"booking/network",
	},
	"booking/exchange/tables": {
		"reduce", "booking", "booking/check", "booking/day", "booking/event", "booking/instrument",
		"booking/network", "booking/reduction", "booking/spec",
	},
	"booking/instrument": {
		"reduce", "reduce/faces", "reduce/fieldtest", "reduce/precision", "reduce/trend", "booking",
		"booking/day", "booking/page", "booking/reduction", "booking/spec",
	},
	"booking/network": {
		"reduce", "reduce/decimal", "reduce/lengths", "reduce/places", "reduce/precision", "reduce/slope",
		"reduce/traverse", "booking/check", "booking/day", "booking/event", "booking/page", "booking/spec",
	},
	"booking/observer": {
		"reduce", "reduce/faces", "reduce/lengths", "reduce/slope", "reduce/traverse", "booking",
		"booking/check/slip", "booking/event", "booking/programme", "booking/spec",
	},
	"booking/page": {},
	"booking/page/sheet": {
		"reduce", "reduce/decimal", "reduce/faces", "reduce/lengths", "reduce/traverse", "booking",
		"booking/check", "booking/day", "booking/event", "booking/instrument", "booking/network",
		"booking/page", "booking/reduction", "booking/spec",
	},
	"booking/season": {
		"reduce", "reduce/adjust", "reduce/faces", "reduce/precision", "booking", "booking/check",
		"booking/check/culprit", "booking/check/slip", "booking/event", "booking/observer",
		"booking/programme", "booking/reduction", "booking/spec",
	},
	"store":         {"store/chain", "store/disk", "store/fault", "store/journal", "store/pages", "store/proof", "store/repair"},
	"store/chain":   {"store/disk", "store/fault", "store/journal", "store/pages"},
	"store/disk":    {},
	"store/fault":   {"store/disk"},
	"store/journal": {"store/disk", "store/fault"},
	"store/pages":   {"store/fault", "store/journal"},
	"store/proof":   {"store/chain", "store/disk", "store/fault", "store/journal"},
	"store/repair":  {"store/chain", "store/disk", "store/fault", "store/journal", "store/pages", "store/proof"},
	"tui": {
		"reduce", "reduce/decimal", "reduce/faces", "reduce/lengths", "booking", "booking/check",
		"booking/check/completion", "booking/check/culprit", "booking/day", "booking/event",
		"booking/instrument", "booking/network", "booking/page", "booking/programme", "booking/reduction",
		"booking/spec", "booking/spec/field", "tui/input", "tui/look", "tui/plot", "tui/widget",
	},
	"tui/background":     {},
	"tui/input":          {},
	"tui/look":           {"booking/page"},
	"tui/plot":           {"reduce", "tui/look"},
	"tui/widget":         {"reduce", "tui/look"},
	"cmd/internal/aloud": {},
	"cmd/internal/book": {
		"reduce", "reduce/lengths", "booking", "booking/check", "booking/day", "booking/event",
		"booking/exchange", "booking/exchange/landxml", "booking/exchange/reports", "booking/exchange/tables",
		"booking/instrument", "booking/network", "booking/page", "booking/page/sheet", "booking/reduction",
		"booking/spec", "store", "store/chain", "store/fault", "store/proof", "tui", "cmd/internal/paper",
		"cmd/internal/program",
	},
	"cmd/internal/drill": {
		"booking", "booking/event", "booking/observer", "booking/spec", "store", "cmd/internal/book",
		"cmd/internal/output",
	},
	"cmd/internal/filekind": {},
	"cmd/internal/output":   {"store/disk", "cmd/internal/filekind"},
	"cmd/internal/paper": {
		"reduce", "reduce/faces", "reduce/lengths", "booking/exchange", "booking/exchange/reductions", "booking/spec", "cmd/internal/output",
	},
	"cmd/internal/program":  {},
	"cmd/internal/settings": {},
	"cmd/internal/term":     {},
	"cmd/internal/topics":   {"booking/exchange/reductions", "booking/exchange/reports"},
	"cmd/internal/usage":    {},
	"cmd/readback": {
		"reduce", "reduce/lengths", "booking", "booking/check", "booking/check/slip", "booking/day",
		"booking/event", "booking/exchange", "booking/exchange/landxml", "booking/exchange/reductions",
		"booking/exchange/reports", "booking/exchange/tables", "booking/instrument", "booking/network",
		"booking/observer", "booking/page", "booking/page/sheet", "booking/reduction", "booking/season",
		"booking/spec", "store", "store/disk", "store/fault", "store/journal", "store/repair", "tui",
		"tui/background", "cmd/internal/aloud", "cmd/internal/book", "cmd/internal/drill",
		"cmd/internal/filekind", "cmd/internal/output", "cmd/internal/paper", "cmd/internal/program",
		"cmd/internal/settings", "cmd/internal/term", "cmd/internal/topics", "cmd/internal/usage",
	},
}
