package reports

import "time"

// An Audit document is the JSON of an audit.
type Audit struct {
	Path       string       `json:"path"`
	Sound      bool         `json:"sound" what:"every event matches its hash and follows from the one before it"`
	Unread     string       `json:"unread,omitempty" what:"why the book file cannot be read"`
	Chains     []AuditChain `json:"chains"`
	Differ     string       `json:"differ,omitempty" what:"the first event that book and journal hold differently"`
	Notes      []string     `json:"notes"`
	Judgements []Judgement  `json:"judgements" what:"where somebody decided something"`
}

// An AuditChain is one chain of events that was looked at.
type AuditChain struct {
	What       string   `json:"what" what:"book, journal or copy"`
	Path       string   `json:"path"`
	Name       string   `json:"name,omitempty" what:"of the book that was gathered"`
	Book       string   `json:"book" what:"identity: what its first event follows on"`
	Events     uint64   `json:"events" what:"sound and linked, from event 1 on"`
	LastHash   string   `json:"last_hash,omitempty"`
	Fault      string   `json:"fault,omitempty"`
	FaultEvent uint64   `json:"fault_event,omitempty"`
	Senseless  []string `json:"senseless,omitempty" what:"events that are sound and mean nothing"`
	Torn       bool     `json:"torn,omitempty" what:"the last line breaks off; it was never shown as saved"`
	ClockBack  int      `json:"clock_back,omitempty" what:"how often the clock went back"`
	Index      string   `json:"index,omitempty" what:"what is wrong with the index"`
	Unseen     string   `json:"unseen,omitempty" what:"why it could not be looked at"`
}

// A Judgement is an event in which somebody decided something.
type Judgement struct {
	Event   uint64    `json:"event"`
	Setup   int       `json:"setup" what:"0: of the book itself"`
	Station string    `json:"station"`
	At      time.Time `json:"at"`
	By      string    `json:"by"`
	Text    string    `json:"text"`
}
