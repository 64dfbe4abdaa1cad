package record

import (
	"fmt"
	"slices"
	"strings"
)

// Changes is what moved between two editions, for the person who signs. It is
// also the JSON of `kerfbook changes --json`; its names stay, new ones may come:
//
//	changes      version of this report, 1
//	old, new     title, revision, date and digest of the two editions
//	same         true when nothing at all differs
//	edition      what the editions say of themselves: name, old, new
//	calculators  old and new digest of the program when it changed; ids new and gone
//	answers      state (changed, new, gone), id, sheet, title, kind, calculator, inputs,
//	             values (name, old, new), causes (kind, and what it is about)
//	tables       state, name, title, old-count, new-count, moved (true when only the
//	             order of the rows, or the columns and no cell, changed), rows: state,
//	             key, cells (name, old, new)
//	rules        the same for the table called rules
//	pages        state, address, was (its older address), number, title, what: any of
//	             text, numbers, title, address, title block, unknown
//	jobs         saved jobs whose answers changed, or that are not answered (state changed,
//	             unanswered): name, calculator, values, causes, said
//	jobs-read    how many saved jobs were answered again; absent when none was asked for
//	notes        what cannot be told from these two records or files, in words
//
// A value that is not there is "". The kinds of cause are row (with table, key,
// state and cells), law (the table of its constants), input (name, old, new),
// calculators, page (address and state) and unknown.
type Changes struct {
	Version     int               `json:"changes"`
	Old         EditionName       `json:"old"`
	New         EditionName       `json:"new"`
	Same        bool              `json:"same"`
	Edition     []Moved           `json:"edition"`
	Calculators CalculatorsChange `json:"calculators"`
	Answers     []AnswerChange    `json:"answers"`
	Tables      []TableChange     `json:"tables"`
	Rules       []TableChange     `json:"rules"`
	Pages       []PageChange      `json:"pages"`
	Jobs        []JobChange       `json:"jobs"`
	JobsRead    int               `json:"jobs-read,omitempty"`
	Notes       []string          `json:"notes"`
	owner       string
	scheme      string
}

// EditionName is what an edition is called.
type EditionName struct {
	Title    string `json:"title"`
	Revision string `json:"revision"`
	Date     string `json:"date"`
	Digest   string `json:"digest"`
}

// Moved is a named text and what became of it.
type Moved struct {
	Name string `json:"name"`
	Old  string `json:"old"`
	New  string `json:"new"`
}

// CalculatorsChange is whether the program changed, and which calculators came
// or went.
type CalculatorsChange struct {
	Old  string   `json:"old,omitempty"`
	New  string   `json:"new,omitempty"`
	Came []string `json:"new-ids,omitempty"`
	Gone []string `json:"gone-ids,omitempty"`
}

// State says what became of a thing.
type State string

// The states.
const (
	Changed State = "changed"
	Came    State = "new"
	Gone    State = "gone"
)

// AnswerChange is a recorded answer that changed, came or went.
type AnswerChange struct {
	State      State       `json:"state"`
	ID         string      `json:"id"`
	Sheet      string      `json:"sheet"`
	Title      string      `json:"title"`
	Kind       string      `json:"kind"`
	Calculator string      `json:"calculator"`
	Inputs     []NamedText `json:"inputs"`
	Values     []Moved     `json:"values"`
	Causes     []Cause     `json:"causes"`
}

// Cause is one thing that the answer depends on and that changed.
type Cause struct {
	Kind  string  `json:"kind"` // row, input, calculators, page, unknown
	Table string  `json:"table,omitempty"`
	Key   string  `json:"key,omitempty"`
	State State   `json:"state,omitempty"`
	Cells []Moved `json:"cells,omitempty"`
}

// TableChange is a table that changed, came or went.
type TableChange struct {
	State    State       `json:"state"`
	Name     string      `json:"name"`
	Title    string      `json:"title"`
	OldCount int         `json:"old-count"`
	NewCount int         `json:"new-count"`
	Moved    bool        `json:"moved,omitempty"`
	Rows     []RowChange `json:"rows"`
}

// RowChange is a row that changed, came or went. Cells is empty for a row of a
// record that keeps no cells.
type RowChange struct {
	State State   `json:"state"`
	Key   string  `json:"key"`
	Cells []Moved `json:"cells"`
}

// PageChange is a sheet that changed, came or went.
type PageChange struct {
	State   State    `json:"state"`
	Address string   `json:"address"`
	Was     string   `json:"was,omitempty"`
	Number  string   `json:"number"`
	Title   string   `json:"title"`
	What    []string `json:"what"`
}

// rulesTable is the table whose rows are a shop's own rules; it has a heading of
// its own in the report.
const rulesTable = "rules"

