package source

import (
	"bytes"
	"errors"
	"slices"
	"strconv"
	"strings"

	"kerfbook/site/diag"
	"kerfbook/wasm/book"
	"kerfbook/wasm/spell"
)

// shopTables lays the shop's tables over the handbook's: first its files, then
// what shop.yaml says of machines and prices.
func (l *loader) shopTables() {
	l.c.Base = l.c.Book
	var files []book.File
	for _, name := range l.shopData {
		if text, ok := l.readBytes(l.shop, name, ShopDir); ok { // the reader says more of a wrong encoding
			files = append(files, book.File{Name: ShopDir + name, Text: string(text)})
		}
	}
	if l.lay(files) {
		l.settings()
		l.stale()
	}
}

// stale names the shop's cuts that count no more, and the days that are not written
// as the tables write them.
func (l *loader) stale() {
	for _, days := range [...][]string{{"cuts", "withdrawn", "valid_from"}, {"machines", "rebuilt"}} {
		t := l.c.Book.Table(days[0])
		if t == nil {
			continue
		}
		for i := range t.Rows {
			r := &t.Rows[i]
			if !r.Ours {
				continue
			}
			sound := true
			for _, column := range days[1:] {
				if d := r.Optional(column); d != "" && !book.Date(d) {
					f := r.Fault(column, d, "the column "+spell.Quote(column)+" wants a day written as 2026-02-11, this is "+spell.Quote(d))
					l.problem(diag.TableRead, f.File, f.Offset, f.Offset+f.Len, f.Text)
					l.c.Sound, sound = false, false
				}
			}
			if why := l.c.Book.Stale(*r); sound && t.Name == "cuts" && why != "" && r.Optional("withdrawn") == "" { // who withdrew it knows
				l.list.Add(diag.Message{ID: diag.TableStale, Kind: diag.Warning, Span: diag.Span{File: r.File, Start: l.lineStart(r.File, r.Line), End: l.lineEnd(r.File, r.Line)},
					Text: "the cut " + spell.Quote(r.Key) + " counts no more: " + why})
			}
		}
	}
}

// lay puts files over the book as it stands.
func (l *loader) lay(files []book.File) bool {
	b, changes, err := l.c.Book.Overlay(files)
	var faults book.Faults
	if errors.As(err, &faults) {
		said := map[string]int{}
		for _, f := range faults {
			if said[f.File]++; said[f.File] > mostSaid {
				if said[f.File] == mostSaid+1 {
					l.problem(diag.NotListed, f.File, f.Offset, f.Offset+f.Len, "more is wrong from here on: it is not listed")
				}
				continue
			}
			var notes []string
			if f.Beside != nil {
				file := "data/" + f.Beside.File
				notes = append(notes, "the handbook's row is "+file+" line "+strconv.Itoa(f.Beside.Line)+": "+strings.TrimSpace(string(l.c.Texts[file][l.lineStart(file, f.Beside.Line):l.lineEnd(file, f.Beside.Line)])))
			}
			l.problem(diag.TableRead, f.File, f.Offset, f.Offset+f.Len, f.Text, notes...)
		}
		l.c.Sound = false
		return false
	}
	l.c.Book, l.c.Changes = b, append(l.c.Changes, changes...)
	l.nearKeys(changes)
	return l.noneEmptied()
}

// nearKeys warns of a row that adds where it was perhaps meant to replace: a word
// of its key stands nowhere in that column of the handbook's, but one like it does.
func (l *loader) nearKeys(changes []book.Change) {
	for _, ch := range changes {
		base := l.c.Base.Table(ch.Table)
		if ch.Kind != "added" || base == nil || len(base.Keys) < 2 {
			continue
		}
		for _, k := range base.Keys {
			var known []string
			for _, r := range base.Rows {
				known = append(known, r.Cell(k))
			}
			word := ch.Is.Cell(k)
			if strings.ContainsAny(word, "0123456789") || slices.Contains(known, word) { // a name of a cut is new by its number
				continue
			}
			if near, ok := spell.Nearest(word, known); ok {
				l.list.Add(diag.Message{ID: diag.TableKey, Kind: diag.Warning, Span: diag.Span{File: ch.File, Start: l.lineStart(ch.File, ch.Line), End: l.lineEnd(ch.File, ch.Line)},
					Text: "this row adds " + spell.Quote(ch.Key) + "; did you mean " + spell.Quote(near) + " where it says " + spell.Quote(word) + "?"})
			}
		}
	}
}

