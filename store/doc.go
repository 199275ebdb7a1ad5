// Package store keeps the events of a field book so that none is lost and none
// is quietly changed. It knows no procedure: an event is a numbered record with
// a kind, a version, a group (0 the book itself, n the setup n) and a body in
// JSON that the store does not look into.
//
// A book is three files: NAME holds the events (a bbolt file), NAME.jsonl is
// the journal, the same events as lines of JSON, and NAME.reserve is space held
// for a full disk. NAME.holder names who has the book open. A second journal
// can be kept in another directory, on a card for example.
//
// # It promises
//
//  1. When Append returns without an error, the event is in the book and in the
//     journal, and both were synced. A killed program, a power cut, a full disk
//     lose at most the event whose Append had not returned.
//  2. Events are numbered without a gap, in the order in which they were booked,
//     whatever the clock says, and chained: each carries the SHA-256 of its
//     content and of the one before. Nothing is updated or deleted.
//  3. Each event is proven by its hash whenever it is read. A changed one is an
//     error that names it; it is never handed out.
//  4. On opening, the end of the book is held against the end of the journal.
//     The one that is behind catches up, and Opening says so; when they differ
//     the book is refused with both sides shown. Opening takes the same time
//     for one event and for a million.
//  5. After a failed write nothing more is booked until Reopen, which tells
//     whether the event is there. Appending it once more makes no second one.
//  6. A file that is deleted, replaced or cut while it is open is noticed at the
//     next Append, nothing is acknowledged into it, and the whole log is
//     written to a new book.
//  7. A damaged file is an error that says what is wrong and what to do; it is
//     no panic, no fault and no hang. Restore builds the book anew from the
//     journal, from its copy, or from what is left in the damaged file.
//  8. Whoever reads a closed book (proof.Open) gets all of it, proven from event 1
//     to the last and held against the number that was counted beside the events
//     and against the journal, or an error. A short answer is an error.
//  9. Nothing is written over. What stands in the way is kept under another name.
//
// # It assumes
//
//  1. A sync that returns without an error has reached the medium.
//  2. A page that was not written keeps its old content; one that was being
//     written when the power went may be torn at any byte.
//  3. Renaming within a directory is atomic, and durable after the directory
//     was synced.
//  4. The lock on the file is honoured; on a network disk it may not be.
//  5. The file system is not one of the ext4 kernels with fast_commit, which are
//     known to lose syncs.
//
// # It does not promise
//
//  1. A disk that says "written" and lies: when it loses the end of the book
//     and the end of the journal together, the last events are gone and nothing
//     inside the two files can show it. The copy on another disk can.
//  2. A person who writes the whole book, its journal and its copies anew from
//     some event on: the chain is no signature. The number and hash of the last
//     event, noted on paper or sent to the office in the evening, is.
//  3. The loss of the book, the journal and every copy.
//
// Nor does it promise that a book file moves between machines of different byte
// order: the journal does.
//
// # Order of a booking
//
// Append looks at both files (are they still the ones that were opened, and of
// the size they had?), writes the book in one bbolt transaction and the journal
// line at the same time, waits for both syncs, looks at both files again, and
// only then acknowledges; then the copy is written, whose failure shows in
// Status and stops nothing. One goroutine appends; others may read meanwhile,
// and Status never waits for the disk.
package store
