package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"kerfbook/site"
	"kerfbook/site/record"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/catalog"
	"kerfbook/wasm/spell"
)

type changesCmd struct {
	Old   string `arg:"" help:"The older edition: a published folder, or its edition.json alone." type:"path"`
	New   string `arg:"" help:"The newer one." type:"path"`
	JSON  bool   `help:"Report as JSON." xor:"form"`
	Quiet bool   `help:"Print nothing; for use with --page." xor:"form"`
	Page  string `help:"Also write the report as one page of HTML, to be printed and signed." placeholder:"FILE" type:"path"`
	Jobs  string `help:"Folder of saved jobs: answer each with the tables of both editions and name those that changed." placeholder:"DIR" type:"path"`
}

type currentCmd struct {
	Code string `arg:"" help:"The check code in the title block of a print."`
	Dir  string `arg:"" optional:"" default:"published" help:"The published folder, or its edition.json alone." type:"path"`
}

// Run says whether a print is current. Changed and unknown are answers: exit 0.
func (c *currentCmd) Run(s *streams) error {
	e, _, err := openEdition(c.Dir)
	if err != nil {
		return err
	}
	words, err := e.Current(c.Code)
	if err != nil {
		return err
	}
	fmt.Fprintln(s.out, words)
	return nil
}

// openEdition reads a published folder or a record alone; whole is true for a
// folder, whose files were then all held against the record.
func openEdition(name string) (e *record.Edition, whole bool, err error) {
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, false, fmt.Errorf("there is no %s; name a folder made by kerfbook publish, or the edition.json of one", name)
	case err != nil:
		return nil, false, err
	case info.IsDir():
		e, err = record.ReadFolder(os.DirFS(name))
	default:
		var data []byte
		if data, err = os.ReadFile(name); err == nil {
			e, err = record.Read(data)
		}
	}
	if err != nil {
		return nil, false, fmt.Errorf("%s: %w", name, err)
	}
	return e, info.IsDir(), nil
}

// Run compares. That something changed is no failure: exit 0. A saved job that
// cannot be read is told after the report: exit 1.
func (c *changesCmd) Run(s *streams) error {
	old, oldWhole, err := openEdition(c.Old)
	if err != nil {
		return err
	}
	now, newWhole, err := openEdition(c.New)
	if err != nil {
		return err
	}
	ch := record.Compare(old, now)
	unread := 0
	if c.Jobs != "" {
		if !oldWhole || !newWhole {
			name := c.Old
			if oldWhole {
				name = c.New
			}
			return fmt.Errorf("saved jobs cannot be answered again with %s alone: its tables are in the published folder; name the folder", name)
		}
		jobs, notes, bad, err := c.rerun(old, now)
		if err != nil {
			return err
		}
		unread = bad
		ch.Rerun(old, now, jobs, notes)
	}
	if c.Page != "" {
		page, err := site.ChangesPage(ch)
		if err != nil {
			return err
		}
		if err := os.WriteFile(c.Page, page, 0o644); err != nil {
			return fmt.Errorf("the page cannot be written: %w", err)
		}
	}
	switch {
	case c.JSON:
		w := json.NewEncoder(s.out)
		w.SetEscapeHTML(false)
		w.SetIndent("", "  ")
		err = w.Encode(ch)
	case !c.Quiet:
		_, err = io.WriteString(s.out, ch.Text())
	}
	if err != nil {
		return err
	}
	if unread > 0 {
		return fmt.Errorf("%s holds files that are no saved jobs (%d); the report names them", c.Jobs, unread)
	}
	return nil
}

// desk is one edition's tables and the calculators set up for them.
type desk struct {
	book *book.Book
	set  *calc.Set
}

func openDesk(dir string, e *record.Edition) (*desk, error) {
	text, err := os.ReadFile(filepath.Join(dir, e.BookFile()))
	if err != nil {
		return nil, fmt.Errorf("%s: the tables cannot be read: %w", dir, err)
	}
	b, err := book.Parse(string(text))
	if err != nil {
		return nil, fmt.Errorf("%s: the tables in %s cannot be read: %w", dir, e.BookFile(), err)
	}
	set, err := catalog.New(b)
	if err != nil {
		return nil, fmt.Errorf("%s: the calculators of this kerfbook cannot use its tables: %w", dir, err)
	}
	return &desk{b, set}, nil
}

// rerun answers every saved job twice. Notes are what the report says of files
// that could not be read, which unread counts, and of names that are not known.
func (c *changesCmd) rerun(old, now *record.Edition) (jobs []record.Job, notes []string, unread int, err error) {
	before, err := openDesk(c.Old, old)
	if err != nil {
		return nil, nil, 0, err
	}
	after, err := openDesk(c.New, now)
	if err != nil {
		return nil, nil, 0, err
	}
	entries, err := os.ReadDir(c.Jobs)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil, 0, fmt.Errorf("there is no folder %s of saved jobs", c.Jobs)
	}
	if err != nil {
		return nil, nil, 0, fmt.Errorf("the folder of saved jobs cannot be read: %w", err)
	}
	for _, entry := range entries { // in order of name
		if entry.IsDir() || strings.HasPrefix(entry.Name(), ".") {
			continue
		}
		s, err := openSaved(c.Jobs, entry)
		if err != nil {
			notes = append(notes, err.Error())
			unread++
			continue
		}
		if len(s.Unknown) > 0 {
			var names []string
			for _, p := range s.Unknown {
				names = append(names, p.Name)
			}
			notes = append(notes, fmt.Sprintf("%s: this handbook does not know %s; the job was answered without", s.Name, strings.Join(names, ", ")))
		}
		j := record.Job{Name: s.Name, Calculator: s.Calculator}
		j.Old, j.OldRefused = before.answer(s)
		j.New, j.NewRefused = after.answer(s)
		jobs = append(jobs, j)
	}
	if len(jobs)+unread == 0 {
		return nil, nil, 0, fmt.Errorf("there are no saved jobs in %s", c.Jobs)
	}
	return jobs, notes, unread, nil
}

// openSaved looks at the size before it reads.
func openSaved(dir string, entry os.DirEntry) (saved, error) {
	f, err := os.Open(filepath.Join(dir, entry.Name()))
	if err != nil {
		return saved{}, fmt.Errorf("%s: it cannot be read: %w", entry.Name(), err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, savedLimit+1))
	if err != nil {
		return saved{}, fmt.Errorf("%s: it cannot be read: %w", entry.Name(), err)
	}
	return readSaved(entry.Name(), data)
}

// answer answers one job; refused says why there is no answer.
func (d *desk) answer(s saved) (a record.Answer, refused string) {
	k, ok := d.set.Find(s.Calculator)
	if !ok {
		text := "there is no calculator " + s.Calculator
		if near, ok := spell.Nearest(s.Calculator, d.set.IDs()); ok {
			text += "; did you mean " + near + "?"
		}
		return site.Printed(nil), text
	}
	rep := k.Eval(d.book, s.Input())
	var why []string
	for _, p := range rep.Problems {
		text := p.Text
		if p.Field != "" {
			text = p.Field + ": " + text
		}
		if !slices.Contains(why, text) {
			why = append(why, text)
		}
	}
	if rep.Answer == nil {
		return site.Printed(nil), strings.Join(why, "; ")
	}
	return site.Printed(rep.Answer), ""
}
