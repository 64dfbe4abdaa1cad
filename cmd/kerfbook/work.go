package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/catalog"
	"kerfbook/wasm/panel"
	"kerfbook/wasm/unit"
)

type workCmd struct {
	ID      string   `arg:"" optional:"" help:"Which calculator; without one they are listed by their question."`
	Inputs  []string `arg:"" optional:"" help:"Inputs as name=value, values with their unit: radius=\"3 thou\"."`
	JSON    bool     `help:"Answer as JSON: numbers unrounded and in base units."`
	HTML    bool     `help:"Answer as the page's own markup." name:"html"`
	Save    string   `help:"Folder for the files that an answer gives to carry away, or for the pages of --from DIR --html." placeholder:"DIR" type:"path"`
	From    string   `help:"Answer a saved job, or every saved job of a folder." placeholder:"FILE" type:"path"`
	Write   string   `help:"Also write what was put in as a saved job." placeholder:"FILE" type:"path"`
	Inch    bool     `help:"Print answers in inches."`
	Verdict bool     `help:"Exit with 3 where the answer is Only if, and with 4 where it is No."`
	Content string   `help:"${content}" placeholder:"DIR" type:"path"`
	Shop    string   `help:"A shop's own folder, whose tables are laid over the handbook's." placeholder:"DIR" type:"path"`
}

// Run answers. A refused input is exit 1; "cannot be cut" is an answer, exit 0 unless
// --verdict asks for a code of its own.
func (c *workCmd) Run(s *streams) error {
	h, err := open(s, c.Content)
	if err != nil {
		return err
	}
	if err := h.withShop(c.Shop); err != nil {
		return err
	}
	b, err := h.book(s)
	if err != nil {
		return err
	}
	set, err := catalog.New(b)
	if err != nil {
		return err
	}
	if c.ID == "" && c.From == "" {
		for _, k := range set.All() {
			fmt.Fprintf(s.out, "%-10s %s\n", k.ID, k.Question)
		}
		return nil
	}
	d := &workDesk{desk: desk{b, set}, handbook: h, streams: s}
	if info, err := os.Stat(c.From); c.From != "" && err == nil && info.IsDir() {
		return c.folder(d)
	}
	job, err := c.job(d)
	if err != nil {
		return err
	}
	rep := job.calculator.Eval(b, job.input)
	if err := c.print(d, rep, job.told); err != nil {
		return err
	}
	if rep.Answer == nil {
		return errShown
	}
	for i, p := range job.saved.Inputs { // a choice goes into the file by its own name, however it was typed
		if f, ok := rep.Field(p.Name); ok && f.Shape == calc.ChoiceShape && f.Problem == "" {
			job.saved.Inputs[i].Value = f.Text
		}
	}
	if err := c.keep(s, job); err != nil {
		return err
	}
	if err := c.save(s, rep.Answer); err != nil || !c.Verdict {
		return err
	}
	return verdictExit(rep.Answer.Verdict)
}

// exitCode ends the command with a code of its own, after everything was printed.
type exitCode int

func (e exitCode) Error() string { return "" }

// verdictExit is the exit of a verdict, nil for a plain yes and for an answer without one.
func verdictExit(v calc.Verdict) error {
	switch v {
	case calc.OnlyIf:
		return exitCode(3)
	case calc.No:
		return exitCode(4)
	}
	return nil
}

// print answers in the form that was asked for.
func (c *workCmd) print(d *workDesk, rep *calc.Reply, told []string) error {
	s := d.streams
	switch {
	case c.JSON:
		return writeJSON(s, d.book, rep)
	case c.HTML && rep.Answer != nil && rep.Answer.Sheet != nil:
		page, err := d.page(rep, told)
		if err == nil {
			_, err = s.out.Write(page)
		}
		return err
	case c.HTML && rep.Answer != nil:
		_, err := fmt.Fprint(s.out, panel.Form(rep, panel.Options{Prefix: rep.Calculator.ID, Heading: 1}))
		return err
	}
	return writeText(s, rep)
}

