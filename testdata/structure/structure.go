// Package structure looks at a page's HTML as somebody does who works without a
// mouse or without eyes: by its headings, landmarks, identifiers and the order
// of what can take the focus. For tests only. It may import the HTML parser and
// the standard library.
//
// What it asks for is from WCAG 2.2 (W3C Recommendation, 2023): 2.4.1 (bypass
// blocks), 1.3.1 and 2.4.6 (headings), 2.4.8 (location), and from the HTML
// standard: an identifier stands once in a tree, a document has one main element
// that is shown, and main does not stand in an article.
package structure

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"golang.org/x/net/html"
)

// Faults lists what is wrong with a page of the handbook. The small pages that
// only lead to another address have nothing to look at.
func Faults(page io.Reader) ([]string, error) {
	doc, err := html.Parse(page)
	if err != nil {
		return nil, err
	}
	l := &look{ids: map[string]*html.Node{}, labels: map[string]bool{}}
	for n := range doc.Descendants() {
		if n.Type == html.ElementNode {
			l.all = append(l.all, n)
		}
	}
	if slices.ContainsFunc(l.all, func(n *html.Node) bool { return attr(n, "http-equiv") == "refresh" }) {
		return nil, nil
	}
	l.identifiers()
	l.landmarks()
	l.headings()
	l.skipLinks()
	l.place()
	return l.faults, nil
}

type look struct {
	all    []*html.Node // elements in the order of the page
	ids    map[string]*html.Node
	labels map[string]bool
	faults []string
}

func (l *look) fault(format string, args ...any) {
	l.faults = append(l.faults, fmt.Sprintf(format, args...))
}

func (l *look) identifiers() {
	for _, n := range l.all {
		id := attr(n, "id")
		if id == "" {
			continue
		}
		if l.ids[id] != nil {
			l.fault("the identifier %q stands twice", id)
		}
		l.ids[id] = n
	}
	for _, n := range l.all {
		for _, key := range []string{"for", "aria-labelledby", "aria-describedby", "aria-controls"} {
			for _, id := range strings.Fields(attr(n, key)) {
				if l.ids[id] == nil {
					l.fault("%s=%q on <%s> names nothing", key, id, n.Data)
				}
			}
		}
	}
}

func (l *look) landmarks() {
	mains := 0
	for _, n := range l.all {
		switch n.Data {
		case "main":
			if mains++; inside(n, "article") != nil {
				l.fault("main stands inside an article")
			}
		case "article":
			if inside(n, "main") == nil {
				l.fault("the article %q stands outside main", attr(n, "id"))
			}
		case "nav":
			key := attr(n, "aria-label") + " of " + attr(inside(n, "article"), "id")
			if attr(n, "aria-label") == "" || l.labels[key] {
				l.fault("a nav has no name of its own: %q", attr(n, "aria-label"))
			}
			l.labels[key] = true
		}
	}
	if mains != 1 {
		l.fault("%d main elements, want one", mains)
	}
}

func (l *look) headings() {
	level := map[*html.Node]int{} // of the last heading, by article
	for _, n := range l.all {
		if len(n.Data) != 2 || n.Data[0] != 'h' || n.Data[1] < '1' || n.Data[1] > '6' {
			continue
		}
		article, now := inside(n, "article"), int(n.Data[1]-'0')
		was, seen := level[article]
		switch {
		case article == nil:
			l.fault("the heading %q stands outside the article", text(n))
		case !seen && now != 1:
			l.fault("the first heading is <%s> %q", n.Data, text(n))
		case seen && now == 1:
			l.fault("a second <h1> %q", text(n))
		case now > was+1:
			l.fault("<%s> %q follows <h%d>", n.Data, text(n), was)
		}
		if text(n) == "" {
			l.fault("an <%s> is empty", n.Data)
		}
		level[article] = now
	}
}

// skipLinks holds that the first thing to take the focus leads past something, to
// a place that takes the focus itself.
func (l *look) skipLinks() {
	at := map[*html.Node]int{}
	var stops []*html.Node // what Tab reaches
	for i, n := range l.all {
		at[n] = i
		if n.Data == "a" && attr(n, "href") != "" || n.Data == "button" || n.Data == "summary" {
			stops = append(stops, n)
		}
	}
	if len(stops) == 0 || attr(stops[0], "class") != "skip" {
		l.fault("the first thing to take the focus is no skip link")
	}
	for i, n := range stops {
		if attr(n, "class") != "skip" {
			continue
		}
		to := l.ids[strings.TrimPrefix(attr(n, "href"), "#")]
		if to == nil || attr(to, "tabindex") != "-1" {
			l.fault("the skip link %q leads to no place that takes the focus", text(n))
			continue
		}
		past := 0
		for _, s := range stops[i+1:] {
			if attr(s, "class") != "skip" && at[s] < at[to] {
				past++
			}
		}
		if past == 0 {
			l.fault("the skip link %q leads past nothing", text(n))
		}
	}
}

// place holds that the navigation stands before the text and says where one is.
func (l *look) place() {
	current, bar, main := 0, -1, -1
	for i, n := range l.all {
		if n.Data == "main" && main < 0 {
			main = i
		}
		if n.Data == "nav" && attr(n, "class") == "bar" {
			bar = i
		}
		if c := attr(n, "aria-current"); c != "" {
			if c != "page" && c != "true" && c != "location" {
				l.fault("aria-current=%q", c)
			}
			if b := inside(n, "nav"); b != nil && attr(b, "class") == "bar" {
				current++
			}
		}
	}
	if bar < 0 || bar > main {
		l.fault("the navigation does not stand before the text")
	}
	if current != 1 {
		l.fault("%d links of the navigation say that they are where the reader is, want one", current)
	}
}

func attr(n *html.Node, key string) string {
	if n == nil {
		return ""
	}
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

// inside is the nearest element of that name around n, or nil.
func inside(n *html.Node, name string) *html.Node {
	for p := n.Parent; p != nil; p = p.Parent {
		if p.Type == html.ElementNode && p.Data == name {
			return p
		}
	}
	return nil
}

func text(n *html.Node) string {
	var s strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			s.WriteString(d.Data)
		}
	}
	return strings.TrimSpace(s.String())
}