// Compare says what moved from one edition to the next. It reads the records
// only.
func Compare(old, now *Edition) *Changes {
	c := &Changes{Version: 1, Old: nameOf(old), New: nameOf(now), Edition: []Moved{}, Answers: []AnswerChange{}, Tables: []TableChange{},
		Rules: []TableChange{}, Pages: []PageChange{}, Jobs: []JobChange{}, Notes: []string{}, owner: now.Owner, scheme: now.Scheme}
	c.moved("title", old.Title, now.Title)
	c.moved("owner", old.Owner, now.Owner)
	if old.Kerfbook > 1 && now.Kerfbook > 1 {
		c.moved("numbering", old.Scheme, now.Scheme)
	}
	c.moved("revision", old.Revision, now.Revision)
	c.moved("date", old.Date, now.Date)
	c.moved("toolchain", old.Toolchain, now.Toolchain)
	d := newDiff(old, now)
	c.pages(d)
	c.tables(d)
	c.answers(d)
	if old.Wasm != now.Wasm {
		c.Calculators.Old, c.Calculators.New = old.Wasm, now.Wasm
	}
	c.Calculators.Came, c.Calculators.Gone = without(defaults(now), defaults(old)), without(defaults(old), defaults(now))
	c.limits(old, now)
	c.settle()
	return c
}

// settle says whether the report is empty; what the jobs add comes later.
func (c *Changes) settle() {
	c.Same = len(c.Edition)+len(c.Answers)+len(c.Tables)+len(c.Rules)+len(c.Pages)+len(c.Jobs)+len(c.Calculators.Came)+len(c.Calculators.Gone) == 0 &&
		c.Calculators.New == "" && c.Old.Digest == c.New.Digest
}

// Owner is the owner of the newer edition.
func (c *Changes) Owner() string { return c.owner }

func nameOf(e *Edition) EditionName { return EditionName{e.Title, e.Revision, e.Date, e.Digest} }

func (c *Changes) moved(name, old, now string) {
	if old != now {
		c.Edition = append(c.Edition, Moved{name, old, now})
	}
}

// limits says what records of version 1 leave open.
func (c *Changes) limits(old, now *Edition) {
	var which string
	switch {
	case old.Kerfbook > 1 && now.Kerfbook > 1 || old.Digest == now.Digest:
		return
	case old.Kerfbook == now.Kerfbook:
		which = "both records are"
	case old.Kerfbook == 1:
		which = "the old record is"
	default:
		which = "the new record is"
	}
	c.Notes = append(c.Notes, which+" of version 1: which pages changed, which cells of a row, and whether a verdict changed cannot be told; publish that edition again with this kerfbook to know")
}

func defaults(e *Edition) []string {
	var out []string
	for _, a := range e.Answers {
		if a.Kind == "default" {
			out = append(out, a.Calculator)
		}
	}
	slices.Sort(out)
	return out
}

func without(list, taken []string) []string {
	var out []string
	for _, s := range list {
		if !slices.Contains(taken, s) {
			out = append(out, s)
		}
	}
	return out
}

// diff holds two records by name, and the pages that belong together.
type diff struct {
	old, now         *Edition
	oldRows, nowRows map[string]Row
	nowPage          map[string]string // address of an old page to that of the new one
	page             map[string]Page
	oldPage          map[string]Page
	fresh            map[string]State // of the new edition's pages: those that came, those with changed words
	gone             map[string]bool  // of the old edition's pages: those that are no more
}

func newDiff(old, now *Edition) *diff {
	d := &diff{old: old, now: now, oldRows: byName(old.Rows), nowRows: byName(now.Rows), nowPage: map[string]string{},
		page: map[string]Page{}, oldPage: map[string]Page{}, fresh: map[string]State{}, gone: map[string]bool{}}
	number := map[string]string{} // an identification number is fixed for good, an address is not
	for _, p := range now.Pages {
		d.page[p.Address] = p
		number[p.Number] = p.Address
	}
	taken := map[string]bool{}
	for _, p := range old.Pages {
		d.oldPage[p.Address] = p
		if to := number[p.Number]; to != "" && p.Number != "" && !taken[to] {
			d.nowPage[p.Address] = to
			taken[to] = true
		}
	}
	for _, p := range old.Pages {
		if _, known := d.page[p.Address]; known && d.nowPage[p.Address] == "" && !taken[p.Address] {
			d.nowPage[p.Address] = p.Address
			taken[p.Address] = true
		}
	}
	return d
}

func byName(rows []Row) map[string]Row {
	out := make(map[string]Row, len(rows))
	for _, r := range rows {
		out[r.Table+" "+r.Key] = r
	}
	return out
}

