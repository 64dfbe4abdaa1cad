package drawing

import "strings"

// looksPath tells path data from a program: a letter M, numbers, and letters of
// paths only.
func looksPath(s string) bool {
	return strings.Trim(s, "MmLlHhVvCcSsQqTtAaZz0123456789+-.,eE \t\r\n") == ""
}

// frame is an open element of an SVG text.
type frame struct {
	name    string
	m       affine
	within  string // the element whose inside is not drawn, "" for none
	hidden  bool   // and so are all below
	unseen  bool   // until something below is made visible
	w, h    float64
	hasView bool // w and h are the size that percentages refer to
}

// undrawn are the elements whose inside stands for use elsewhere, or for no
// drawing. SVG 2, 5.1.1 and 11.
const undrawn = " defs clipPath symbol mask marker pattern linearGradient radialGradient filter metadata title desc style script font foreignObject switch "

const shapes = " path line polyline polygon rect circle ellipse "

// svg reads the shapes of an SVG text: path, line, polyline, polygon, rect,
// circle, ellipse, with transforms. y points down there; here up.
func (r *reader) svg() error {
	stack := []frame{{m: affine{a: 1, d: -1}}}
	prefix := map[string]bool{"svg": true} // of names that are SVG's
	text, line, first := r.text, 1, true
	for {
		i := strings.IndexByte(text, '<')
		if i < 0 {
			return nil
		}
		line += strings.Count(text[:i], "\n")
		text = text[i:]
		n, tag, err := markup(text, line)
		if err != nil {
			return err
		}
		whole := text[:n]
		text = text[n:]
		at := line
		line += strings.Count(whole, "\n")
		if !tag {
			continue
		}
		body := strings.TrimSuffix(whole[1:n-1], "/")
		end := strings.IndexAny(body, " \t\n")
		if end < 0 {
			end = len(body)
		}
		name, attr := body[:end], attributes(body[end:])
		for k, v := range attr {
			if p, ok := strings.CutPrefix(k, "xmlns:"); ok {
				prefix[p] = p == "svg" || v == "http://www.w3.org/2000/svg"
			}
		}
		foreign := false
		closes := strings.HasPrefix(name, "/")
		name = strings.TrimPrefix(name, "/")
		if p, rest, ok := strings.Cut(name, ":"); ok {
			if prefix[p] {
				name = rest
			} else {
				foreign = true
			}
		}
		if closes {
			for k := len(stack) - 1; k > 0; k-- {
				if stack[k].name == name {
					stack = stack[:k]
					break
				}
			}
			continue
		}
		up := stack[len(stack)-1]
		f, err := r.element(name, attr, up, at, first && name == "svg")
		if err != nil {
			return err
		}
		first = first && name != "svg"
		if foreign && f.within == "" {
			f.within = short(name)
		}
		switch {
		case name == "style":
			sheet, end := strings.TrimLeft(text, " \t\n"), "<"
			if strings.HasPrefix(sheet, "<![CDATA[") {
				end = "]]>"
			}
			sheet, _, _ = strings.Cut(sheet, end)
			if err := plainStyle(sheet, "a style sheet", line); err != nil {
				return err
			}
		case strings.Contains(shapes, " "+name+" "):
			switch {
			case f.within != "":
				r.ignore("in " + f.within)
			case f.hidden || f.unseen:
				r.ignore("hidden")
			default:
				if err := r.shape(name, attr, f.m, at); err != nil {
					return err
				}
			}
		case f.within == "" && (name == "text" || name == "image" || name == "use"):
			r.ignore(name)
		}
		if !strings.HasSuffix(whole, "/>") {
			f.name = name
			if stack = append(stack, f); len(stack) > 200 {
				return &Error{at, "groups are nested more than 200 deep"}
			}
		}
	}
}

// markup is the length of what begins with <, and whether it is a tag: remarks,
// declarations and quoted text of their own are none.
func markup(s string, line int) (n int, tag bool, err error) {
	for _, k := range [...][3]string{{"<!--", "-->", "a remark"}, {"<![CDATA[", "]]>", "a text section"}, {"<?", "?>", "an instruction"}} {
		if strings.HasPrefix(s, k[0]) {
			end := strings.Index(s, k[1])
			if end < 0 {
				return 0, false, &Error{line, k[2] + " that does not close"}
			}
			return end + len(k[1]), false, nil
		}
	}
	declaration := strings.HasPrefix(s, "<!")
	quote, deep := byte(0), 0
	for i := 1; i < len(s); i++ {
		switch c := s[i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case declaration && c == '[':
			deep++
		case declaration && c == ']':
			deep--
		case c == '>' && deep <= 0:
			return i + 1, !declaration, nil
		}
	}
	return 0, false, &Error{line, "a tag that does not close"}
}

