package drawing

import (
	"strconv"
	"strings"

	"kerfbook/wasm/geom"
	"kerfbook/wasm/spell"
)

// pair is a group code with its value.
type pair struct {
	code  int
	value string
	line  int
}

// item is an entity as it stands, read when it is drawn.
type item struct {
	kind  string
	line  int
	pairs []pair
	under []item // vertices of a polyline
}

type block struct {
	base  geom.Point
	items []item
}

// looksDXF reports whether a text begins with a group code and a section.
func looksDXF(head string) bool {
	first, rest, ok := strings.Cut(head, "\n")
	if !ok {
		return false
	}
	code := strings.TrimSpace(first)
	if code == "999" { // a remark before the first section
		return true
	}
	second, _, _ := strings.Cut(rest, "\n")
	return code == "0" && strings.TrimSpace(second) != ""
}

// pairs splits the text. Every code line must hold a whole number.
func (r *reader) pairs() ([]pair, error) {
	var out []pair
	text, line := strings.TrimLeft(r.text, " \t\r\n"), 1
	line += strings.Count(r.text[:len(r.text)-len(text)], "\n")
	for text != "" {
		var code, value string
		code, text, _ = strings.Cut(text, "\n")
		if strings.TrimSpace(code) == "" && strings.TrimSpace(text) == "" {
			break
		}
		n, err := strconv.Atoi(strings.TrimSpace(code))
		if err != nil || n < -10 || n > 5000 {
			return nil, &Error{line, "a group code is wanted, this is “" + short(code) + "”"}
		}
		if text == "" {
			return nil, &Error{line, "the text ends after a group code: it is cut off"}
		}
		value, text, _ = strings.Cut(text, "\n")
		out = append(out, pair{n, strings.TrimRight(value, "\r"), line + 1})
		line += 2
	}
	return out, nil
}

func short(s string) string {
	return strings.ToValidUTF8(spell.Short(strings.TrimSpace(s), 40), "?")
}

// dxf reads the whole text.
func (r *reader) dxf() error {
	all, err := r.pairs()
	if err != nil {
		return err
	}
	r.layers = map[string]bool{}
	blocks := map[string]*block{}
	var entities []item
	section, ended := "", false
	for i := 0; i < len(all); i++ {
		p := all[i]
		if p.code != 0 {
			if section == "HEADER" && p.code == 9 && strings.TrimSpace(p.value) == "$INSUNITS" && i+1 < len(all) {
				r.d.Unit = insUnit(strings.TrimSpace(all[i+1].value))
				i++
			}
			continue
		}
		switch kind := strings.TrimSpace(p.value); {
		case kind == "SECTION":
			if i+1 < len(all) && all[i+1].code == 2 {
				section = strings.TrimSpace(all[i+1].value)
				i++
			}
		case kind == "ENDSEC":
			section = ""
		case kind == "EOF":
			ended = true
		case section == "TABLES" && kind == "LAYER":
			body := bodyOf(all, i+1)
			r.layer(body)
			i += len(body)
		case section == "BLOCKS" && kind == "BLOCK":
			var b *block
			var name string
			b, name, i, err = readBlock(all, i)
			if err != nil {
				return err
			}
			blocks[strings.ToUpper(name)] = b
		case section == "ENTITIES":
			var it item
			it, i = readItem(all, i)
			entities = append(entities, it)
		}
	}
	if !ended {
		r.d.note("the text does not end as it should (EOF is missing): it may be cut off")
	}
	for _, it := range entities {
		if err := r.draw(it, identity(), blocks, "", 0); err != nil {
			return err
		}
	}
	if r.wrong > 0 {
		text := r.counts
		if r.wrong > 1 {
			text += "; so do " + strconv.Itoa(r.wrong-1) + " more"
		}
		r.d.note(text)
	}
	if r.z.any && r.z.hi-r.z.lo > flat {
		f := func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
		r.d.note("pieces lie at heights from Z " + f(r.z.lo) + " to Z " + f(r.z.hi) + ": all are read as seen from above")
	}
	return nil
}

// bodyOf is what follows up to the next code 0.
func bodyOf(all []pair, i int) []pair {
	j := i
	for j < len(all) && all[j].code != 0 {
		j++
	}
	return all[i:j]
}

// readItem reads an entity with, for a polyline, its vertices; it returns the
// index of its last pair.
func readItem(all []pair, i int) (item, int) {
	it := item{kind: strings.TrimSpace(all[i].value), line: all[i].line}
	it.pairs = bodyOf(all, i+1)
	i += len(it.pairs)
	if it.kind != "POLYLINE" {
		return it, i
	}
	for i+1 < len(all) && all[i+1].code == 0 {
		kind := strings.TrimSpace(all[i+1].value)
		if kind != "VERTEX" && kind != "SEQEND" {
			break
		}
		body := bodyOf(all, i+2)
		if kind == "VERTEX" {
			it.under = append(it.under, item{kind: kind, line: all[i+1].line, pairs: body})
		}
		i += 1 + len(body)
		if kind == "SEQEND" {
			break
		}
	}
	return it, i
}

func readBlock(all []pair, i int) (*block, string, int, error) {
	head := item{line: all[i].line, pairs: bodyOf(all, i+1)}
	b := &block{}
	x, _ := head.num(10)
	y, _ := head.num(20)
	b.base = geom.Point{X: x, Y: y}
	name := head.text(2)
	i += len(head.pairs)
	for i+1 < len(all) {
		kind := strings.TrimSpace(all[i+1].value)
		if kind == "ENDBLK" {
			i += 1 + len(bodyOf(all, i+2))
			return b, name, i, nil
		}
		if kind == "ENDSEC" || kind == "BLOCK" {
			break
		}
		var it item
		it, i = readItem(all, i+1)
		b.items = append(b.items, it)
	}
	return nil, name, i, &Error{head.line, "the block “" + short(name) + "” does not end"}
}

// insUnit is the header's unit; "" for none.
func insUnit(code string) string {
	switch code {
	case "1":
		return "in"
	case "2":
		return "ft"
	case "4":
		return "mm"
	case "5":
		return "cm"
	case "6":
		return "m"
	case "8":
		return "µin"
	case "9":
		return "thou"
	case "13":
		return "µm"
	case "14":
		return "dm"
	}
	return ""
}

func (r *reader) layer(body []pair) {
	it := item{pairs: body}
	flags, _ := it.num(70)
	colour, _ := it.num(62)
	if int(flags)&1 != 0 || colour < 0 {
		r.layers[strings.ToUpper(it.text(2))] = true
	}
}

func (it item) text(code int) string {
	for _, p := range it.pairs {
		if p.code == code {
			return strings.TrimSpace(p.value)
		}
	}
	return ""
}

// num is a number of the entity, and whether it stands there and reads.
func (it item) num(code int) (float64, bool) {
	for _, p := range it.pairs {
		if p.code == code {
			return number(p.value)
		}
	}
	return 0, false
}

// want reads numbers that must be there.
func (it item) want(codes ...int) ([]float64, error) {
	out := make([]float64, len(codes))
	for i, c := range codes {
		found := false
		for _, p := range it.pairs {
			if p.code != c {
				continue
			}
			v, ok := number(p.value)
			if !ok {
				return nil, &Error{p.line, "a number is wanted, this is “" + short(p.value) + "”"}
			}
			out[i], found = v, true
			break
		}
		if !found {
			return nil, &Error{it.line, it.kind + " lacks its group " + strconv.Itoa(c)}
		}
	}
	return out, nil
}