// pages compares the sheets: new ones in the order of the new edition, then the
// gone ones.
func (c *Changes) pages(d *diff) {
	was := map[string]string{}
	for from, to := range d.nowPage {
		was[to] = from
	}
	known := d.old.Kerfbook > 1 && d.now.Kerfbook > 1
	for _, p := range d.now.Pages {
		from, matched := was[p.Address]
		if !matched {
			d.fresh[p.Address] = Came
			c.Pages = append(c.Pages, PageChange{State: Came, Address: p.Address, Number: p.Number, Title: p.Title, What: []string{}})
			continue
		}
		o := d.oldPage[from]
		ch := PageChange{State: Changed, Address: p.Address, Number: p.Number, Title: p.Title, What: []string{}}
		add := func(differs bool, what string) {
			if differs {
				ch.What = append(ch.What, what)
			}
		}
		if from != p.Address {
			ch.Was = from
		}
		add(known && o.Text != p.Text, "text")
		add(known && o.Text == p.Text && o.Printed != p.Printed, "numbers")
		add(o.Title != p.Title, "title")
		add(ch.Was != "", "address")
		// The page of codes follows every other sheet: that is told there.
		add(known && len(ch.What) == 0 && o.Check != p.Check && p.Number != CodesNumber, "title block")
		if slices.Contains(ch.What, "text") {
			d.fresh[p.Address] = Changed
		}
		if len(ch.What) > 0 {
			c.Pages = append(c.Pages, ch)
		}
	}
	for _, p := range d.old.Pages {
		if d.nowPage[p.Address] == "" {
			d.gone[p.Address] = true
			c.Pages = append(c.Pages, PageChange{State: Gone, Address: p.Address, Number: p.Number, Title: p.Title, What: []string{}})
		}
	}
}

// tables compares the tables of data row by row.
func (c *Changes) tables(d *diff) {
	put := func(t TableChange) {
		if t.Name == rulesTable {
			c.Rules = append(c.Rules, t)
		} else {
			c.Tables = append(c.Tables, t)
		}
	}
	before := map[string]Table{}
	for _, t := range d.old.Tables {
		before[t.Name] = t
	}
	oldRows, nowRows := byTable(d.old.Rows), byTable(d.now.Rows)
	for _, t := range d.now.Tables {
		o, matched := before[t.Name]
		delete(before, t.Name)
		ch := TableChange{State: Changed, Name: t.Name, Title: t.Title, OldCount: o.Count, NewCount: t.Count, Rows: []RowChange{}}
		if !matched {
			ch.State = Came
		}
		for _, r := range nowRows[t.Name] {
			prior, ok := d.oldRows[t.Name+" "+r.Key]
			cells := cellsMoved(prior, r, ok)
			told := prior.Cells != nil && r.Cells != nil
			switch {
			case !ok:
				ch.Rows = append(ch.Rows, RowChange{Came, r.Key, cells})
			case told && len(cells) > 0, !told && prior.Digest != r.Digest:
				ch.Rows = append(ch.Rows, RowChange{Changed, r.Key, cells})
			}
		}
		for _, r := range oldRows[t.Name] {
			if _, ok := d.nowRows[t.Name+" "+r.Key]; !ok {
				ch.Rows = append(ch.Rows, RowChange{Gone, r.Key, cellsMoved(r, Row{}, false)})
			}
		}
		ch.Moved = matched && len(ch.Rows) == 0 && o.Digest != "" && t.Digest != "" && o.Digest != t.Digest
		if len(ch.Rows) > 0 || ch.Moved || !matched {
			put(ch)
		}
	}
	for _, t := range d.old.Tables {
		if _, left := before[t.Name]; !left {
			continue
		}
		ch := TableChange{State: Gone, Name: t.Name, Title: t.Title, OldCount: t.Count, Rows: []RowChange{}}
		for _, r := range oldRows[t.Name] {
			ch.Rows = append(ch.Rows, RowChange{Gone, r.Key, cellsMoved(r, Row{}, false)})
		}
		put(ch)
	}
}

func byTable(rows []Row) map[string][]Row {
	out := map[string][]Row{}
	for _, r := range rows {
		out[r.Table] = append(out[r.Table], r)
	}
	return out
}

// cellsMoved lists the cells that differ, in the order of the new row, then
// those that went. Of a row that is changed nothing can be told when one of the
// two records keeps no cells.
func cellsMoved(old, now Row, changed bool) []Moved {
	if changed && (old.Cells == nil || now.Cells == nil) {
		return []Moved{}
	}
	return movedTexts(old.Cells, now.Cells)
}

func movedTexts(old, now []NamedText) []Moved {
	out := []Moved{}
	for _, n := range now {
		if o := textOf(old, n.Name); o != n.Text {
			out = append(out, Moved{n.Name, o, n.Text})
		}
	}
	for _, o := range old {
		if !slices.ContainsFunc(now, func(n NamedText) bool { return n.Name == o.Name }) && o.Text != "" {
			out = append(out, Moved{o.Name, o.Text, ""})
		}
	}
	return out
}

func textOf(list []NamedText, name string) string {
	for _, n := range list {
		if n.Name == name {
			return n.Text
		}
	}
	return ""
}

// sheetName is how a sheet is called in a sentence: LQT-W-20 “Wire”.
func sheetName(scheme, number, title string) string {
	return strings.TrimSpace(fmt.Sprintf("%s%s “%s”", scheme, number, title))
}
