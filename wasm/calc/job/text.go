package job

import (
	"strings"

	"kerfbook/wasm/calc"
)

// Text is the sheet as plain text: what, range, because, how sure, read more.
func Text(a *calc.Answer) string {
	var t strings.Builder
	s := a.Sheet
	for _, e := range s.Title {
		if e.Text != "" {
			t.WriteString(e.Label + ": " + e.Text + "\n")
		}
	}
	if len(s.Print) > 0 {
		t.WriteString("\nThe print\n")
	}
	for _, i := range s.Print {
		t.WriteString("   " + i.Label + ": " + i.Text)
		if i.Assumed {
			t.WriteString(" (assumed)")
		}
		t.WriteByte('\n')
	}
	t.WriteString("\n" + a.Headline + "\n" + a.Lead + "\n")
	for _, l := range s.Lines {
		t.WriteString("\n" + l.Label + ": " + l.What)
		if l.Own {
			t.WriteString(" (your own decision)")
		}
		t.WriteByte('\n')
		put := func(head, text string) {
			if text != "" {
				t.WriteString("   " + head + ": " + text + "\n")
			}
		}
		put("range", l.Range)
		put("because", l.Because)
		put("breaks", l.Breaks)
		put("how sure", l.Sure)
		put("read more", l.Page)
	}
	list := func(head string, items []string) {
		if len(items) > 0 {
			t.WriteString("\n" + head + "\n")
		}
		for _, i := range items {
			t.WriteString("- " + i + "\n")
		}
	}
	list("To check and sign", s.Checks)
	list("Open questions", s.Open)
	for _, c := range a.Cautions {
		t.WriteString("\n" + c.Word + ": " + c.Text + "\n")
	}
	return t.String()
}
