package diag

import (
	"cmp"
	"slices"
	"sync"
)

// List collects messages. The zero value is empty and ready; all methods may be called from several
// goroutines at once.
type List struct {
	mu  sync.Mutex
	all []Message
}

// Add adds a message. The list keeps its own copy of the notes.
func (l *List) Add(m Message) {
	m.Notes = slices.Clone(m.Notes)
	l.mu.Lock()
	defer l.mu.Unlock()
	l.all = append(l.all, m)
}

// Errors returns the number of errors, equal messages counted once.
func (l *List) Errors() int { return l.count(Error) }

// Warnings returns the number of warnings, equal messages counted once.
func (l *List) Warnings() int { return l.count(Warning) }

func (l *List) count(k Kind) int {
	n := 0
	for _, m := range l.Messages() {
		if m.Kind == k {
			n++
		}
	}
	return n
}

// Messages returns a copy of the messages, sorted by file, offset, kind and text. Messages without a
// place come first. Of messages that are equal in everything only one is kept.
func (l *List) Messages() []Message {
	l.mu.Lock()
	all := slices.Clone(l.all)
	for i := range all {
		all[i].Notes = slices.Clone(all[i].Notes)
	}
	l.mu.Unlock()
	slices.SortFunc(all, compare)
	return slices.CompactFunc(all, func(a, b Message) bool { return compare(a, b) == 0 })
}

// compare orders by every field, so that the order never depends on which goroutine came first.
func compare(a, b Message) int {
	return cmp.Or(
		cmp.Compare(a.Span.File, b.Span.File),
		cmp.Compare(a.Span.Start, b.Span.Start),
		cmp.Compare(a.Kind, b.Kind),
		cmp.Compare(a.Text, b.Text),
		cmp.Compare(a.Span.End, b.Span.End),
		slices.Compare(a.Notes, b.Notes),
		cmp.Compare(a.ID, b.ID),
	)
}
