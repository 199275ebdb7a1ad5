package places

import "container/heap"

// A pending is a set of numbers from 0 that gives back the least first, each once.
type pending struct {
	in   []bool
	list numbers
}

func (p *pending) add(i int) {
	if !p.in[i] {
		p.in[i] = true
		heap.Push(&p.list, i)
	}
}

func (p *pending) next() (i int, ok bool) {
	if len(p.list) == 0 {
		return 0, false
	}
	i = heap.Pop(&p.list).(int)
	p.in[i] = false
	return i, true
}

// all takes everything out, ascending.
func (p *pending) all() []int {
	var out []int
	for i, ok := p.next(); ok; i, ok = p.next() {
		out = append(out, i)
	}
	return out
}

// numbers is a heap of container/heap.
type numbers []int

func (n numbers) Len() int           { return len(n) }
func (n numbers) Less(i, j int) bool { return n[i] < n[j] }
func (n numbers) Swap(i, j int)      { n[i], n[j] = n[j], n[i] }
func (n *numbers) Push(x any)        { *n = append(*n, x.(int)) }
func (n *numbers) Pop() any {
	last := (*n)[len(*n)-1]
	*n = (*n)[:len(*n)-1]
	return last
}
