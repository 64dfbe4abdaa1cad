package check

import (
	"regexp"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"

	"kerfbook/site/internal/source"
)

// Numbers counts the numbers with a unit that a reader sees, by where they come
// from.
type Numbers struct {
	Computed, Cited, Tables, Practice, Definition, Unexplained int
	// Where holds the unexplained ones: their place and text.
	Where []Place
}

// Place is a piece of a page's text.
type Place struct {
	Start, End int
	Text       string
}

// numberPattern finds a number with a unit in running text.
func numberPattern() *regexp.Regexp {
	return regexp.MustCompile(`[0-9][0-9.,]*(?: (?:to|×) [0-9][0-9.,]*)? ?(?:mm²/min|mm/min|in²/h|mm²|mm|µm|nm|thou|tenths|µin|µS/cm|MΩ·cm|kΩ·cm|Ω·m|A/cm²|C/cm²|mg/m³|g/cm³|°C|°F|°|kV|V|A|N|MPa|GPa|kHz|Hz|J|mJ|µJ|W|%|K|min|s|h|years?|days?|hours?|minutes?|seconds?)(?:[^\p{L}\p{N}]|$)`)
}

// count counts words and numbers. Every number with a unit in running text must
// be explained by its paragraph: a printed result of an example, a citation,
// the mark or the words of common practice, or "by definition".
func (c *checker) count() {
	number := c.number
	_ = ast.Walk(c.page.Doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		if b, ok := c.page.Blocks[n]; ok {
			f := b.Facts()
			c.page.Numbers.Computed += f.Computed
			c.page.Numbers.Tables += f.Tables
			return ast.WalkSkipChildren, nil
		}
		if n.Type() == ast.TypeBlock && n.FirstChild() != nil && n.FirstChild().Type() == ast.TypeInline {
			c.countText(n, number)
		}
		return ast.WalkContinue, nil
	})
	for _, b := range c.page.Blocks {
		if text := b.Facts().Text; text != nil {
			_ = ast.Walk(text, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
				if entering && n.Kind() == ast.KindParagraph {
					c.countText(n, number)
				}
				return ast.WalkContinue, nil
			})
		}
	}
}

func (c *checker) countText(n ast.Node, number *regexp.Regexp) {
	cited, practice, computed := false, false, 0
	var text strings.Builder
	var marks []Place
	_ = ast.Walk(n, func(m ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch m := m.(type) {
		case *source.Cite:
			if m.Key == source.Practice {
				practice = true
			} else {
				cited = true
			}
		case *ast.CodeSpan:
			if _, ok := c.page.Inline[m]; ok {
				computed++
			}
			return ast.WalkSkipChildren, nil
		case *ast.Text:
			value := m.Segment.Value(c.page.Body)
			for _, at := range number.FindAllIndex(value, -1) {
				marks = append(marks, Place{m.Segment.Start + at[0], m.Segment.Start + at[1], strings.TrimSpace(string(value[at[0]:at[1]]))})
			}
			text.Write(value)
			text.WriteByte(' ')
		}
		return ast.WalkContinue, nil
	})
	words := strings.FieldsFunc(text.String(), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-' && r != '\'' })
	c.page.Words += len(words)
	c.page.Numbers.Computed += computed
	lower := strings.ToLower(text.String())
	switch {
	case len(marks) == 0:
	case cited:
		c.page.Numbers.Cited += len(marks)
	case practice || strings.Contains(lower, "common practice"):
		c.page.Numbers.Practice += len(marks)
	case strings.Contains(lower, "by definition"):
		c.page.Numbers.Definition += len(marks)
	default:
		c.page.Numbers.Unexplained += len(marks)
		c.page.Numbers.Where = append(c.page.Numbers.Where, marks...)
	}
}
