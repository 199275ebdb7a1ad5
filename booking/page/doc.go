// Package page is the one model of a printed page and its writers: plain text,
// rows of styled runs for a screen, and HTML for paper.
//
// What a page says is put together elsewhere, as blocks: paragraphs, tables with
// struck figures and numbered notes, drawings. How wide a column is, where a
// line breaks and how a struck figure looks is decided here and nowhere else, so
// that screen, command and paper cannot differ.
//
// Text that comes from people or files (names, reasons, remarks) may hold
// anything. Every writer makes what cannot be seen visible (see Visible): nobody
// else has to.
//
// Widths are cells of a terminal, as package ansi measures them.
package page
