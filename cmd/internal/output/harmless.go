package output

import "io"

// A Harmless writer shows control characters as pictures, so that no name and no
// remark of a book reaches a terminal as a command: ESC becomes ␛. Line ends and
// tabs stay. It leaves the bytes of everything else alone.
type Harmless struct {
	w    io.Writer
	buf  []byte
	err  error // of the first write that failed
	half bool  // the first byte of a control character of two bytes is held back
}

// Write implements io.Writer. It takes all of p or returns the error of the
// writer below.
func (h *Harmless) Write(p []byte) (int, error) {
	if !h.half && clean(p) == len(p) {
		n, err := h.w.Write(p)
		h.note(err)
		return n, err
	}
	h.buf = h.buf[:0]
	for rest := p; len(rest) > 0; {
		if n := clean(rest); n > 0 && !h.half {
			h.buf, rest = append(h.buf, rest[:n]...), rest[n:]
			continue
		}
		h.add(rest[0])
		rest = rest[1:]
	}
	if _, err := h.w.Write(h.buf); err != nil {
		h.note(err)
		return 0, err
	}
	return len(p), nil
}

func (h *Harmless) note(err error) {
	if h.err == nil {
		h.err = err
	}
}

// Err returns the error of the first write that failed: an output that is short
// must not look whole, whoever wrote it.
func (h *Harmless) Err() error { return h.err }

// c1 is the first byte of the control characters U+0080 to U+009F in UTF-8.
const c1 = 0xc2

func (h *Harmless) add(b byte) {
	if h.half {
		h.half = false
		if b >= 0x80 && b < 0xa0 {
			h.buf = append(h.buf, "\uFFFD"...)
			return
		}
		h.buf = append(h.buf, c1)
	}
	switch {
	case b == c1:
		h.half = true
	case b == 0x7f:
		h.buf = append(h.buf, "\u2421"...)
	case b < ' ' && b != '\n' && b != '\r' && b != '\t':
		h.buf = append(h.buf, string(rune(0x2400)+rune(b))...)
	default:
		h.buf = append(h.buf, b)
	}
}

// clean returns how many bytes from the first on need no second look. A degree sign
// begins as a control character of two bytes does, and stands in every line: the byte
// behind it tells.
func clean(p []byte) int {
	for i, b := range p {
		switch {
		case b > 0x7f && b != c1 || b >= ' ' && b < 0x7f || b == '\n' || b == '\r' || b == '\t':
		case b == c1 && i+1 < len(p) && (p[i+1] < 0x80 || p[i+1] >= 0xa0):
		default:
			return i
		}
	}
	return len(p)
}

// NewHarmless returns a harmless writer on w.
func NewHarmless(w io.Writer) *Harmless { return &Harmless{w: w} }
