package formula

import (
	"html"
	"strings"
)

func (n node) xml() string {
	var s strings.Builder
	n.write(&s, false)
	return s.String()
}

// write sets signs in a script without the space they have on the line, as TeX does.
func (n node) write(s *strings.Builder, script bool) {
	s.WriteString("<" + n.tag + n.attr)
	if script && n.spaced() {
		s.WriteString(` lspace="0" rspace="0"`)
	}
	if n.tag == "mspace" {
		s.WriteString("/>")
		return
	}
	text := n.text
	if n.tag == "mtext" { // MathML drops plain spaces at the edges of a text
		text = strings.ReplaceAll(text, " ", "\u00a0")
	}
	s.WriteString(">" + html.EscapeString(text))
	for i, k := range n.kids {
		k.write(s, script || i > 0 && n.scripts())
	}
	s.WriteString("</" + n.tag + ">")
}

func (n node) scripts() bool {
	switch n.tag {
	case "msub", "msup", "msubsup", "munder", "munderover", "mover":
		return true
	}
	return false
}

// spaced reports a sign with space on both sides.
func (n node) spaced() bool { return n.tag == "mo" && strings.HasPrefix(n.alt, " ") }

// base is what scripts hang on.
func (n node) base() node {
	if n.scripts() {
		return n.kids[0].base()
	}
	return n
}

func (n node) opens() bool {
	if n.tag == "mrow" && len(n.kids) > 0 {
		return strings.Contains(n.kids[0].attr, "fence")
	}
	return n.tag == "mo" && n.text != "" && strings.Contains("([{", n.text)
}

func (n node) closes() bool { return n.tag == "mo" && n.text != "" && strings.Contains(")]}", n.text) }

// arrange makes a sign without a left side a prefix and sets thin spaces round
// the names of functions: MathML spaces neither by itself.
func arrange(kids []node) []node {
	thin := node{tag: "mspace", attr: ` width="0.17em"`}
	var out []node
	for i, k := range kids {
		if k.spaced() && strings.Contains("−+±", k.text) && len(kids) > 1 {
			if i == 0 || kids[i-1].spaced() || kids[i-1].tag == "mo" && !kids[i-1].closes() && kids[i-1].text != "|" {
				k.attr, k.alt = ` form="prefix"`, k.text
			}
		}
		name := k.base().function
		if name && len(out) > 0 {
			if last := out[len(out)-1]; last.tag != "mspace" && (last.base().tag != "mo" || last.closes()) {
				out = append(out, thin)
			}
		}
		out = append(out, k)
		if name && i+1 < len(kids) {
			if next := kids[i+1]; next.tag != "mspace" && !next.opens() && (next.base().tag != "mo" || next.base().big || next.text == "|") {
				out = append(out, thin)
			}
		}
	}
	return out
}
