package diag

import (
	"fmt"
	"reflect"
	"sync"
	"testing"
)

func TestListSortsAndDropsEqual(t *testing.T) {
	var l List
	l.Add(Message{Kind: Warning, Span: Span{"b.md", 4, 5}, Text: "w"})
	l.Add(Message{Span: Span{"b.md", 4, 5}, Text: "z"})
	l.Add(Message{Span: Span{"b.md", 4, 5}, Text: "a", Notes: []string{"one 1"}})
	l.Add(Message{Span: Span{"b.md", 4, 5}, Text: "a", Notes: []string{"one 1"}})
	l.Add(Message{Span: Span{"b.md", 4, 5}, Text: "a"})
	l.Add(Message{Span: Span{"b.md", 30, 31}, Text: "late"})
	l.Add(Message{Span: Span{"a.md", 90, 91}, Text: "first file"})
	l.Add(Message{Kind: Warning, Text: "no place"})
	want := []Message{
		{Kind: Warning, Text: "no place"},
		{Span: Span{"a.md", 90, 91}, Text: "first file"},
		{Span: Span{"b.md", 4, 5}, Text: "a"},
		{Span: Span{"b.md", 4, 5}, Text: "a", Notes: []string{"one 1"}},
		{Span: Span{"b.md", 4, 5}, Text: "z"},
		{Kind: Warning, Span: Span{"b.md", 4, 5}, Text: "w"},
		{Span: Span{"b.md", 30, 31}, Text: "late"},
	}
	if got := l.Messages(); !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	if e, w := l.Errors(), l.Warnings(); e != 5 || w != 2 {
		t.Errorf("%d errors and %d warnings", e, w)
	}
}

// Callers may change what they gave and what they got; the list keeps its own.
func TestListKeepsItsOwnNotes(t *testing.T) {
	var l List
	notes := []string{"as given"}
	l.Add(Message{Text: "m", Notes: notes})
	notes[0] = "changed"
	l.Messages()[0].Notes[0] = "changed too"
	if got := l.Messages()[0].Notes[0]; got != "as given" {
		t.Errorf("got %q", got)
	}
}

func TestListConcurrent(t *testing.T) {
	var l List
	var wg sync.WaitGroup
	for i := range 8 {
		wg.Go(func() {
			for j := range 200 {
				l.Add(Message{Span: Span{fmt.Sprintf("%d.md", i), j, j}, Text: "m", Notes: []string{"n"}})
				l.Add(Message{Kind: Warning, Text: fmt.Sprint(i, j)})
				if j%50 == 0 {
					l.Messages()
				}
			}
		})
	}
	wg.Wait()
	if e, w := l.Errors(), l.Warnings(); e != 1600 || w != 1600 {
		t.Errorf("%d errors and %d warnings", e, w)
	}
	for _, m := range l.Messages() {
		if m.Kind == Error && len(m.Notes) != 1 {
			t.Errorf("%v has %d notes", m.Span, len(m.Notes))
		}
	}
}

func TestKindString(t *testing.T) {
	if Error.String() != "error" || Warning.String() != "warning" {
		t.Error(Error, Warning)
	}
}
