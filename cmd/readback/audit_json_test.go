package main

import (
	"encoding/json"
	"strings"
	"testing"

	"example.org/readback/booking/exchange/reports"
)

// The audit in JSON says what the text says: chains, judgements, and what is unsound.
func TestAudit_JSON(t *testing.T) {
	file := bookedStation(t)
	var a reports.Audit
	text := call(t, "", "audit", file, "--json").must(t, exitFine).out
	if err := json.Unmarshal([]byte(text), &a); err != nil {
		t.Fatal(err)
	}
	if !a.Sound || len(a.Chains) != 2 || a.Chains[0].What != "book" || a.Chains[1].What != "journal" || a.Chains[0].LastHash != a.Chains[1].LastHash {
		t.Errorf("%s", text)
	}
	if len(a.Judgements) == 0 || !strings.Contains(a.Judgements[0].Text, "misread") || a.Judgements[0].Station != "Weir" {
		t.Errorf("%+v", a.Judgements)
	}
	broken := strings.Replace(read(t, file+".jsonl"), "31 05 03", "31 05 04", 1)
	put(t, file+".jsonl", broken)
	got := call(t, "", "audit", file, "--json").must(t, exitNo)
	if err := json.Unmarshal([]byte(got.out), &a); err != nil || a.Sound {
		t.Errorf("%v %s", err, got.out)
	}
	call(t, "", "audit", file, "--json", "--expect", "0123456789ab").must(t, exitUsage)
}
