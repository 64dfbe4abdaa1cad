package calc

import (
	"errors"
	"slices"
	"strings"

	"kerfbook/wasm/book"
)

// reads are the columns that this package and book read for any calculator that
// names the table: choices, cards, gaps, rates and measured cuts.
const reads = `machines name remark
materials also
cuts cut pass passes machine material dielectric flushing thickness_mm wire_mm gap_um by on job accepted
wires diameter_mm
cutoffs ra_above_um ra_upto_um`

// asksLaw stands among a calculator's tables for all that the law of a pass reads.
const asksLaw = "law"

// lawReads are the tables and columns that the law of a pass reads.
const lawReads = `passlaw constant value_*_n0
factors material ra_*_n0 rate_*_n0 rate_power_n0 gap_*_n0 layer_*_n0
gaps diameter_mm dielectric pass gap_*_um
cuts rate_mm2min speed_mmmin gap_um ra_um left_um withdrawn valid_from
machines class supply repeats_um finest_ra_um finest_wire_mm finest_height_mm finest_material rebuilt
materials melting_likely_degc
flushings share_*_n0`

// tables are those that a calculator names, and what the law reads where it asks it.
func (c *Calculator) tables() []string {
	var out []string
	for _, line := range c.Tables {
		if line != asksLaw {
			out = append(out, line)
			continue
		}
		for line := range strings.Lines(lawReads) {
			out = append(out, strings.TrimSuffix(line, "\n"))
		}
	}
	return out
}

// columns reads "table column stem_*_unit …": a star stands for low, likely and
// high.
func columns(line string) (table string, names []string) {
	for i, w := range strings.Fields(line) {
		stem, unit, three := strings.Cut(w, "*")
		switch {
		case i == 0:
			table = w
		case three:
			names = append(names, stem+"low"+unit, stem+"likely"+unit, stem+"high"+unit)
		default:
			names = append(names, w)
		}
	}
	return table, names
}

// ownColumns are those of a table that this package and book read.
func ownColumns(table string) []string {
	for line := range strings.Lines(reads) {
		if t, names := columns(line); t == table {
			return names
		}
	}
	return nil
}

// missing says which tables and columns a calculator reads that are not there.
func (c *Calculator) missing(b *book.Book) (faults []error) {
	for _, line := range c.tables() {
		name, names := columns(line)
		t := b.Table(name)
		if t == nil {
			faults = append(faults, errors.New("calculator "+quote(c.ID)+" reads the table "+quote(name)+", which is not there"))
			continue
		}
		for _, column := range append(names, ownColumns(name)...) {
			if say := t.Lacks(column); say != "" {
				faults = append(faults, errors.New("calculator "+quote(c.ID)+" reads a column that is not there: "+say))
			}
		}
	}
	return faults
}

// cardColumns are the columns of a machine card that a field is held against.
func cardColumns(card string) []string {
	return slices.DeleteFunc(strings.Fields(card), func(w string) bool { return w == "-" })
}

// Columns returns the columns that a calculator reads, by table, as it declares
// them: in Tables, in the cards that its fields are held against, and through this
// package and book.
func (c *Calculator) Columns(b *book.Book) map[string][]string {
	out := map[string][]string{}
	for _, line := range c.tables() {
		table, names := columns(line)
		out[table] = append(append(out[table], names...), ownColumns(table)...)
	}
	fields, _ := c.Describe(b)
	for _, f := range fields {
		if f.Name == "machine" {
			out["machines"] = append(out["machines"], ownColumns("machines")...)
		}
		if f.Card != "" {
			out["machines"] = append(out["machines"], cardColumns(f.Card)...)
		}
	}
	return out
}

// Columns returns the columns that any calculator of the set reads, by table.
func (s *Set) Columns(b *book.Book) map[string][]string {
	out := map[string][]string{}
	for _, c := range s.list {
		for table, names := range c.Columns(b) {
			out[table] = append(out[table], names...)
		}
	}
	return out
}
