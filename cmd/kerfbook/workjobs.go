package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"kerfbook/site"
	"kerfbook/wasm/border"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/spell"
	"kerfbook/wasm/unit"
)

// workDesk is what one run of work answers with.
type workDesk struct {
	desk
	handbook *handbook
	streams  *streams
	pages    *site.JobPages // made when the first page is
}

// page is a job sheet as a page of its own.
func (d *workDesk) page(rep *calc.Reply, told []string) ([]byte, error) {
	if d.pages == nil {
		var err error
		if d.pages, err = site.NewJobPages(d.handbook.content, d.handbook.shop); err != nil {
			return nil, err
		}
	}
	return d.pages.Page(rep, told)
}

// find is a calculator by its name, with the nearest one where there is none.
func (d *workDesk) find(id string) (*calc.Calculator, error) {
	if k, ok := d.set.Find(id); ok {
		return k, nil
	}
	text := "there is no calculator " + id
	if near, ok := spell.Nearest(id, d.set.IDs()); ok {
		text += "; did you mean " + near + "?"
	} else {
		text += "; there are " + strings.Join(d.set.IDs(), ", ")
	}
	return nil, errors.New(text)
}

// workJob is what is answered: a calculator, its inputs, and what was said about
// a saved job when it was read.
type workJob struct {
	calculator *calc.Calculator
	input      calc.Input
	told       []string
	saved      border.Saved // as it would be written
}

// job is the job that the command names: a saved one of --from, one handed in on
// standard input, or the inputs typed.
func (c *workCmd) job(d *workDesk) (workJob, error) {
	if c.From != "" {
		if len(c.Inputs) > 0 {
			return workJob{}, fmt.Errorf("--from takes the inputs from %s; leave out %s", c.From, strings.Join(c.Inputs, " "))
		}
		data, err := readAtMost(c.From)
		if errors.Is(err, os.ErrNotExist) {
			return workJob{}, fmt.Errorf("there is no saved job %s", c.From)
		}
		if err != nil {
			return workJob{}, fmt.Errorf("the saved job cannot be read: %w", err)
		}
		return c.tell(d, filepath.Base(c.From), data)
	}
	if len(c.Inputs) == 0 {
		data, err := d.streams.handed()
		if err != nil {
			return workJob{}, fmt.Errorf("standard input cannot be read: %w", err)
		}
		if data != nil {
			return c.tell(d, "standard input", data)
		}
	}
	k, err := d.find(c.ID)
	if err != nil {
		return workJob{}, err
	}
	in, err := c.typed(k, d.book)
	job := workJob{calculator: k, input: in, saved: border.Saved{Calculator: k.ID, System: in.System}}
	fields, _ := k.Describe(d.book)
	for _, f := range fields { // in the order of the form, whatever the order typed
		if v, ok := in.Values[f.Name]; ok {
			job.saved.Inputs = append(job.saved.Inputs, border.Pair{Name: f.Name, Value: v})
		}
	}
	return job, err
}

// tell is open, saying on the side what a saved job holds that is not known.
func (c *workCmd) tell(d *workDesk, name string, data []byte) (workJob, error) {
	job, err := c.open(d, name, data)
	for _, text := range job.told {
		fmt.Fprintf(d.streams.err, "%s: %s\n", name, text)
	}
	return job, err
}

// open reads a saved job and fits it to the calculator of today.
func (c *workCmd) open(d *workDesk, name string, data []byte) (workJob, error) {
	s, err := readSaved(name, data)
	if err != nil {
		return workJob{}, err
	}
	if c.ID != "" && s.Calculator != c.ID {
		return workJob{}, fmt.Errorf("%s: this job is of the calculator %s, not of %s", name, s.Calculator, c.ID)
	}
	k, err := d.find(s.Calculator)
	if err != nil {
		return workJob{}, fmt.Errorf("%s: %w", name, err)
	}
	fitted, told := s.Fit(k, d.book)
	in := fitted.Input()
	if c.Inch {
		in.System = unit.Inch
	}
	return workJob{calculator: k, input: in, told: told, saved: fitted}, nil
}

// keep writes the job as a saved one.
func (c *workCmd) keep(s *streams, job workJob) error {
	if c.Write == "" {
		return nil
	}
	if err := os.WriteFile(c.Write, savedJSON(job.saved), 0o644); err != nil {
		return fmt.Errorf("the saved job cannot be written: %w", err)
	}
	fmt.Fprintf(s.err, "the job is written to %s\n", c.Write)
	return nil
}

// savedJSON is a saved job as one JSON object, one name a line.
func savedJSON(s border.Saved) []byte {
	var out bytes.Buffer
	w := json.NewEncoder(&out)
	w.SetEscapeHTML(false)
	text := func(v string) {
		_ = w.Encode(v) // a text always encodes; it ends the line
		out.Truncate(out.Len() - 1)
	}
	out.WriteString("{")
	for i, p := range s.Pairs() {
		if i > 0 {
			out.WriteString(",")
		}
		out.WriteString("\n  ")
		text(p.Name)
		out.WriteString(": ")
		text(p.Value)
	}
	out.WriteString("\n}\n")
	return out.Bytes()
}

// readAtMost reads a file, one byte more than a saved job may have at most.
func readAtMost(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, savedLimit+1))
}

// handed is what a file or a pipe hands in on standard input; nil for a terminal,
// for nothing at all, and for a pipe that ends at once, as programs that start
// this one leave it.
func (s *streams) handed() ([]byte, error) {
	if s.in == nil {
		return nil, nil
	}
	info, err := s.in.Stat()
	if err != nil || !info.Mode().IsRegular() && info.Mode()&os.ModeNamedPipe == 0 {
		return nil, nil
	}
	data, err := io.ReadAll(io.LimitReader(s.in, savedLimit+1))
	if len(data) == 0 && !info.Mode().IsRegular() {
		return nil, err
	}
	return data, err
}