// typed reads the inputs as they were put in.
func (c *workCmd) typed(k *calc.Calculator, b *book.Book) (calc.Input, error) {
	in := calc.Input{Values: map[string]string{}, Strict: true}
	if c.Inch {
		in.System = unit.Inch
	}
	for _, pair := range c.Inputs {
		name, value, ok := strings.Cut(pair, "=")
		if !ok {
			return in, fmt.Errorf("an input is name=value, for example radius=\"3 thou\"; this is %q", pair)
		}
		name = strings.TrimSpace(name)
		if fields, _ := k.Describe(b); slices.ContainsFunc(fields, func(f calc.Field) bool { return f.Name == name && f.Shape == calc.TextShape }) {
			var err error
			if value, err = textOf(name, value); err != nil {
				return in, err
			}
			if _, sampled := in.Values["sample"]; name == "drawing" && !sampled && slices.ContainsFunc(fields, func(f calc.Field) bool { return f.Name == "sample" }) {
				in.Values["sample"] = "own"
			}
		}
		in.Values[name] = value
	}
	return in, nil
}

// textOf is a text field's value: the text itself when it has several lines or
// begins as SVG does, else what the file of this name holds, else path data.
func textOf(name, value string) (string, error) {
	if strings.ContainsAny(value, "\r\n") || strings.HasPrefix(strings.TrimSpace(value), "<") {
		return value, nil
	}
	text, err := os.ReadFile(value)
	if err == nil {
		return string(text), nil
	}
	if isPath(value) {
		return value, nil
	}
	said := []rune(value)
	if len(said) > 60 {
		said = append(said[:60], '…')
	}
	var why *os.PathError
	if errors.As(err, &why) {
		err = why.Err // the name is said once, and short
	}
	return "", fmt.Errorf("the file of %s, %q, cannot be read: %w. Write %s=FILE, or the text itself with its line ends", name, string(said), err, name)
}

// isPath tells path data from a file's name: it begins with M and a number, and has
// a command after it.
func isPath(s string) bool {
	s = strings.TrimSpace(s)
	return len(s) > 3 && (s[0] == 'M' || s[0] == 'm') && strings.IndexByte("0123456789+-. \t", s[1]) >= 0 &&
		strings.ContainsAny(s[1:], "LlHhVvCcSsQqTtAaZz") && strings.Trim(s, "MmLlHhVvCcSsQqTtAaZz0123456789+-.,eE \t") == ""
}

// save writes what can be carried away.
func (c *workCmd) save(s *streams, a *calc.Answer) error {
	if c.Save == "" {
		return nil
	}
	if len(a.Files) == 0 {
		return errors.New("this answer gives nothing to carry away")
	}
	if err := os.MkdirAll(c.Save, 0o755); err != nil {
		return fmt.Errorf("the folder cannot be made: %w", err)
	}
	for _, f := range a.Files {
		if err := os.WriteFile(filepath.Join(c.Save, f.Name), []byte(f.Text), 0o644); err != nil {
			return err
		}
	}
	if !c.JSON {
		fmt.Fprintf(s.out, "%d files written to %s\n", len(a.Files), c.Save)
	}
	return nil
}

// number is a float that JSON can hold: infinities are null.
type number float64

// MarshalJSON writes the shortest text that reads back the same.
func (n number) MarshalJSON() ([]byte, error) {
	if math.IsInf(float64(n), 0) || math.IsNaN(float64(n)) {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n))
}

type jsonValue struct {
	Likely number `json:"likely"`
	Low    number `json:"low"`
	High   number `json:"high"`
	Unit   string `json:"unit"`
	Text   string `json:"text"`
}

type jsonChoice struct {
	Likely string   `json:"likely"`
	All    []string `json:"all"`
	When   string   `json:"when,omitempty"`
	Text   string   `json:"text"`
}

type jsonProblem struct {
	Field string `json:"field,omitempty"`
	Text  string `json:"text"`
}

type jsonReply struct {
	Calculator string            `json:"calculator"`
	Understood map[string]string `json:"understood"`
	Verdict    string            `json:"verdict,omitempty"`
	Headline   string            `json:"headline,omitempty"`
	Values     map[string]any    `json:"values"`
	Rows       []string          `json:"rows"`
	Notes      []string          `json:"notes"`
	Cautions   []string          `json:"cautions"`
	Problems   []jsonProblem     `json:"problems"`
	Sheet      *jsonSheet        `json:"sheet,omitempty"`
}

func writeJSON(s *streams, b *book.Book, rep *calc.Reply) error {
	return encode(s, replyData(b, rep))
}

// encode writes a value as JSON.
func encode(s *streams, v any) error {
	w := json.NewEncoder(s.out)
	w.SetEscapeHTML(false)
	w.SetIndent("", "  ")
	return w.Encode(v)
}