func attributes(s string) map[string]string {
	out := map[string]string{}
	for {
		eq := strings.IndexByte(s, '=')
		if eq < 0 {
			return out
		}
		name := strings.TrimSpace(s[:eq])
		s = strings.TrimLeft(s[eq+1:], " \t\r\n")
		if s == "" || s[0] != '"' && s[0] != '\'' {
			return out
		}
		end := strings.IndexByte(s[1:], s[0])
		if end < 0 {
			return out
		}
		out[name] = s[1 : 1+end]
		s = s[end+2:]
	}
}

// element is what holds inside an element: its map, and whether it is drawn.
func (r *reader) element(name string, attr map[string]string, up frame, line int, root bool) (frame, error) {
	f := up
	if strings.Contains(undrawn, " "+name+" ") && f.within == "" {
		f.within = name
	}
	if f.within != "" {
		return f, nil
	}
	style := attr["style"]
	if err := plainStyle(style, "a style", line); err != nil && name != "svg" {
		return f, err
	}
	say := func(property string) string {
		if v := styled(style, property); v != "" {
			return v
		}
		return strings.TrimSpace(attr[property])
	}
	if say("display") == "none" || strings.Trim(say("opacity"), "0.%") == "" && say("opacity") != "" {
		f.hidden = true
	}
	switch say("visibility") {
	case "hidden", "collapse":
		f.unseen = true
	case "visible":
		f.unseen = false
	}
	for _, k := range [...]string{"clip-path", "mask"} {
		if v := say(k); v != "" && v != "none" {
			r.d.note(k + " is passed over: the shapes are read whole")
		}
	}
	if attr["transform-origin"] != "" {
		return f, &Error{line, "transform-origin is not read: write the transform without it"}
	}
	m, err := transform(attr["transform"], line)
	if err != nil {
		return f, err
	}
	if name != "svg" {
		f.m = up.m.after(m)
		return f, nil
	}
	v, err := r.view(attr, up, line, root)
	if err != nil {
		return f, err
	}
	// The transform of an svg acts on its picture, in px of the place that it has.
	m.e, m.f = m.e*v.px, m.f*v.px
	f.m = up.m.after(m).after(v.m)
	f.w, f.h, f.hasView = v.w, v.h, v.known
	return f, nil
}

// declared cuts the next declaration off a style: what stands before ;, { or }.
func declared(s string) (name, value, rest string) {
	end := strings.IndexAny(s, ";{}")
	if end < 0 {
		end = len(s)
	}
	name, value, _ = strings.Cut(s[:end], ":")
	value, _, _ = strings.Cut(value, "!")
	return strings.TrimSpace(name), strings.TrimSpace(value), s[min(end+1, len(s)):]
}

// styled is a property in the text of a style.
func styled(style, property string) (found string) {
	for style != "" {
		var name, value string
		if name, value, style = declared(style); name == property {
			found = value
		}
	}
	return found
}

// unread are the properties that would move a shape or change its size.
const unread = " transform transform-origin translate rotate scale zoom offset-path d x y cx cy r rx ry x1 y1 x2 y2 width height "

// plainStyle refuses a style that would move a shape, and a sheet that would hide
// one: which shapes its rules meet is not worked out.
func plainStyle(s, where string, line int) error {
	var bare strings.Builder // without remarks
	for s != "" {
		head, rest, _ := strings.Cut(s, "/*")
		bare.WriteString(head)
		_, s, _ = strings.Cut(rest, "*/")
	}
	s = bare.String()
	for s != "" {
		var name, value string
		if name, value, s = declared(s); name == "" || value == "" {
			continue
		}
		hides := where == "a style sheet" && (name == "display" && value == "none" || name == "visibility" && value != "visible" || name == "opacity" && strings.Trim(value, "0.%") == "")
		if hides || strings.Contains(unread, " "+name+" ") && value != "none" && value != "auto" {
			return &Error{line, name + " in " + where + " is not read: write it as an attribute of the shape"}
		}
	}
	return nil
}

// view is how an svg places its inside.
type view struct {
	m     affine
	px    float64 // in the outer numbers
	w, h  float64 // of the inside, for percentages
	known bool
}

// perInch is how many px are an inch. CSS Values and Units 3, 6.2.
const perInch = 96

