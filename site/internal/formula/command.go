package formula

import (
	"strings"
	"unicode/utf8"

	"kerfbook/wasm/spell"
)

// command reads one command and what belongs to it.
func (p *parser) command() (node, error) {
	at := p.i
	p.i++
	start := p.i
	for p.i < len(p.s) && letter(p.s[p.i]) {
		p.i++
	}
	name := p.s[start:p.i]
	if name == "" {
		if p.i >= len(p.s) {
			return node{}, p.fail(at, 1, "a backslash stands at the end")
		}
		_, size := utf8.DecodeRuneInString(p.s[p.i:])
		name = p.s[p.i : p.i+size]
		p.i += size
	}
	if s, ok := sign(name); ok {
		return s, nil
	}
	switch name {
	case "frac", "tfrac", "dfrac":
		a, err := p.argument(name, at)
		if err != nil {
			return node{}, err
		}
		b, err := p.argument(name, at)
		style := map[string]string{"tfrac": ` displaystyle="false"`, "dfrac": ` displaystyle="true"`}[name]
		return node{tag: "mfrac", attr: style, kids: []node{a, b}}, err
	case "sqrt":
		return p.root(at)
	case "text", "mathrm", "operatorname":
		text, err := p.words(name, at)
		tag := "mtext"
		attr := ""
		if name != "text" {
			tag, attr = "mi", ` mathvariant="normal"`
		}
		return node{tag: tag, attr: attr, text: text, function: name == "operatorname"}, err
	case "overline", "hat":
		a, err := p.argument(name, at)
		mark := map[string]string{"overline": "¯", "hat": "^"}[name]
		return node{tag: "mover", attr: ` accent="true"`, kids: []node{a, {tag: "mo", text: mark}}}, err
	case "left":
		return p.fence(at)
	case "right":
		return node{}, p.fail(at, 6, "“\\right” has no “\\left” before it")
	case "begin":
		return p.environment(at)
	case "end":
		return node{}, p.fail(at, 4, "“\\end” has no “\\begin” before it")
	}
	what := "the command “\\" + name + "” is not known here"
	if near := nearest(name); near != "" {
		what += "; did you mean “\\" + near + "”?"
	}
	return node{}, p.fail(at, p.i-at, what)
}

func (p *parser) root(at int) (node, error) {
	var index *node
	p.skip()
	if p.i < len(p.s) && p.s[p.i] == '[' {
		open := p.i
		p.i++
		n, err := p.row("]")
		if err != nil {
			return node{}, err
		}
		if p.i >= len(p.s) || p.s[p.i] != ']' {
			return node{}, p.fail(open, 1, "this “[” is never closed")
		}
		p.i++
		index = &n
	}
	a, err := p.argument("sqrt", at)
	if err != nil {
		return node{}, err
	}
	if index != nil {
		return node{tag: "mroot", kids: []node{a, *index}}, nil
	}
	return node{tag: "msqrt", kids: []node{a}}, nil
}

func (p *parser) delimiter(command string, at int) (string, error) {
	p.skip()
	if p.i < len(p.s) {
		if c := p.s[p.i]; strings.IndexByte("()[]|.", c) >= 0 {
			p.i++
			if c == '.' {
				return "", nil
			}
			return string(c), nil
		}
		if strings.HasPrefix(p.s[p.i:], `\{`) || strings.HasPrefix(p.s[p.i:], `\}`) {
			p.i += 2
			return p.s[p.i-1 : p.i], nil
		}
	}
	return "", p.fail(at, len(command)+1, "after “\\"+command+"” a bracket is wanted, or a point for none")
}

func (p *parser) fence(at int) (node, error) {
	open, err := p.delimiter("left", at)
	if err != nil {
		return node{}, err
	}
	in, err := p.row("right")
	if err != nil {
		return node{}, err
	}
	if !p.ahead(`\right`) {
		return node{}, p.fail(at, 5, "this “\\left” has no “\\right”")
	}
	p.i += len(`\right`)
	shut, err := p.delimiter("right", p.i-6)
	if err != nil {
		return node{}, err
	}
	kids := []node{in}
	if open != "" {
		kids = append([]node{{tag: "mo", attr: ` fence="true" stretchy="true"`, text: open}}, kids...)
	}
	if shut != "" {
		kids = append(kids, node{tag: "mo", attr: ` fence="true" stretchy="true"`, text: shut})
	}
	return node{tag: "mrow", kids: kids}, nil
}

