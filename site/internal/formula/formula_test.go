package formula

import (
	"encoding/xml"
	"errors"
	"html"
	"io"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestMathML(t *testing.T) {
	for _, c := range []struct{ tex, xml, plain string }{
		{`r = \frac{d}{2} + g`, `<mrow><mi>r</mi><mo>=</mo><mfrac><mi>d</mi><mn>2</mn></mfrac><mo>+</mo><mi>g</mi></mrow>`, "r = d/2 + g"},
		{`a - b`, `<mrow><mi>a</mi><mo>−</mo><mi>b</mi></mrow>`, "a − b"},
		{`g_{\mathrm{rough}}`, `<mrow><msub><mi>g</mi><mi mathvariant="normal">rough</mi></msub></mrow>`, "g_rough"},
		{`x_1^2`, `<mrow><msubsup><mi>x</mi><mn>1</mn><mn>2</mn></msubsup></mrow>`, "x_1^2"},
		{`\sqrt[3]{E}`, `<mrow><mroot><mi>E</mi><mrow><mn>3</mn></mrow></mroot></mrow>`, "root 3 of (E)"},
		{`\left( \frac{1}{\sin(\theta/2)} - 1 \right)`, `<mrow><mrow><mo fence="true" stretchy="true">(</mo><mrow><mfrac><mn>1</mn><mrow><mi>sin</mi><mo stretchy="false">(</mo><mi>θ</mi><mo lspace="0" rspace="0">/</mo><mn>2</mn><mo stretchy="false">)</mo></mrow></mfrac><mo>−</mo><mn>1</mn></mrow><mo fence="true" stretchy="true">)</mo></mrow></mrow>`, "(1/(sin(θ/2)) − 1)"},
		{`\sum_{n=1}^{4} t_n`, `<mrow><munderover><mo>∑</mo><mrow><mi>n</mi><mo lspace="0" rspace="0">=</mo><mn>1</mn></mrow><mn>4</mn></munderover><msub><mi>t</mi><mi>n</mi></msub></mrow>`, "∑_(n = 1)^4 t_n"},
		{`30^\circ`, `<mrow><msup><mn>30</mn><mi>∘</mi></msup></mrow>`, "30°"},
		{`a = -b`, `<mrow><mi>a</mi><mo>=</mo><mo form="prefix">−</mo><mi>b</mi></mrow>`, "a = −b"},
		{`x^{-1}`, `<mrow><msup><mi>x</mi><mrow><mo form="prefix">−</mo><mn>1</mn></mrow></msup></mrow>`, "x^(−1)"},
		{`x'^2`, `<mrow><msup><mi>x</mi><mrow><mo>′</mo><mn>2</mn></mrow></msup></mrow>`, "x′^2"},
		{`x^12`, `<mrow><msup><mi>x</mi><mn>1</mn></msup><mn>2</mn></mrow>`, "x^12"},
		{`2\sin\theta \, .5`, `<mrow><mn>2</mn><mspace width="0.17em"/><mi>sin</mi><mspace width="0.17em"/><mi>θ</mi><mspace width="0.17em"/><mn>.5</mn></mrow>`, "2 sin θ .5"},
		{`\operatorname{inv}\alpha`, `<mrow><mi mathvariant="normal">inv</mi><mspace width="0.17em"/><mi>α</mi></mrow>`, "inv α"},
		{`\tfrac12 |x|`, `<mrow><mfrac displaystyle="false"><mn>1</mn><mn>2</mn></mfrac><mo stretchy="false" lspace="0" rspace="0">|</mo><mi>x</mi><mo stretchy="false" lspace="0" rspace="0">|</mo></mrow>`, "1/2|x|"},
		{`\frac{1}{ab} \cdot \frac{\frac{a}{b}}{c}`, `<mrow><mfrac><mn>1</mn><mrow><mi>a</mi><mi>b</mi></mrow></mfrac><mo>·</mo><mfrac><mfrac><mi>a</mi><mi>b</mi></mfrac><mi>c</mi></mfrac></mrow>`, "1/(ab) · (a/b)/c"},
		{`\frac{a}{b} c`, `<mrow><mfrac><mi>a</mi><mi>b</mi></mfrac><mi>c</mi></mrow>`, "(a/b)c"},
		{`\hat{x} + \overline{ab}`, `<mrow><mover accent="true"><mi>x</mi><mo>^</mo></mover><mo>+</mo><mover accent="true"><mrow><mi>a</mi><mi>b</mi></mrow><mo>¯</mo></mover></mrow>`, "x\u0302 + bar(ab)"},
		{`x \text{ if } 5\%`, "<mrow><mi>x</mi><mtext>\u00a0if\u00a0</mtext><mn>5</mn><mi>%</mi></mrow>", "x if 5%"},
		{`\mathrm{\mu S/cm}`, `<mrow><mi mathvariant="normal">µS/cm</mi></mrow>`, "µS/cm"},
		{`\int_0^\infty f(t,x)`, `<mrow><msubsup><mo>∫</mo><mn>0</mn><mi>∞</mi></msubsup><mi>f</mi><mo stretchy="false">(</mo><mi>t</mi><mo>,</mo><mi>x</mi><mo stretchy="false">)</mo></mrow>`, "∫_0^∞ f(t, x)"},
		{`\begin{aligned} a &= b \\ c &= d \end{aligned}`, `<mrow><mtable class="m-aligned" displaystyle="true"><mtr><mtd><mrow><mi>a</mi></mrow></mtd><mtd><mrow><mo>=</mo><mi>b</mi></mrow></mtd></mtr><mtr><mtd><mrow><mi>c</mi></mrow></mtd><mtd><mrow><mo>=</mo><mi>d</mi></mrow></mtd></mtr></mtable></mrow>`, "a = b; c = d"},
		{`\text{a<b}`, `<mrow><mtext>a&lt;b</mtext></mrow>`, "a<b"},
		{`\begin{cases} 1 & x > 0 \\ 0 & x \le 0 \end{cases}`, `<mrow><mrow><mo fence="true" stretchy="true">{</mo><mtable class="m-cases"><mtr><mtd><mrow><mn>1</mn></mrow></mtd><mtd><mrow><mi>x</mi><mo>&gt;</mo><mn>0</mn></mrow></mtd></mtr><mtr><mtd><mrow><mn>0</mn></mrow></mtd><mtd><mrow><mi>x</mi><mo>≤</mo><mn>0</mn></mrow></mtd></mtr></mtable></mrow></mrow>`, "{1, x > 0; 0, x ≤ 0}"},
	} {
		got, err := MathML(c.tex, false)
		if err != nil {
			t.Errorf("%s: %v", c.tex, err)
			continue
		}
		if want := `<math alttext="` + html.EscapeString(c.plain) + `">` + c.xml + `</math>`; got != want {
			t.Errorf("%s\n got %s\nwant %s", c.tex, got, want)
		}
		block, err := MathML(c.tex, true)
		if want := strings.Replace(got, "<math", `<math display="block"`, 1); block != want || err != nil {
			t.Errorf("%s as a block\n got %s, %v\nwant %s", c.tex, block, err, want)
		}
		if err := wellFormed(block); err != nil {
			t.Errorf("%s gave %s: %v", c.tex, block, err)
		}
		if plain, _ := Text(c.tex); plain != c.plain {
			t.Errorf("%s reads %q, want %q", c.tex, plain, c.plain)
		}
	}
}

func TestErrors(t *testing.T) {
	for _, c := range []struct {
		tex     string
		at, len int
		what    string
	}{
		{`a + \fracc{1}{2}`, 4, 6, "the command “\\fracc” is not known here; did you mean “\\frac”?"},
		{`\frac{1}`, 0, 5, "“\\frac” lacks what it applies to"},
		{`{a`, 0, 1, "this “{” is never closed"},
		{`a}`, 1, 1, "“}” closes nothing"},
		{`a_`, 1, 1, "after “_” something is missing"},
		{`a_1_2`, 3, 1, "two of “_” stand at one place"},
		{`\left( a`, 0, 5, "this “\\left” has no “\\right”"},
		{`a & b`, 2, 1, "“&” cannot stand here"},
		{`\begin{matrix}a\end{matrix}`, 0, 14, "the environment “matrix” is not known here; there are cases and aligned"},
		{`\`, 0, 1, "a backslash stands at the end"},
		{``, 0, 0, "the formula is empty"},
		{"\\text{\x01}", 6, 1, "a control character stands here"},
		{"a\ufffe", 1, 3, "a control character stands here"},
		{`a \é`, 2, 3, "the command “\\é” is not known here"},
		{`a ~ b`, 2, 1, "“~” is no sign of a formula here"},
		{`\left( a \rightx`, 9, 7, "the command “\\rightx” is not known here; did you mean “\\right”?"},
		{`\right)`, 0, 6, "“\\right” has no “\\left” before it"},
		{`\sqrt[3{x}`, 5, 1, "this “[” is never closed"},
		{`\begin{cases} a`, 0, 6, "this “\\begin{cases}” has no “\\end{cases}”"},
		{"a\xff", 0, 2, "the formula is not UTF-8 text"},
		{`\text{a`, 5, 1, "this “{” is never closed"},
	} {
		_, err := MathML(c.tex, true)
		var e *Error
		if !errors.As(err, &e) || e.At != c.at || e.Len != c.len || e.What != c.what {
			t.Errorf("%q: %+v, want %d %d %q", c.tex, e, c.at, c.len, c.what)
		}
	}
}

// wellFormed parses an output with the strict reader of XML; it also refuses an attribute that
// stands twice, which that reader lets pass.
func wellFormed(out string) error {
	d := xml.NewDecoder(strings.NewReader(out))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
		if e, ok := token.(xml.StartElement); ok {
			seen := map[string]bool{}
			for _, a := range e.Attr {
				if seen[a.Name.Local] {
					return errors.New("the attribute " + a.Name.Local + " stands twice")
				}
				seen[a.Name.Local] = true
			}
		}
	}
}

// FuzzMathML: no text makes it panic, and what comes out is well-formed.
func FuzzMathML(f *testing.F) {
	f.Add(`r = \frac{d}{2} + g_{\mathrm{rough}}^2`)
	f.Add(`\begin{cases} a & b \\ c \end{cases} \left[ x \right.`)
	f.Add(`\sqrt[3]{\overline{x}} \% \{ \} '`)
	f.Add("\\text{\x01} \ufffe \\é")
	f.Add(`x'^{a=-b}_n \sin|x| \operatorname{inv}\alpha^\circ`)
	f.Fuzz(func(t *testing.T, tex string) {
		out, err := MathML(tex, true)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.At < 0 || e.At+e.Len > len(tex) || !utf8.ValidString(e.What) {
				t.Fatalf("%q: %v", tex, err)
			}
			return
		}
		if err := wellFormed(out); err != nil {
			t.Fatalf("%q gave %s: %v", tex, out, err)
		}
	})
}
