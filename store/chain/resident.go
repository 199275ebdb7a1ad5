package chain

import bolt "go.etcd.io/bbolt"

// A file is mapped by bbolt, so that every page that is read stays in the memory of this
// process until the system wants it back: of a season 600 MB, which a small machine would
// take from others. The pages of a file larger than bigFile are given back whenever
// mostMapped was read; the system keeps them, and maps them again at little cost.
const (
	bigFile    = 16 << 20
	mostMapped = 8 << 20
	aroundTx   = 64 << 10 // what a transaction, or a batch of a long one, maps around what it reads
)

// letGo gives the mapped pages back when it is time. It must be called inside of the
// transaction: then the map stays where it is.
func (h *File) letGo(tx *bolt.Tx) {
	size := tx.Size()
	if h.read.Add(aroundTx) < mostMapped || size < bigFile {
		return
	}
	h.read.Store(0)
	release(tx.DB().Info().Data, uintptr(size))
}
