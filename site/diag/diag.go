// Package diag holds messages for the person who writes pages and tables: each is a value with a
// place, a sentence and notes. They are collected while the work goes on, sorted, and shown last, so
// that one run shows everything that is wrong.
//
// It imports the standard library only and may be imported by every package under site and cmd.
//
//	content/handbook/40-passes/offsets.md:43:10: error: the worked example gives 0.0712 mm, the page says 0.0721 mm
//	   43 | offset ≈ 0.0721 mm
//	      |          ~~~~~~~~~
//	      = pass 2 of "ladder": wire 0.05 mm / 2 + gap 0.006 mm + stock 0.040 mm
//	1 error in 1 of 63 pages
package diag

// Kind says whether a message stops the publication.
type Kind uint8

const (
	Error   Kind = iota // the publication stops
	Warning             // the publication goes on
)

// String returns the word that stands before the sentence of a message.
func (k Kind) String() string {
	if k == Warning {
		return "warning"
	}
	return "error"
}

// Span is a place in a file: byte offsets into the file's text, End not included. Start == End is a
// point between two characters. File == "" marks a message without a place. Offsets outside the text
// are taken as the nearest place inside it.
type Span struct {
	File       string
	Start, End int
}

// Message is one finding. ID names its kind. Text is a sentence in lower case without a full stop; Notes are shown under
// the excerpt, one line each.
type Message struct {
	ID    ID
	Kind  Kind
	Span  Span
	Text  string
	Notes []string
}

// Files finds the text that a message is about.
type Files interface {
	// Source returns the whole text of the named file, or false when it cannot be had.
	Source(name string) ([]byte, bool)
}

// SourceMap is a set of texts by file name.
type SourceMap map[string][]byte

var _ Files = SourceMap(nil)

// Source returns the text of the named file.
func (m SourceMap) Source(name string) ([]byte, bool) {
	text, ok := m[name]
	return text, ok
}
