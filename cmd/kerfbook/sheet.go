package main

import (
	"fmt"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/calc/job"
)

// jsonSheet is a job sheet as data.
type jsonSheet struct {
	Title        []jsonEntry       `json:"title"`
	Print        []jsonSaid        `json:"print"`
	Tables       []jsonTable       `json:"tables"`
	Lines        []jsonLine        `json:"lines"`
	Alternatives []jsonAlternative `json:"alternatives"`
	Checks       []string          `json:"checks"`
	Open         []string          `json:"open"`
	Process      *jsonProcess      `json:"process,omitempty"`
}

type jsonEntry struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// jsonSaid is one thing that the sheet rests on.
type jsonSaid struct {
	Name    string `json:"name"`
	Text    string `json:"text"`
	Assumed bool   `json:"assumed"`
}

// jsonTable is a table of the sheet as it is printed: the passes with their offsets,
// the alternatives.
type jsonTable struct {
	Title   string     `json:"title"`
	Columns []string   `json:"columns"`
	Rows    [][]string `json:"rows"`
}

type jsonLine struct {
	Name    string   `json:"name"`
	Label   string   `json:"label"`
	What    string   `json:"what"`
	Range   string   `json:"range,omitempty"`
	Because string   `json:"because"`
	Sure    string   `json:"sure"`
	Page    string   `json:"page"`
	Rules   []string `json:"rules"`
	Own     bool     `json:"own"`
	Breaks  string   `json:"breaks,omitempty"`
	From    []string `json:"from"`
}

type jsonAlternative struct {
	Name    string      `json:"name"`
	Cells   []jsonEntry `json:"cells"`
	GivesUp string      `json:"givesUp,omitempty"`
}

func sheetData(a *calc.Answer, b *book.Book) *jsonSheet {
	s := a.Sheet
	if s == nil {
		return nil
	}
	entries := func(list []calc.Entry) []jsonEntry {
		out := []jsonEntry{}
		for _, e := range list {
			out = append(out, jsonEntry{e.Name, e.Text})
		}
		return out
	}
	out := &jsonSheet{Title: entries(s.Title), Print: []jsonSaid{}, Tables: []jsonTable{}, Lines: []jsonLine{}, Alternatives: []jsonAlternative{}, Checks: append([]string{}, s.Checks...), Open: append([]string{}, s.Open...)}
	for _, i := range s.Print {
		out.Print = append(out.Print, jsonSaid{i.Name, i.Text, i.Assumed})
	}
	for _, t := range a.Tables {
		data := jsonTable{Title: t.Title, Columns: []string{}, Rows: [][]string{}}
		for _, c := range t.Columns {
			data.Columns = append(data.Columns, c.Head)
		}
		for _, row := range t.Rows {
			cells := []string{}
			for _, c := range row {
				cells = append(cells, c.Text)
			}
			data.Rows = append(data.Rows, cells)
		}
		out.Tables = append(out.Tables, data)
	}
	out.Process = processData(s.Process)
	from := job.From(b)
	for _, l := range s.Lines {
		out.Lines = append(out.Lines, jsonLine{l.Name, l.Label, l.What, l.Range, l.Because, l.Sure, l.Page, append([]string{}, l.Rules...), l.Own, l.Breaks, from[l.Name]})
	}
	for _, alt := range s.Alternatives {
		out.Alternatives = append(out.Alternatives, jsonAlternative{alt.Name, entries(alt.Cells), alt.GivesUp})
	}
	return out
}

// writeSheet prints a job sheet: the lines, the tables, the notes, the rows.
func writeSheet(s *streams, a *calc.Answer) error {
	var t strings.Builder
	t.WriteString(job.Text(a))
	for _, table := range a.Tables {
		writeTable(&t, table)
	}
	for _, n := range a.Notes {
		t.WriteString("\n- " + n + "\n")
	}
	t.WriteString("\nTable rows used:")
	for _, r := range a.Rows {
		t.WriteString(" " + r.Describe() + ";")
	}
	t.WriteString("\n")
	_, err := fmt.Fprint(s.out, t.String())
	return err
}