// environment reads cases and aligned.
func (p *parser) environment(at int) (node, error) {
	name, err := p.words("begin", at)
	if err != nil {
		return node{}, err
	}
	if name != "cases" && name != "aligned" {
		return node{}, p.fail(at, p.i-at, "the environment “"+name+"” is not known here; there are cases and aligned")
	}
	// MathML Core has no column alignment: the classes are for the style sheet.
	table := node{tag: "mtable", attr: ` class="m-cases"`}
	if name == "aligned" {
		table.attr = ` class="m-aligned" displaystyle="true"`
	}
	line := node{tag: "mtr"}
	for {
		cell, err := p.row("cell")
		if err != nil {
			return node{}, err
		}
		line.kids = append(line.kids, node{tag: "mtd", kids: []node{cell}})
		switch {
		case p.i >= len(p.s) || p.s[p.i] == '}':
			return node{}, p.fail(at, 6, "this “\\begin{"+name+"}” has no “\\end{"+name+"}”")
		case p.s[p.i] == '&':
			p.i++
		case strings.HasPrefix(p.s[p.i:], `\\`):
			p.i += 2
			table.kids = append(table.kids, line)
			line = node{tag: "mtr"}
		default:
			end := p.i
			p.i += len(`\end`)
			closed, err := p.words("end", end)
			if err != nil {
				return node{}, err
			}
			if closed != name {
				return node{}, p.fail(end, p.i-end, "“\\end{"+closed+"}” closes “\\begin{"+name+"}”")
			}
			table.kids = append(table.kids, line)
			if name == "cases" {
				return node{tag: "mrow", kids: []node{{tag: "mo", attr: ` fence="true" stretchy="true"`, text: "{"}, table}}, nil
			}
			return table, nil
		}
	}
}

// sign finds the commands that are one sign.
func sign(name string) (node, bool) {
	switch name {
	case "cdot":
		return operator("·"), true
	case "times":
		return operator("×"), true
	case "pm":
		return operator("±"), true
	case "le", "leq":
		return operator("≤"), true
	case "ge", "geq":
		return operator("≥"), true
	case "approx":
		return operator("≈"), true
	case "ne", "neq":
		return operator("≠"), true
	case "propto":
		return operator("∝"), true
	case "to":
		return operator("→"), true
	case "in":
		return operator("∈"), true
	case "sum":
		return node{tag: "mo", text: "∑", limit: true, big: true}, true
	case "int":
		return node{tag: "mo", text: "∫", big: true}, true
	case "min", "max":
		return node{tag: "mi", text: name, limit: true, function: true}, true
	case "sin", "cos", "tan", "cot", "ln", "log", "exp", "arccos", "arcsin", "arctan":
		return node{tag: "mi", text: name, function: true}, true
	case "infty":
		return node{tag: "mi", text: "∞"}, true
	case "ldots":
		return node{tag: "mo", text: "…"}, true
	case "circ":
		return node{tag: "mi", text: "∘", alt: "°"}, true
	case "%":
		return node{tag: "mi", text: "%"}, true
	case "{", "}":
		return node{tag: "mo", attr: ` stretchy="false"`, text: name}, true
	case ",":
		return node{tag: "mspace", attr: ` width="0.17em"`}, true
	case ";":
		return node{tag: "mspace", attr: ` width="0.28em"`}, true
	case " ":
		return node{tag: "mspace", attr: ` width="0.33em"`}, true
	case "quad":
		return node{tag: "mspace", attr: ` width="1em"`}, true
	}
	if letter, ok := greek()[name]; ok {
		return node{tag: "mi", text: letter}, true
	}
	return node{}, false
}

func greek() map[string]string {
	return map[string]string{"alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "varepsilon": "ε", "zeta": "ζ", "eta": "η", "theta": "θ", "vartheta": "ϑ", "iota": "ι", "kappa": "κ",
		"lambda": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "pi": "π", "rho": "ρ", "sigma": "σ", "tau": "τ", "upsilon": "υ", "phi": "φ", "varphi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω",
		"Gamma": "Γ", "Delta": "Δ", "Theta": "Θ", "Lambda": "Λ", "Xi": "Ξ", "Pi": "Π", "Sigma": "Σ", "Upsilon": "Υ", "Phi": "Φ", "Psi": "Ψ", "Omega": "Ω"}
}

// nearest finds the command that was perhaps meant.
func nearest(name string) string {
	known := []string{"frac", "tfrac", "sqrt", "text", "mathrm", "operatorname", "overline", "hat", "left", "right", "begin", "end", "cdot", "times", "approx", "propto",
		"sum", "int", "min", "max", "sin", "cos", "tan", "cot", "ln", "log", "exp", "infty", "ldots", "quad"}
	for g := range greek() {
		known = append(known, g)
	}
	near, _ := spell.Nearest(name, known)
	return near
}
