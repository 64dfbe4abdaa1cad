package formula

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
)

func TestMathML(t *testing.T) {
	for _, c := range []struct{ tex, xml, plain string }{
		{`r = \frac{d}{2} + g`, `<mrow><mi>r</mi><mo>=</mo><mfrac><mi>d</mi><mn>2</mn></mfrac><mo>+</mo><mi>g</mi></mrow>`, "r = d/2 + g"},
		{`a - b`, `<mrow><mi>a</mi><mo>−</mo><mi>b</mi></mrow>`, "a − b"},
		{`g_{\mathrm{rough}}`, `<mrow><msub><mi>g</mi><mi mathvariant="normal">rough</mi></msub></mrow>`, "g_rough"},
		{`x_1^2`, `<mrow><msubsup><mi>x</mi><mn>1</mn><mn>2</mn></msubsup></mrow>`, "x_1^2"},
		{`\sqrt[3]{E}`, `<mrow><mroot><mi>E</mi><mrow><mn>3</mn></mrow></mroot></mrow>`, "3√(E)"},
		{`\left( \frac{1}{\sin(\theta/2)} - 1 \right)`, `<mrow><mrow><mo fence="true" stretchy="true">(</mo><mrow><mfrac><mn>1</mn><mrow><mi>sin</mi><mo stretchy="false">(</mo><mi>θ</mi><mo>/</mo><mn>2</mn><mo stretchy="false">)</mo></mrow></mfrac><mo>−</mo><mn>1</mn></mrow><mo fence="true" stretchy="true">)</mo></mrow></mrow>`, "(1/(sin (θ/2)) − 1)"},
		{`\sum_{n=1}^{4} t_n`, `<mrow><munderover><mo>∑</mo><mrow><mi>n</mi><mo>=</mo><mn>1</mn></mrow><mn>4</mn></munderover><msub><mi>t</mi><mi>n</mi></msub></mrow>`, "∑_(n = 1)^4t_n"},
		{`30^\circ`, `<mrow><msup><mn>30</mn><mi>∘</mi></msup></mrow>`, "30^°"},
		{`\text{a<b}`, `<mrow><mtext>a&lt;b</mtext></mrow>`, "a<b"},
		{`\begin{cases} 1 & x > 0 \\ 0 & x \le 0 \end{cases}`, `<mrow><mrow><mo fence="true" stretchy="true">{</mo><mtable><mtr><mtd><mrow><mn>1</mn></mrow></mtd><mtd><mrow><mi>x</mi><mo>&gt;</mo><mn>0</mn></mrow></mtd></mtr><mtr><mtd><mrow><mn>0</mn></mrow></mtd><mtd><mrow><mi>x</mi><mo>≤</mo><mn>0</mn></mrow></mtd></mtr></mtable></mrow></mrow>`, "{1x > 0; 0x ≤ 0;"},
	} {
		got, err := MathML(c.tex, false)
		if err != nil {
			t.Errorf("%s: %v", c.tex, err)
			continue
		}
		if body := got[strings.Index(got, ">")+1 : len(got)-len("</math>")]; body != c.xml {
			t.Errorf("%s\n got %s\nwant %s", c.tex, body, c.xml)
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
		{`\text{a`, 5, 1, "this “{” is never closed"},
	} {
		_, err := MathML(c.tex, true)
		var e *Error
		if !errors.As(err, &e) || e.At != c.at || e.Len != c.len || e.What != c.what {
			t.Errorf("%q: %+v, want %d %d %q", c.tex, e, c.at, c.len, c.what)
		}
	}
}

// FuzzMathML: no text makes it panic, and what comes out is well-formed.
func FuzzMathML(f *testing.F) {
	f.Add(`r = \frac{d}{2} + g_{\mathrm{rough}}^2`)
	f.Add(`\begin{cases} a & b \\ c \end{cases} \left[ x \right.`)
	f.Add(`\sqrt[3]{\overline{x}} \% \{ \} '`)
	f.Fuzz(func(t *testing.T, tex string) {
		out, err := MathML(tex, true)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.At < 0 || e.At > len(tex) {
				t.Fatalf("%q: %v", tex, err)
			}
			return
		}
		d := xml.NewDecoder(strings.NewReader(out))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				return
			} else if err != nil {
				t.Fatalf("%q gave %s: %v", tex, out, err)
			}
		}
	})
}
