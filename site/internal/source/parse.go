package source

import (
	"bytes"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// Parse reads markdown with the extensions of the handbook into a tree whose
// segments are byte offsets of the text. The content's parser is made once and
// may be used by several goroutines.
func (c *Content) Parse(body []byte) ast.Node {
	return c.parser.Parse(text.NewReader(body))
}

// Markdown is CommonMark with tables, footnotes, definition lists and our
// citations. Typographic replacement stays off: it spoils inch marks.
func Markdown() goldmark.Markdown {
	return goldmark.New(
		goldmark.WithExtensions(extension.NewTable(extension.WithTableCellAlignMethod(extension.TableCellAlignAttribute)), extension.Footnote, extension.DefinitionList, extension.Strikethrough),
		goldmark.WithParserOptions(
			parser.WithInlineParsers(util.Prioritized(citations{}, 90)),
			parser.WithAttribute(),
		),
	)
}

// Practice stands in the place of a key where a value is common practice: [@practice].
// The page explains the mark at its foot.
const Practice = "practice"

// Cite is an inline citation: [@key, place].
type Cite struct {
	ast.BaseInline
	Key, Place string
	Start, End int // bytes in the text, brackets included
}

// KindCite is the node kind of citations.
const kindName = "Cite"

// Kind returns the node's kind.
func (n *Cite) Kind() ast.NodeKind { return citeKind }

// Dump prints the node for debugging.
func (n *Cite) Dump(source []byte, level int) {
	ast.DumpHelper(n, source, level, map[string]string{"Key": n.Key, "Place": n.Place}, nil)
}

// citeKind is registered once: goldmark numbers its node kinds at start.
var citeKind = ast.NewNodeKind(kindName)

type citations struct{}

var _ parser.InlineParser = citations{}

// Trigger starts a citation.
func (citations) Trigger() []byte { return []byte{'['} }

// Parse reads one citation; anything else is left to the other parsers.
func (citations) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	line, seg := block.PeekLine()
	if !bytes.HasPrefix(line, []byte("[@")) {
		return nil
	}
	end := bytes.IndexByte(line, ']')
	if end < 0 {
		return nil
	}
	key, place, _ := strings.Cut(string(line[2:end]), ",")
	block.Advance(end + 1)
	return &Cite{Key: strings.TrimSpace(key), Place: strings.TrimSpace(place), Start: seg.Start, End: seg.Start + end + 1}
}
