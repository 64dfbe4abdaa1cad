package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/spell"
)

// worked is one saved job of a folder, answered, or why it was not.
type worked struct {
	Name  string   `json:"name"`
	Told  []string `json:"told,omitempty"`
	Error string   `json:"error,omitempty"`
	*jsonReply
	reply *calc.Reply
}

// columns are what a folder's list shows of a job sheet, by the names of the
// alternatives' cells.
var columns = [...]string{"can", "wire", "dielectric", "passes", "ra", "time", "cost"}

// folder answers every saved job of a folder in order of name. One that cannot
// be read or is refused is named at the end, and the others are answered all the
// same: exit 1 then.
func (c *workCmd) folder(d *workDesk) error {
	switch {
	case len(c.Inputs) > 0:
		return fmt.Errorf("--from takes the inputs from %s; leave out %s", c.From, strings.Join(c.Inputs, " "))
	case c.Write != "":
		return errors.New("--write writes one job; --from names a folder of them")
	case c.HTML && c.Save == "":
		return errors.New("a page for each job wants a folder: name it with --save")
	case c.Save != "" && !c.HTML:
		return errors.New("--save of a folder of jobs holds their pages: give --html too")
	}
	list, err := c.answers(d)
	if err != nil {
		return err
	}
	s := d.streams
	switch {
	case c.HTML:
		err = c.pages(d, list)
	case c.JSON:
		err = encode(s, list)
	default:
		_, err = fmt.Fprint(s.out, listText(list))
	}
	if err != nil {
		return err
	}
	if slices.ContainsFunc(list, func(w worked) bool { return w.Error != "" }) {
		return errShown
	}
	return nil
}

func (c *workCmd) answers(d *workDesk) ([]worked, error) {
	entries, err := os.ReadDir(c.From)
	if err != nil {
		return nil, fmt.Errorf("the folder of saved jobs cannot be read: %w", err)
	}
	var list []worked
	for _, e := range entries {
		if ext := strings.ToLower(filepath.Ext(e.Name())); e.IsDir() || strings.HasPrefix(e.Name(), ".") || ext != ".json" && ext != ".job" {
			continue
		}
		w := worked{Name: e.Name()}
		data, err := readAtMost(filepath.Join(c.From, e.Name()))
		var job workJob
		if err == nil {
			job, err = c.open(d, e.Name(), data)
		}
		if err != nil {
			w.Error = strings.TrimPrefix(err.Error(), e.Name()+": ")
			list = append(list, w)
			continue
		}
		w.Told = job.told
		w.reply = job.calculator.Eval(d.book, job.input)
		reply := replyData(d.book, w.reply)
		w.jsonReply = &reply
		if w.reply.Answer == nil {
			var why []string
			for _, p := range w.reply.Problems {
				text := p.Text
				if p.Field != "" {
					text = p.Field + ": " + text
				}
				why = append(why, text)
			}
			w.Error = strings.Join(why, "; ")
		}
		list = append(list, w)
	}
	if len(list) == 0 {
		return nil, fmt.Errorf("there are no saved jobs in %s: their names end in .json or .job", c.From)
	}
	return list, nil
}

// cells are one job's line in the list.
func (w worked) cells() []string {
	a := w.reply.Answer
	if a.Sheet == nil {
		return []string{w.Name, a.Headline}
	}
	out := []string{w.Name}
	for _, name := range columns {
		text := ""
		for _, e := range a.Sheet.Alternatives[0].Cells {
			if e.Name == name {
				text = e.Text
			}
		}
		if name == "passes" {
			text += map[bool]string{true: " pass", false: " passes"}[text == "1"]
		}
		if name == "ra" {
			text = "Ra " + text
		}
		out = append(out, text)
	}
	return out
}

// listText is one line a job, then counts, then what was not answered.
func listText(list []worked) string {
	var rows [][]string
	var width []int
	var wrong, told []string
	count := map[string]int{}
	for _, w := range list {
		for _, text := range w.Told {
			told = append(told, w.Name+": "+text)
		}
		if w.Error != "" {
			wrong = append(wrong, w.Name+": "+w.Error)
			continue
		}
		row := w.cells()
		rows = append(rows, row)
		count[string(w.reply.Answer.Verdict)]++
		for i, c := range row[:len(row)-1] {
			if i == len(width) {
				width = append(width, 0)
			}
			width[i] = max(width[i], len([]rune(c)))
		}
	}
	var t strings.Builder
	for _, row := range rows {
		for i, c := range row {
			t.WriteString(c)
			if i < len(row)-1 {
				t.WriteString(strings.Repeat(" ", width[i]-len([]rune(c))+2))
			}
		}
		t.WriteByte('\n')
	}
	fmt.Fprintf(&t, "\n%s: %d can be cut, %d only if something is changed, %d not as printed", spell.Count(len(rows), "job"), count[string(calc.Yes)], count[string(calc.OnlyIf)], count[string(calc.No)])
	if rest := len(rows) - count[string(calc.Yes)] - count[string(calc.OnlyIf)] - count[string(calc.No)]; rest > 0 {
		fmt.Fprintf(&t, ", %d without a verdict", rest)
	}
	t.WriteString(".\n")
	part := func(head string, items []string) {
		if len(items) > 0 {
			t.WriteString("\n" + head + "\n- " + strings.Join(items, "\n- ") + "\n")
		}
	}
	part("Read in part:", told)
	part("Not answered:", wrong)
	return t.String()
}

// pages writes a page for each sheet into the folder of --save.
func (c *workCmd) pages(d *workDesk, list []worked) error {
	if err := os.MkdirAll(c.Save, 0o755); err != nil {
		return fmt.Errorf("the folder cannot be made: %w", err)
	}
	taken := map[string]bool{}
	written, s := 0, d.streams
	for i := range list {
		w := &list[i]
		if w.Error == "" && w.reply.Answer.Sheet == nil {
			w.Error = w.reply.Calculator.ID + " gives no sheet, so it has no page"
		}
		if w.Error != "" {
			fmt.Fprintf(s.err, "%s: %s\n", w.Name, w.Error)
			continue
		}
		page, err := d.page(w.reply, w.Told)
		if err != nil {
			return err
		}
		name := strings.TrimSuffix(w.Name, filepath.Ext(w.Name)) + ".html"
		if taken[name] { // comb.json and comb.job
			name = w.Name + ".html"
		}
		taken[name] = true
		if err := os.WriteFile(filepath.Join(c.Save, name), page, 0o644); err != nil {
			return fmt.Errorf("the page cannot be written: %w", err)
		}
		written++
	}
	fmt.Fprintf(s.out, "%s written to %s\n", spell.Count(written, "page"), c.Save)
	return nil
}
