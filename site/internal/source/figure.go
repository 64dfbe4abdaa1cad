package source

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"errors"
	"io"
	"path"
	"slices"
	"strconv"
	"strings"

	"kerfbook/site/diag"
	"kerfbook/wasm/spell"
)

// What a shop's drawing may hold: shapes, text, and what colours them. All else
// (script, links, pictures, styles, foreign matter) is taken out and said.
var (
	figureElements = strings.Fields("svg g path line polyline polygon rect circle ellipse text tspan title desc defs linearGradient radialGradient stop marker clipPath pattern")
	figureAttrs    = strings.Fields("id viewBox width height x y x1 y1 x2 y2 cx cy r rx ry d points transform fill fill-rule fill-opacity stroke stroke-width stroke-linecap stroke-linejoin stroke-dasharray stroke-dashoffset stroke-opacity stroke-miterlimit opacity font-family font-size font-weight font-style text-anchor dominant-baseline dx dy rotate offset stop-color stop-opacity gradientUnits gradientTransform markerWidth markerHeight refX refY orient markerUnits marker-start marker-mid marker-end clip-path clip-rule clipPathUnits patternUnits patternTransform preserveAspectRatio vector-effect")
)

// The namespaces of drawings and of pages.
const (
	svgSpace  = "http://www.w3.org/2000/svg"
	htmlSpace = "http://www.w3.org/1999/xhtml"
)

// The most elements and depth of a drawing.
const (
	maxElements = 50_000
	maxDepth    = 60
)

// figure reads a shop's drawing, takes out what a drawing does not need, and
// keeps it as a picture that a page carries inside itself.
func (l *loader) figure(name string, size int64) {
	at := ShopDir + name
	if size > maxShopFigure {
		l.problem(diag.FileLarge, at, 0, 0, "the drawing is larger than 1 MB: leave out what nobody sees, and save it again")
		return
	}
	if !publicWord(strings.TrimSuffix(path.Base(name), ".svg")) {
		l.problem(diag.FileName, at, 0, 0, "a drawing's file is called by small letters, digits and hyphens, for example our-tank.svg")
		return
	}
	text, ok := l.readFrom(l.shop, name, ShopDir)
	if !ok {
		return
	}
	clean, out, err := cleanFigure(text)
	if err != nil {
		l.problem(diag.DrawingRead, at, 0, min(1, len(text)), "this is not a drawing that can be read: "+err.Error())
		return
	}
	for _, what := range out {
		l.list.Add(diag.Message{ID: diag.DrawingTaken, Kind: diag.Warning, Span: diag.Span{File: at, Start: what.at, End: what.end}, Text: "taken out of the drawing: " + what.what})
	}
	l.figures[name] = "data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(clean)
}

// taken is what was left out of a drawing, and where it stood.
type taken struct {
	what    string
	at, end int
}

// cleanFigure writes the drawing anew from what is allowed, and names what it
// left out, each once.
func cleanFigure(text []byte) (clean []byte, out []taken, err error) {
	d := xml.NewDecoder(bytes.NewReader(text))
	var w bytes.Buffer
	at := 0
	drop := func(what string) {
		if len(out) < mostSaid && !slices.ContainsFunc(out, func(t taken) bool { return t.what == what }) {
			out = append(out, taken{what, at, int(d.InputOffset())})
		}
	}
	depth, skip, n, server := 0, 0, 0, 0
	for {
		at = int(d.InputOffset())
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, nil, errors.New("its XML is broken, " + strings.TrimPrefix(strings.TrimPrefix(err.Error(), "XML syntax error "), "xml: "))
		}
		switch t := tok.(type) {
		case xml.Directive:
			if bytes.Contains(bytes.ToUpper(t), []byte("ENTITY")) {
				return nil, nil, errors.New("it declares entities of its own, which a drawing does not need")
			}
		case xml.StartElement:
			n++
			depth++
			switch name := t.Name.Local; {
			case n > maxElements:
				return nil, nil, errors.New("it has more than " + strconv.Itoa(maxElements) + " elements")
			case depth > maxDepth:
				return nil, nil, errors.New("it is nested more than " + strconv.Itoa(maxDepth) + " deep")
			case n > 1 && depth == 1:
				return nil, nil, errors.New("it holds more than one drawing")
			case n == 1 && name != "svg":
				return nil, nil, errors.New("its first element is " + spell.Quote(spell.Short(name, 40)) + ", not svg")
			case skip > 0:
				skip++
			case name == "metadata" || t.Name.Space != "" && t.Name.Space != svgSpace && t.Name.Space != htmlSpace:
				skip = 1 // a program's notes to itself
			case !slices.Contains(figureElements, name):
				drop("the element " + spell.Quote(spell.Short(name, 40)))
				skip = 1
			default:
				if server > 0 || paintServer(name) {
					server++
				}
				w.WriteString("<" + name)
				if n == 1 {
					w.WriteString(` xmlns="` + svgSpace + `"`)
				}
				figureAttrsOf(&w, t.Attr, server > 0, drop)
				w.WriteString(">")
			}
		case xml.EndElement:
			depth--
			if skip > 0 {
				skip--
			} else {
				server = max(0, server-1)
				w.WriteString("</" + t.Name.Local + ">")
			}
		case xml.CharData:
			if skip == 0 && depth > 0 {
				_ = xml.EscapeText(&w, t)
			}
		}
	}
	if n == 0 {
		return nil, nil, errors.New("it is empty")
	}
	return w.Bytes(), out, nil
}

// paintServer is what other shapes may be painted with. Inside of one nothing refers
// to another: nested, they grow without bound.
func paintServer(name string) bool {
	return name == "pattern" || name == "marker" || name == "clipPath"
}

// figureAttrsOf writes the attributes that are allowed, each once. Drawing programs
// put into style what an attribute can say, so that is taken apart.
func figureAttrsOf(w *bytes.Buffer, attrs []xml.Attr, inside bool, drop func(string)) {
	seen := map[string]bool{}
	put := func(name, value string) {
		low := strings.ToLower(value)
		switch {
		case seen[name]:
		case strings.Count(low, "url") != strings.Count(value, "url(#") || strings.Contains(value, `\`) || strings.Contains(low, "script:"):
			drop("a reference to something outside, in " + spell.Quote(spell.Short(name, 40)))
		case inside && strings.Contains(value, "url("):
			drop("a pattern, marker or clip within another, in " + spell.Quote(spell.Short(name, 40)))
		default:
			seen[name] = true
			w.WriteString(" " + name + `="`)
			_ = xml.EscapeText(w, []byte(value))
			w.WriteString(`"`)
		}
	}
	for _, a := range attrs {
		if a.Name.Local != "style" || a.Name.Space != "" {
			continue
		}
		for _, part := range strings.Split(a.Value, ";") {
			k, v, ok := strings.Cut(part, ":")
			if k = strings.TrimSpace(k); ok && slices.Contains(figureAttrs, k) && k != "id" {
				put(k, strings.TrimSpace(v))
			}
		}
	}
	for _, a := range attrs {
		switch name := a.Name.Local; {
		case name == "xmlns" || a.Name.Space == "xmlns" || name == "style" || name == "class":
		case a.Name.Space != "" && name != "href": // a program's notes to itself
		case a.Name.Space != "" || !slices.Contains(figureAttrs, name):
			drop("the attribute " + spell.Quote(spell.Short(name, 40)))
		default:
			put(name, a.Value)
		}
	}
}
