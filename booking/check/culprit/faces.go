package culprit

import (
	"fmt"
	"slices"
	"strings"

	"example.org/readback/booking/check/slip"
	"example.org/readback/reduce/faces"
)

// A Reader is one of the readings that a suspect may be, where the geometry leaves
// the face open, with the kinds of slip that its digits allow.
type Reader struct {
	Round int // 0: a vertical circle reading
	Face  faces.Face
	Kinds []slip.Way // by share; Unknown is a poor sight, or nothing known
}

// allowed is the share from which a kind of slip is told of a face (assumed).
const allowed = 0.25

// Readers are told of a suspect whose face is open: every reading that fits nearly
// as well as the leading one.
func (r *ranking) readers(s Suspect, lead *hypothesis, i int) []Reader {
	at := r.f.list[lead.items[i]]
	if at.form != oneReading || s.Alike || s.Face != faces.NoFace || s.Kind == slip.DirectionDiffers {
		return nil
	}
	q := r.f.s.Readings[at.at]
	var list []Reader
	for k, p := range r.f.s.Readings {
		if p.Target != q.Target || s.Round > 0 && p.Round != q.Round {
			continue
		}
		x := hypothesis{items: slices.Clone(lead.items)}
		x.items[i] = k
		if _, ok := r.f.solve(&x); ok && x.ss < lead.ss+4 {
			list = append(list, Reader{p.Round, p.Face, Allowed(r.f.search(&x, i, k))})
		}
	}
	if len(list) < 2 {
		return nil
	}
	return list
}

// Allowed returns the kinds of a search whose share is large enough to be told, the
// parts of the reading taken together; the likeliest where none is.
func Allowed(found slip.Result) []slip.Way {
	var sums []slip.Way
	for _, w := range found.Ways {
		i := slices.IndexFunc(sums, func(x slip.Way) bool { return x.Kind == w.Kind })
		if i < 0 {
			sums = append(sums, w)
			continue
		}
		sums[i].Share += w.Share
		if sums[i].Part != w.Part {
			sums[i].Part = slip.NoPart
		}
	}
	slices.SortStableFunc(sums, func(a, b slip.Way) int {
		switch {
		case a.Share > b.Share:
			return -1
		case a.Share < b.Share:
			return 1
		}
		return 0
	})
	n := 1
	for n < len(sums) && sums[n].Share >= allowed {
		n++
	}
	return sums[:min(n, len(sums))]
}

// ReadersText says what may have happened on either face: "Face left: digits
// exchanged or one digit misread; face right: one digit misread. Read both."
func ReadersText(list []Reader) string {
	rounds := false
	for _, x := range list {
		rounds = rounds || x.Round != list[0].Round
	}
	var parts []string
	for _, x := range list {
		var kinds []string
		for _, w := range x.Kinds {
			kinds = append(kinds, kindWords(w.Kind))
		}
		where := x.Face.Words()
		if rounds {
			where += fmt.Sprintf(" of round %d", x.Round)
		}
		parts = append(parts, where+": "+strings.Join(kinds, " or "))
	}
	text := strings.Join(parts, "; ")
	read := "Read both."
	if len(list) > 2 {
		read = "Read them all."
	}
	return strings.ToUpper(text[:1]) + text[1:] + ". " + read
}

func kindWords(k slip.Kind) string {
	if k == slip.Unknown {
		return "a poor sight"
	}
	return string(k)
}