// noneEmptied looks for tables of the handbook's of which the shop leaves no row.
// Only measured cuts and machine cards are looked for and may be missing.
func (l *loader) noneEmptied() bool {
	ok := true
	for _, t := range l.c.Book.Tables() {
		base := l.c.Base.Table(t.Name)
		if len(t.Rows) > 0 || base == nil || len(base.Rows) == 0 || t.Name == "cuts" || t.Name == "machines" {
			continue
		}
		i := slices.IndexFunc(l.c.Changes, func(c book.Change) bool { return c.Table == t.Name })
		at := l.c.Changes[i]
		l.problem(diag.TableEmptied, at.File, l.lineStart(at.File, at.Line), l.lineEnd(at.File, at.Line), "no row of the table "+spell.Quote(t.Name)+" is left: calculators need one at least, so keep a row or put your own in their place")
		l.c.Sound, ok = false, false
	}
	return ok
}

// settings lays what shop.yaml says of machines and prices over the tables, as
// rows like any other; each change stands at its key in shop.yaml.
func (l *loader) settings() {
	files, ok := l.machineCards()
	if !ok {
		l.c.Sound = false
		return
	}
	prices, keys := l.ownPrices()
	b, changes, err := l.c.Book.Overlay(append(files, prices...))
	if err != nil {
		at, end := keyAt(l.c.Texts[ShopDir+"shop.yaml"], "rates")
		l.problem(diag.ShopSetting, ShopDir+"shop.yaml", at, end, "machines: and rates: do not go with the tables: "+err.Error())
		l.c.Sound = false
		return
	}
	for i, ch := range changes {
		key := "machines"
		if ch.Table == "prices" {
			key = keys[ch.Key]
		}
		at, _ := keyAt(l.c.Texts[ShopDir+"shop.yaml"], key)
		changes[i].File, changes[i].Line = ShopDir+"shop.yaml", 1+bytes.Count(l.c.Texts[ShopDir+"shop.yaml"][:at], []byte("\n"))
	}
	l.c.Book, l.c.Changes = b, append(l.c.Changes, changes...)
	slices.SortStableFunc(l.c.Changes, func(a, b book.Change) int { return strings.Compare(a.Table, b.Table) })
}

// machineCards deletes the cards that shop.yaml does not list; ok is false when it
// lists one that is not there.
func (l *loader) machineCards() (files []book.File, ok bool) {
	s, cards := l.c.Shop, l.c.Book.Table("machines")
	if cards == nil || len(s.Machines) == 0 {
		return nil, true
	}
	var known []string
	for _, r := range cards.Rows {
		known = append(known, r.Key)
	}
	ok = true
	for _, m := range s.Machines {
		if slices.Contains(known, m) {
			continue
		}
		what := "there is no machine card " + spell.Quote(spell.Short(m, 40))
		if near, found := spell.Nearest(m, known); found {
			what += "; did you mean " + spell.Quote(near) + "?"
		} else {
			what += "; there are " + strings.Join(known, ", ") + ", and a card of your own is a row of data/machines.csv"
		}
		at, end := itemAt(l.c.Texts[ShopDir+"shop.yaml"], "machines", m)
		l.problem(diag.ShopSetting, ShopDir+"shop.yaml", at, end, what)
		ok = false
	}
	out := "machine,delete\n"
	for _, k := range known {
		if !slices.Contains(s.Machines, k) {
			out += k + ",yes\n"
		}
	}
	return []book.File{{Name: "machines.csv", Text: out}}, ok
}

// ownPrices writes the shop's prices as rows, and which key of shop.yaml each row
// comes from.
func (l *loader) ownPrices() (files []book.File, keys map[string]string) {
	s, keys := l.c.Shop, map[string]string{}
	if l.c.Book.Table("prices") == nil {
		return nil, keys
	}
	out := "price,amount_n0,currency,provenance\n"
	for _, p := range []struct {
		key   string
		value *float64
	}{{"machine-hour", s.Rates.MachineHour}, {"work-hour", s.Rates.WorkHour}, {"wire-kilogram", s.Rates.WireKilogram}, {"resin-charge", s.Rates.ResinCharge}} {
		row, has := l.c.Book.Find("prices", p.key)
		if !has || p.value == nil && s.Currency == "" {
			continue
		}
		amount, currency := row.Cell("amount_n0"), s.Currency
		keys[p.key] = "currency"
		if p.value != nil {
			amount, keys[p.key] = strconv.FormatFloat(*p.value, 'f', -1, 64), p.key
		}
		if currency == "" {
			currency = row.Cell("currency")
		}
		out += p.key + "," + amount + "," + currency + ",measured\n"
	}
	return []book.File{{Name: "prices.csv", Text: out}}, keys
}

// FileOf is where a table's file stands, for a fault of one of its rows.
func (c *Content) FileOf(name string) string {
	if strings.HasPrefix(name, ShopDir) {
		return name
	}
	return "data/" + name
}
