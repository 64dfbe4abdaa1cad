package book

import "sync"

// kept is what was made of a book once and is the same for all who ask.
type kept struct {
	lock sync.Mutex
	by   map[string]any
}

// Keep returns what make returns, made once for this book and name and kept with
// it: a law with its constants read, a shop's cuts learnt. What is made must not
// change afterwards, and make must not ask Keep again.
func (b *Book) Keep(name string, make func() any) any {
	b.kept.lock.Lock()
	defer b.kept.lock.Unlock()
	if v, ok := b.kept.by[name]; ok {
		return v
	}
	v := make()
	if b.kept.by == nil {
		b.kept.by = map[string]any{}
	}
	b.kept.by[name] = v
	return v
}