func replyData(b *book.Book, rep *calc.Reply) jsonReply {
	out := jsonReply{Calculator: rep.Calculator.ID, Understood: map[string]string{}, Values: map[string]any{}, Rows: []string{}, Notes: []string{}, Cautions: []string{}, Problems: []jsonProblem{}}
	for _, f := range rep.Fields {
		if f.Text != "" {
			out.Understood[f.Name] = f.Text
		}
	}
	for _, p := range rep.Problems {
		out.Problems = append(out.Problems, jsonProblem{p.Field, p.Text})
	}
	if a := rep.Answer; a != nil {
		out.Verdict, out.Headline = string(a.Verdict), a.Headline
		for _, f := range a.Values {
			out.Values[f.Name] = jsonValue{number(f.Range.Likely), number(f.Range.Low), number(f.Range.High), f.Kind.Base(), f.Text}
		}
		for _, p := range a.Choices {
			c := jsonChoice{Likely: p.Likely.Value, When: p.When, Text: p.Likely.Label}
			for _, o := range p.All {
				c.All = append(c.All, o.Value)
			}
			out.Values[p.Name] = c
		}
		for _, r := range a.Rows {
			out.Rows = append(out.Rows, r.Table+" "+r.Key)
		}
		out.Notes = append(out.Notes, a.Notes...)
		for _, c := range a.Cautions {
			out.Cautions = append(out.Cautions, c.Word+": "+c.Text)
		}
		out.Sheet = sheetData(a, b)
	}
	return out
}

func writeText(s *streams, rep *calc.Reply) error {
	for _, p := range rep.Problems {
		name := p.Field
		if name == "" {
			name = rep.Calculator.ID
		}
		fmt.Fprintf(s.err, "%s: %s\n", name, p.Text)
	}
	a := rep.Answer
	if a == nil {
		return nil
	}
	if a.Sheet != nil {
		return writeSheet(s, a)
	}
	var t strings.Builder
	t.WriteString(a.Headline + "\n")
	if a.Lead != "" {
		t.WriteString(a.Lead + "\n")
	}
	if a.General {
		t.WriteString("General range, not your machine.\n")
	}
	t.WriteString("\n")
	for _, f := range a.Values {
		fmt.Fprintf(&t, "  %-40s %s", f.Label, f.Text)
		if f.Width != "" {
			t.WriteString("   [" + f.Width + "]")
		}
		t.WriteString("\n")
	}
	for _, p := range a.Choices {
		var all []string
		for _, o := range p.All {
			all = append(all, o.Label)
		}
		fmt.Fprintf(&t, "  %-40s %s", p.Label, strings.Join(all, " or "))
		if p.When != "" {
			t.WriteString("   [" + p.When + "]")
		}
		t.WriteString("\n")
	}
	for _, table := range a.Tables {
		writeTable(&t, table)
	}
	if len(a.Steps) > 0 {
		t.WriteString("\nHow it was worked out\n")
		for _, st := range a.Steps {
			fmt.Fprintf(&t, "  %s: %s = %s = %s (%s)\n", st.Name, st.Formula, st.Put, st.Equals, st.Source)
		}
	}
	for _, n := range a.Notes {
		t.WriteString("\n- " + n)
	}
	for _, c := range a.Cautions {
		t.WriteString("\n" + c.Word + ": " + c.Text)
	}
	if len(a.Rows) > 0 {
		t.WriteString("\n\nTable rows used:")
		for _, r := range a.Rows {
			t.WriteString(" " + r.Describe() + ";")
		}
	}
	t.WriteString("\n")
	_, err := fmt.Fprint(s.out, t.String())
	return err
}

func writeTable(t *strings.Builder, table calc.Table) {
	t.WriteString("\n" + table.Title + "\n")
	width := make([]int, len(table.Columns))
	cells := [][]string{{}}
	for _, c := range table.Columns {
		cells[0] = append(cells[0], c.Head)
	}
	for _, row := range table.Rows {
		var texts []string
		for i, c := range row {
			text := c.Text
			if i < len(table.Columns) && table.Columns[i].Axis != nil && c.Range != nil {
				text = fmt.Sprintf("%.4g to %.4g", c.Range.Low, c.Range.High)
			}
			texts = append(texts, text)
		}
		cells = append(cells, texts)
	}
	for _, row := range cells {
		for i, c := range row {
			width[i] = max(width[i], len([]rune(c)))
		}
	}
	for _, row := range cells {
		t.WriteString(" ")
		for i, c := range row {
			t.WriteString(" " + c + strings.Repeat(" ", width[i]-len([]rune(c))+1))
		}
		t.WriteString("\n")
	}
	if table.Note != "" {
		t.WriteString("  " + table.Note + "\n")
	}
}
