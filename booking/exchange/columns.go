package exchange

import (
	"fmt"
	"slices"
	"strings"
)

// The columns, in the order they are written. The last four say where a row came
// from; who reads a file takes no notice of them.
var columns = [...]string{"setup", "station", "round", "face", "target", "quantity", "reading", "unit", "time", "struck", "remark", "order",
	"observer", "booker", "book", "book_id"}

// The numbers of the columns in that order.
const (
	colSetup = iota
	colStation
	colRound
	colFace
	colTarget
	colQuantity
	colReading
	colUnit
	colTime
	colStruck
	colRemark
	colOrder
	colObserver
	colBooker
	colBook
	colBookID
	numColumns
)

// needed is the number of columns that must be there: the first ones.
const needed = colTime

// A layout says where each column stands in a file: its index in a row, −1 when
// the file lacks it.
type layout [numColumns]int

// nameOf returns the name of the column that is the cell with this number, from
// 1, of a row; empty where there is none.
func (l layout) nameOf(cell int) string {
	if l == (layout{}) {
		return "" // the header was not read yet
	}
	if c := slices.Index(l[:], cell-1); c >= 0 {
		return columns[c]
	}
	return ""
}

// readHeader finds the columns of a file.
func readHeader(file string, cells []string) (layout, faults) {
	var lay layout
	var faults faults
	for i := range lay {
		lay[i] = -1
	}
	for i, cell := range cells {
		name := strings.TrimSpace(cell)
		c := slices.Index(columns[:], name)
		fault := &fault{File: file, Line: 1, Column: i + 1}
		switch {
		case c < 0 && len(cells) == 1 && strings.ContainsAny(name, ";\t"):
			fault.What = "the cells of the header are not separated by commas: expected a comma between two cells, as RFC 4180 has it"
		case c < 0:
			fault.What = fmt.Sprintf("%s is not a column of a readings file: expected %s", quoted(name), strings.Join(columns[:], ", "))
		case lay[c] >= 0:
			fault.Name = name
			fault.What = fmt.Sprintf("the column stands in column %d already: expected each column once", lay[c]+1)
		default:
			lay[c] = i
			continue
		}
		faults = append(faults, fault)
	}
	var missing []string
	for c := range needed {
		if lay[c] < 0 {
			missing = append(missing, columns[c])
		}
	}
	if len(missing) > 0 && len(faults) == 0 {
		faults = append(faults, &fault{File: file, Line: 1, Column: len(cells) + 1,
			What: fmt.Sprintf("the header lacks %s: expected %s", strings.Join(missing, ", "), strings.Join(columns[:needed], ", "))})
	}
	return lay, faults
}
