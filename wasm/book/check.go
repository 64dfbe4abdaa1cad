package book

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/spell"
)

// newRow makes a row of the record that is being read.
func (r *reader) newRow(t *Table, cells map[string]string) Row {
	var key []string
	for _, k := range t.Keys {
		key = append(key, cells[k])
	}
	return Row{Table: t.Name, Key: strings.Join(key, "/"), Source: cells["source"], Place: cells["place"], Provenance: cells["provenance"],
		File: r.file.Name, Line: r.line, cells: cells}
}

// check holds a row against the rules of every table and reads its numbers; cell
// says where a column's cell stands. A handbook's row and a shop's come here.
func (r *reader) check(t *Table, row *Row, cell func(column string) token) {
	sound := len(*r.faults)
	row.nums = map[string]float64{}
	for _, c := range t.Columns {
		text := row.cells[c]
		if strings.Contains(text, "\n=== ") {
			k := cell(c)
			r.fault(k.at, k.len, "no line of a cell begins with “=== ”")
		}
		if !numeric(c) || text == "" {
			continue
		}
		v, err := parseNumber(text)
		row.nums[c] = v
		if err != nil {
			k := cell(c)
			r.fault(k.at, k.len, "the column "+spell.Quote(c)+" wants a number, this is "+spell.Quote(text))
		}
	}
	for _, c := range t.Columns {
		low, ok := strings.CutSuffix(stem(c), "_low")
		if !ok || row.cells[c] == "" || len(*r.faults) > sound {
			continue
		}
		suffix := c[len(stem(c)):]
		lo, li, hi := row.nums[c], row.nums[low+"_likely"+suffix], row.nums[low+"_high"+suffix] // a table of a shop may lack one
		if lo > li || li > hi {
			k := cell(c)
			r.fault(k.at, k.len, "low, likely and high of "+spell.Quote(low)+" do not rise: "+
				row.cells[c]+", "+row.cells[low+"_likely"+suffix]+", "+row.cells[low+"_high"+suffix])
		}
	}
	if !provenance(row.Provenance) {
		k := cell("provenance")
		r.fault(k.at, k.len, "provenance is cited, from memory, common practice, our estimate, measured, definition or invented, not "+spell.Quote(row.Provenance))
	}
	if (row.Provenance == "cited" || row.Provenance == "from memory") && row.Source == "" {
		k := cell("source")
		r.fault(k.at, k.len, "a row "+row.Provenance+" names its source")
	}
}

// once holds a key, by what tells it from others, against those seen before; n is
// the length of the row's first cell.
func (r *reader) once(seen map[string]int, by, key string, n int) bool {
	if first, dup := seen[by]; dup {
		r.fault(r.at, n, "the key "+spell.Quote(key)+" stands in line "+strconv.Itoa(first)+" already")
		return false
	}
	seen[by] = r.line
	return true
}

func provenance(s string) bool {
	switch s {
	case "cited", "from memory", "common practice", "our estimate", "measured", "definition", "invented":
		return true
	}
	return false
}

// stem is the column name without its unit.
func stem(column string) string {
	if i := strings.LastIndexByte(column, '_'); i > 0 && numeric(column) {
		return column[:i]
	}
	return column
}

// Units returns what the names of columns with numbers end in.
func Units() []string {
	return []string{"mm", "um", "uin", "pct", "deg", "mm2min", "mmmin", "uscm", "degc", "v", "n", "mpa", "gpa", "gcm3", "kgm3", "n0", "npm",
		"wmk", "ppmk", "uohmm", "mpas", "mvm", "kjkgk", "mohmcm", "hv", "ohmm", "bar", "lmin", "h", "kg"}
}

// numeric reports whether a column's name ends in a unit, and so holds numbers.
func numeric(column string) bool {
	i := strings.LastIndexByte(column, '_')
	if i < 0 {
		return false
	}
	return slices.Contains(Units(), column[i+1:])
}

func parseNumber(s string) (float64, error) {
	if strings.ContainsAny(s, "xXpP_iInN") {
		return 0, strconv.ErrSyntax
	}
	v, err := strconv.ParseFloat(s, 64)
	if err == nil && (math.IsInf(v, 0) || math.IsNaN(v)) {
		err = strconv.ErrRange
	}
	return v, err
}