// view reads width, height, viewBox and preserveAspectRatio. For the outermost svg
// a width or height in mm, cm or in gives the scale of the numbers; without one they
// are in no unit that a part is drawn in.
func (r *reader) view(attr map[string]string, up frame, line int, root bool) (view, error) {
	v := view{m: identity(), px: 1}
	box, ok := numbers(attr["viewBox"])
	if attr["viewBox"] != "" && (!ok || len(box) != 4 || !(box[2] > 0) || !(box[3] > 0)) {
		return v, &Error{line, "the viewBox “" + short(attr["viewBox"]) + "” is not four numbers with a width and a height"}
	}
	unit := ""
	size := [2]float64{}
	for i, n := range [...]string{"width", "height"} {
		text := strings.TrimSpace(attr[n])
		u := strings.TrimLeft(text, "0123456789.+-eE ")
		if text == "auto" {
			text, u = "", ""
		}
		x, good := number(strings.TrimSuffix(text, u))
		switch {
		case text == "":
		case !good || x < 0:
			return v, &Error{line, n + " is “" + short(text) + "”: it is no length"}
		case root && (u == "mm" || u == "cm" || u == "in"):
			if unit == "" {
				unit = u
			}
			k, _ := scale(u)
			to, _ := scale(unit)
			size[i] = x * k / to
		case root && u == "%": // of a window
		case u == "" || u == "px":
			if !root || unit == "" {
				size[i] = x
			}
		case !root && u == "%" && up.hasView:
			size[i] = x / 100 * [...]float64{up.w, up.h}[i]
		case root:
			// pt and others: the numbers are in no unit that a part is drawn in
		default:
			return v, &Error{line, n + " is “" + short(text) + "”: a length is read as a plain number of the drawing's own unit"}
		}
	}
	if root && unit != "" {
		r.d.Unit = unit
		k, _ := scale(unit)
		v.px = 25.4 / k / perInch
		for i, n := range [...]string{"width", "height"} { // one in px beside one in mm
			if u := strings.TrimLeft(strings.TrimSpace(attr[n]), "0123456789.+-eE "); attr[n] != "" && (u == "" || u == "px") {
				x, _ := number(strings.TrimSuffix(strings.TrimSpace(attr[n]), u))
				size[i] = x * v.px
			}
		}
		if box == nil {
			return v, &Error{line, "the drawing has a size of " + short(strings.TrimSpace(attr["width"]+" "+attr["height"])) + " and no viewBox: its numbers have no scale"}
		}
	}
	fit := strings.Fields(attr["preserveAspectRatio"])
	if len(fit) > 0 && fit[0] == "defer" { // of SVG 1.1, for pictures only
		fit = fit[1:]
	}
	if !root {
		x, okX := number(attr["x"])
		y, okY := number(attr["y"])
		if attr["x"] != "" && !okX || attr["y"] != "" && !okY {
			return v, &Error{line, "an svg within another stands at “" + short(attr["x"]+" "+attr["y"]) + "”: plain numbers are wanted"}
		}
		v.m.e, v.m.f = x, y
		if up.hasView { // what is not given is all of it
			if attr["width"] == "" || attr["width"] == "auto" {
				size[0] = up.w
			}
			if attr["height"] == "" || attr["height"] == "auto" {
				size[1] = up.h
			}
		}
	}
	if box == nil {
		v.w, v.h, v.known = size[0], size[1], size[0] > 0 && size[1] > 0
		return v, nil
	}
	v.w, v.h, v.known = box[2], box[3], true
	if root && unit == "" {
		if len(fit) > 0 && fit[0] == "none" && size[0] > 0 && size[1] > 0 && abs(size[0]*box[3]-size[1]*box[2]) > 1e-9*size[0]*box[3] {
			return v, &Error{line, "preserveAspectRatio none squeezes the drawing to " + short(attr["width"]+" by "+attr["height"]) + ": give width and height in mm, or leave it out"}
		}
		v.m = affine{a: 1, d: 1} // the numbers as they are
		return v, nil
	}
	if size[0] == 0 && size[1] == 0 {
		return v, &Error{line, "an svg within another has a viewBox and no size: give it width and height as plain numbers"}
	}
	sx, sy := size[0]/box[2], size[1]/box[3]
	if sx == 0 {
		sx = sy
	}
	if sy == 0 {
		sy = sx
	}
	share := [2]float64{0.5, 0.5}
	if len(fit) > 0 && fit[0] == "none" {
		share = [2]float64{}
	} else {
		k := min(sx, sy)
		if len(fit) > 1 && fit[1] == "slice" {
			k = max(sx, sy)
		}
		if len(fit) > 0 {
			for i, axis := range [...]string{"x", "Y"} {
				switch {
				case strings.Contains(fit[0], axis+"Min"):
					share[i] = 0
				case strings.Contains(fit[0], axis+"Max"):
					share[i] = 1
				case !strings.Contains(fit[0], axis+"Mid"):
					return v, &Error{line, "preserveAspectRatio “" + short(attr["preserveAspectRatio"]) + "” is not known"}
				}
			}
		}
		if size[0] > 0 {
			v.m.e += share[0] * (size[0] - k*box[2])
		}
		if size[1] > 0 {
			v.m.f += share[1] * (size[1] - k*box[3])
		}
		sx, sy = k, k
	}
	v.m = v.m.after(affine{a: sx, d: sy, e: -sx * box[0], f: -sy * box[1]})
	return v, nil
}

func abs(v float64) float64 { return max(v, -v) }
