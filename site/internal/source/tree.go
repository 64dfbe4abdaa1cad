package source

import (
	"strings"

	"github.com/yuin/goldmark/ast"
)

// Plain is the text of a node without its markup.
func Plain(n ast.Node, body []byte) string {
	var s strings.Builder
	_ = ast.Walk(n, func(m ast.Node, entering bool) (ast.WalkStatus, error) {
		if t, ok := m.(*ast.Text); ok && entering {
			s.Write(t.Segment.Value(body))
			if t.SoftLineBreak() {
				s.WriteByte(' ')
			}
		}
		if t, ok := m.(*ast.String); ok && entering {
			s.Write(t.Value)
		}
		return ast.WalkContinue, nil
	})
	return s.String()
}

// Anchor is the name that links use for a heading: its own, {#name}, or one
// made of its text.
func Anchor(h *ast.Heading, body []byte) string {
	if v, ok := h.AttributeString("id"); ok {
		if b, isBytes := v.([]byte); isBytes {
			return string(b)
		}
	}
	return slug(Plain(h, body))
}

// slug makes an anchor of a heading's text: lower-case letters, digits, hyphens.
func slug(text string) string {
	var s strings.Builder
	for _, r := range strings.ToLower(text) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			s.WriteRune(r)
		case s.Len() > 0 && !strings.HasSuffix(s.String(), "-"):
			s.WriteByte('-')
		}
	}
	out := strings.Trim(s.String(), "-")
	if out == "" {
		return "part"
	}
	return out
}

// Ours is a part of a page that the shop set in: its children are the shop's.
type Ours struct {
	ast.BaseBlock
	Title string // what stands over it, may be empty
}

// oursKind is registered once: goldmark numbers its node kinds at start.
var oursKind = ast.NewNodeKind("Ours")

// Kind returns the node's kind.
func (n *Ours) Kind() ast.NodeKind { return oursKind }

// Dump prints the node for debugging.
func (n *Ours) Dump(source []byte, level int) {
	ast.DumpHelper(n, source, level, map[string]string{"Title": n.Title}, nil)
}
