package catalog

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
)

// TestEveryRow plants a change in every number of every row of every table, one
// row at a time. An answer of any calculator, for its defaults and on each
// machine, that prints another value must name the row. It is no sweep of chance
// and runs whole always: a row left out would be a row that nobody holds.
func TestEveryRow(t *testing.T) {
	names, err := filepath.Glob("../../content/data/*.csv")
	if err != nil || len(names) == 0 {
		t.Fatalf("no tables: %v", err)
	}
	var files []book.File
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, book.File{Name: filepath.Base(name), Text: string(text)})
	}
	inputs := []map[string]string{nil, {"machine": "quay"}, {"machine": "loft", "wire": "0.05 mm"}, {"machine": "slip"}, {"dielectric": "oil"}, {"material": "carbide"}}
	before := answersOf(t, files, inputs)
	read := readBy(t, files)
	number := regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)
	planted, named := 0, map[string]bool{}
	for i, f := range files {
		if !read[strings.TrimSuffix(f.Name, ".csv")] {
			continue // no calculator reads it: pages print it alone
		}
		lines := strings.Split(f.Text, "\n")
		head := slices.IndexFunc(lines, func(l string) bool { return l != "" && l[0] != '#' })
		columns := strings.Split(lines[head], ",")
		for n := head + 1; n < len(lines); n++ {
			cells := strings.Split(lines[n], ",")
			if lines[n] == "" || strings.Contains(lines[n], "\"") && strings.Count(lines[n], ",") != len(columns)-1 {
				if lines[n] == "" {
					continue
				}
				cells = quoted(lines[n])
			}
			for c, text := range cells {
				// Keys stay: another key is another row.
				if !number.MatchString(text) || !strings.Contains(columns[c], "_") || slices.Contains(keysOf(f.Text), columns[c]) || columns[c] == "diameter_mm" || columns[c] == "cobalt_pct" || columns[c] == "temperature_degc" || strings.HasPrefix(columns[c], "ra_") && strings.HasPrefix(f.Name, "cutoffs") {
					continue
				}
				v, _ := strconv.ParseFloat(text, 64)
				cells[c] = strconv.FormatFloat(v*1.01, 'g', 12, 64)
			}
			changed := slices.Clone(lines)
			for c, text := range cells {
				if strings.Contains(text, ",") {
					cells[c] = "\"" + text + "\""
				}
			}
			changed[n] = strings.Join(cells, ",")
			if changed[n] == lines[n] {
				continue
			}
			planted++
			with := slices.Clone(files)
			with[i].Text = strings.Join(changed, "\n")
			row := strings.TrimSuffix(f.Name, ".csv") + " line " + strconv.Itoa(n+1)
			for id, after := range answersOf(t, with, inputs) {
				was := before[id]
				at := slices.Contains(was.rows, f.Name+" "+strconv.Itoa(n+1))
				if at {
					named[row] = true
				}
				if !at && was.rests(f.Name) && after.rests(f.Name) {
					named[row] = true
					continue
				}
				if !at && !slices.Contains(after.rows, f.Name+" "+strconv.Itoa(n+1)) && after.text != was.text {
					t.Errorf("%s: the answer of %s changed and does not name the row\n%s\n%s", row, id, was.text, after.text)
				}
			}
		}
	}
	t.Logf("%d rows changed, %d of them named by an answer", planted, len(named))
	if planted < 100 {
		t.Errorf("only %d rows could be changed", planted)
	}
}

// readBy are the tables that any calculator reads.
func readBy(t *testing.T, files []book.File) map[string]bool {
	t.Helper()
	b, err := book.Read(files)
	if err != nil {
		t.Fatal(err)
	}
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	for table := range set.Columns(b) {
		out[table] = true
	}
	return out
}

type printed struct {
	text string
	rows []string
}

// rests reports whether the answer names what stands for a table that the law of a
// pass reads whole: the factors of its material for the law's constants, and a cut
// for all cuts and what they were cut with.
func (p printed) rests(table string) bool {
	names := func(file string) bool {
		return slices.ContainsFunc(p.rows, func(row string) bool { return strings.HasPrefix(row, file+" ") })
	}
	switch table {
	case "passlaw.csv":
		return names("factors.csv")
	case "cuts.csv", "factors.csv", "machines.csv", "flushings.csv":
		return names("factors.csv") && names("cuts.csv")
	}
	return false
}

func answersOf(t *testing.T, files []book.File, inputs []map[string]string) map[string]printed {
	t.Helper()
	b, err := book.Read(files)
	if err != nil {
		t.Fatal(err)
	}
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]printed{}
	for _, c := range set.All() {
		fields, _ := c.Describe(b)
		for i, in := range inputs {
			values := map[string]string{}
			for name, v := range in {
				if slices.ContainsFunc(fields, func(f calc.Field) bool {
					return f.Name == name && (f.Shape != calc.ChoiceShape || slices.ContainsFunc(f.Options, func(o calc.Option) bool { return o.Value == v }))
				}) {
					values[name] = v
				}
			}
			if i > 0 && len(values) == 0 {
				continue
			}
			rep := c.Eval(b, calc.Input{Values: values})
			p := printed{}
			if rep.Answer != nil {
				for _, v := range rep.Answer.Values {
					p.text += v.Name + "=" + v.Text + " "
				}
				for _, v := range rep.Answer.Choices {
					p.text += v.Name + "=" + v.Likely.Value + " "
				}
				for _, r := range rep.Answer.Rows {
					p.rows = append(p.rows, r.File+" "+strconv.Itoa(r.Line))
				}
			}
			out[c.ID+" "+strconv.Itoa(i)] = p
		}
	}
	return out
}

func keysOf(text string) []string {
	m := regexp.MustCompile(`(?m)^# key: (.*)$`).FindStringSubmatch(text)
	return strings.Fields(m[1])
}

// quoted splits a line whose cells may hold commas between quotation marks.
func quoted(line string) []string {
	var cells []string
	for line != "" {
		if rest, ok := strings.CutPrefix(line, "\""); ok {
			cell, after, _ := strings.Cut(rest, "\"")
			cells = append(cells, cell)
			line = strings.TrimPrefix(after, ",")
			continue
		}
		cell, after, more := strings.Cut(line, ",")
		cells = append(cells, cell)
		line = after
		if more && line == "" {
			cells = append(cells, "")
		}
	}
	return cells
}
