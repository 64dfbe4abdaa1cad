package render

import (
	"fmt"
	"html"
	"strings"
)

// A body stands in two places: on a page of its own and in the one file, where its
// links lead elsewhere, its ids have a prefix and its live calculators are links.
// So it is rendered with marks in the places that differ, and set twice. The marks
// are bytes that no UTF-8 text holds, so that no content can write one.
const (
	hrefMark   = '\xf8' // an address follows, up to the end
	prefixMark = '\xf9'
	eitherMark = '\xfa' // what stands on a page of its own follows, then elseMark and what stands in the one file
	elseMark   = '\xfb'
	endMark    = '\xfc'
)

// Href marks a link to an address under the root ("wire/index.html#gap"). What comes
// out may be escaped as any text.
func (c *Context) Href(address string) string {
	return string([]byte{hrefMark}) + address + string([]byte{endMark})
}

// Prefix marks what goes before every id of the page.
func (c *Context) Prefix() string { return string([]byte{prefixMark}) }

// either marks what is one thing on a page of its own and another in the one file.
func either(own, one string) string {
	return string([]byte{eitherMark}) + own + string([]byte{elseMark}) + one + string([]byte{endMark})
}

// Place says where a body is set.
type Place struct {
	// Href writes an address under the root as a link from there.
	Href   func(address string) string
	Prefix string // before every id; "" on a page of its own
	One    bool   // in the one file
}

// Body is a rendered body, to be set in its places.
type Body struct{ pieces []piece }

// piece is a text that is the same everywhere, and the mark after it.
type piece struct {
	text     string
	mark     byte   // 0 at the end
	address  string // of hrefMark
	own, one []piece
}

// NewBody reads a body's marks.
func NewBody(text string) (*Body, error) {
	pieces, rest, err := read(text)
	if err == nil && rest != "" {
		err = fmt.Errorf("a mark ends where none began, before %.40q", rest)
	}
	if err != nil {
		return nil, err
	}
	return &Body{pieces}, nil
}

// read reads pieces up to a mark that ends or divides what holds them.
func read(text string) (out []piece, rest string, err error) {
	for {
		i := indexMark(text)
		if i < 0 {
			return append(out, piece{text: text}), "", nil
		}
		p := piece{text: text[:i], mark: text[i]}
		after := text[i+1:]
		switch p.mark {
		case endMark, elseMark:
			return append(out, piece{text: p.text}), text[i:], nil
		case hrefMark:
			end := strings.IndexByte(after, endMark)
			if end < 0 {
				return nil, "", fmt.Errorf("a link has no end: %.40q", after)
			}
			p.address, after = html.UnescapeString(after[:end]), after[end+1:]
		case eitherMark:
			if p.own, after, err = read(after); err != nil {
				return nil, "", err
			}
			if after == "" || after[0] != elseMark {
				return nil, "", fmt.Errorf("a choice has no other side: %.40q", after)
			}
			if p.one, after, err = read(after[1:]); err != nil {
				return nil, "", err
			}
			if after == "" || after[0] != endMark {
				return nil, "", fmt.Errorf("a choice has no end: %.40q", after)
			}
			after = after[1:]
		}
		out, text = append(out, p), after
	}
}

// indexMark finds the first mark. Bytes as high as these are in no text, so that
// the search passes over it fast.
func indexMark(text string) int {
	for i := range len(text) {
		if c := text[i]; c >= hrefMark && c <= endMark {
			return i
		}
	}
	return -1
}

// Set writes the body as it stands in a place.
func (b *Body) Set(p Place) string {
	var s strings.Builder
	n := 0
	for _, x := range b.pieces {
		n += len(x.text) + 2*len(x.address)
	}
	s.Grow(n)
	set(&s, b.pieces, p)
	return s.String()
}

func set(s *strings.Builder, pieces []piece, p Place) {
	for _, x := range pieces {
		s.WriteString(x.text)
		switch x.mark {
		case hrefMark:
			s.WriteString(html.EscapeString(p.Href(x.address)))
		case prefixMark:
			s.WriteString(html.EscapeString(p.Prefix))
		case eitherMark:
			if p.One {
				set(s, x.one, p)
			} else {
				set(s, x.own, p)
			}
		}
	}
}
