// Package panel writes an answer as the named slots of a page and a drawing as
// SVG. It serves the publisher, which prerenders every calculator, and the
// wasm, which answers in the page. Tags and attribute names are constants, every
// value is escaped. It may import the standard library's text packages, book,
// calc, figure and unit.
package panel

import "strings"

// builder collects markup.
type builder struct{ s strings.Builder }

// raw adds constant markup. It takes one string, because calls with several
// are a good part of the wasm's size.
func (b *builder) raw(markup string) { b.s.WriteString(markup) }

// text adds escaped text.
func (b *builder) text(t string) {
	for i := range len(t) {
		switch t[i] {
		case '&', '<', '>', '"', '\'':
			b.s.WriteString(escape(t))
			return
		}
	}
	b.s.WriteString(t)
}

// el adds an element with a class, "" for none, and escaped text.
func (b *builder) el(tag, class, text string) {
	b.open(tag, class)
	b.text(text)
	b.shut(tag)
}

// open adds a start tag with a class, "" for none.
func (b *builder) open(tag, class string) {
	b.start(tag, class)
	b.raw(">")
}

// start begins a tag; attr may follow, then raw(">").
func (b *builder) start(tag, class string) {
	b.raw("<")
	b.raw(tag)
	if class != "" {
		b.attr("class", class)
	}
}

// attr adds an attribute: a constant name and an escaped value.
func (b *builder) attr(name, value string) {
	b.raw(" ")
	b.raw(name)
	b.raw("=\"")
	b.text(value)
	b.raw("\"")
}

// shut adds an end tag.
func (b *builder) shut(tag string) {
	b.raw("</")
	b.raw(tag)
	b.raw(">")
}

func (b *builder) String() string { return b.s.String() }

// escape writes the five signs that mean something in markup as references.
func escape(t string) string {
	var s strings.Builder
	for i := range len(t) {
		switch t[i] {
		case '&':
			s.WriteString("&amp;")
		case '<':
			s.WriteString("&lt;")
		case '>':
			s.WriteString("&gt;")
		case '"':
			s.WriteString("&#34;")
		case '\'':
			s.WriteString("&#39;")
		default:
			s.WriteByte(t[i])
		}
	}
	return s.String()
}

// percent escapes a text for the value of a link's fragment.
func percent(t string) string {
	const hex = "0123456789ABCDEF"
	var s strings.Builder
	for i := range len(t) {
		c := t[i]
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '-', c == '.', c == '_', c == '~':
			s.WriteByte(c)
		default:
			s.WriteString("%" + string(hex[c>>4]) + string(hex[c&15]))
		}
	}
	return s.String()
}
