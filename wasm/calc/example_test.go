package calc_test

import (
	"fmt"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// A calculator of one field and one answer: declared by text, bound to variables, and
// asked with what a reader typed. A range in is a range out.
func ExampleCalculator_Eval() {
	kerf := &calc.Calculator{ID: "slit", Title: "Slit", Question: "How wide is the slit?", Summary: "Wire and two gaps.",
		Build: func(f *calc.Form, _ *book.Book) calc.Run {
			var gap, width unit.Length
			calc.Ask(f, &gap, "gap: Spark gap\nmark gap\nis 40 µm\nkeys small\nmin 0 µm: a gap is not negative\nranges")
			calc.Tell(f, &width, "width: Width\nmain\nrises gap")
			return calc.Run{
				Point: func(p *calc.Point) {
					width = 0.25 + 2*gap
					p.Work("width | width | d + 2 g | 0.25 mm + 2 × {gap} | definition")
				},
				Say: func(r *calc.Result, a *calc.Answer) { a.Headline = r.Text("{width}") },
			}
		}}
	b, err := book.Read(nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	if _, err := calc.NewSet(b, kerf); err != nil {
		fmt.Println(err)
		return
	}
	for _, typed := range []string{"35 to 45 µm", "40", "-1 µm"} {
		reply := kerf.Eval(b, calc.Input{Values: map[string]string{"gap": typed}, Strict: true})
		if reply.Answer == nil {
			fmt.Println(reply.Problems[0].Text)
			continue
		}
		fmt.Println(reply.Answer.Headline)
	}
	// Output:
	// 0.33 mm (0.32 to 0.34)
	// “40” has no unit; write a number and mm, µm, thou, tenths or in, for example 3 thou
	// Spark gap is at least 0 µm, this is -1 µm: a gap is not negative
}
