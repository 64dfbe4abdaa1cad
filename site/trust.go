package site

import (
	"encoding/csv"
	"errors"
	"fmt"
	"html"
	"io/fs"
	"slices"
	"strconv"
	"strings"

	"kerfbook/site/internal/check"
	"kerfbook/site/internal/render"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// Case is a published value beside our own range.
type Case struct {
	ID, Title, Source, Place, Evidence, Note string
	Published, Ours                          string
	// Verdict is "holds", "overlaps", "missed", "too wide", "copied" for what came
	// from the case's own source, or "not made" for a case that was sought and for
	// which no published number was found; Note says why.
	Verdict string
	// Recorded is the verdict that the list of cases states.
	Recorded string
}

// Cases evaluates the published cases of an evidence folder (cases.csv). Where
// the published value lies outside our range the case is missed; where it lies
// inside and our range is wider than the case's limit, it is too wide to mean
// anything. A published range that is partly in ours, or holds ours in it,
// overlaps. What holds because our range was taken from the same source is copied. A value without a range is held against ours at the printed digits.
// Where the answer is a choice, the published one is missed when ours cannot
// take it, and too wide to mean anything when ours can be every option. A row
// without calculator and value was not made, and must say why.
func Cases(evidence fs.FS, b *book.Book, set *calc.Set) ([]Case, error) {
	return cases(evidence, b, set, (*calc.Calculator).Eval)
}

func cases(evidence fs.FS, b *book.Book, set *calc.Set, eval check.Eval) ([]Case, error) {
	rows, err := evidenceRows(evidence, "cases.csv")
	if err != nil {
		return nil, err
	}
	var out []Case
	for _, r := range rows {
		c := Case{ID: r["id"], Title: r["title"], Source: r["source"], Place: r["place"], Evidence: r["evidence"], Note: r["note"], Published: r["published"], Recorded: r["verdict"]}
		if r["calculator"] == "" {
			if c.Published != "" || r["inputs"] != "" || r["answer"] != "" || c.Note == "" {
				return nil, fmt.Errorf("the case %s names no calculator: then it has a reason and nothing to compute", c.ID)
			}
			c.Verdict = "not made"
			out = append(out, c)
			continue
		}
		k, ok := set.Find(r["calculator"])
		if !ok {
			return nil, fmt.Errorf("the case %s names the calculator %q, which there is not", c.ID, r["calculator"])
		}
		in := calc.Input{Values: map[string]string{}, Strict: true}
		for _, pair := range strings.Split(r["inputs"], ";") {
			if name, value, ok := strings.Cut(pair, "="); ok {
				in.Values[strings.TrimSpace(name)] = strings.TrimSpace(value)
			}
		}
		rep := eval(k, b, in)
		if rep.Answer == nil {
			return nil, fmt.Errorf("the case %s is refused: %v", c.ID, rep.Problems)
		}
		copied := func(verdict string) string {
			if verdict == "holds" && r["copied"] == "yes" {
				return "copied"
			}
			return verdict
		}
		if p, ok := rep.Answer.Pick(r["answer"]); ok {
			if c.Published, c.Ours, c.Verdict, err = judgePick(k, b, p, r["published"]); err != nil {
				return nil, fmt.Errorf("the case %s: %w", c.ID, err)
			}
			c.Verdict = copied(c.Verdict)
			out = append(out, c)
			continue
		}
		f, ok := rep.Answer.Value(r["answer"])
		if !ok {
			return nil, fmt.Errorf("the case %s asks for the answer %q, which there is not", c.ID, r["answer"])
		}
		limit, err := strconv.ParseFloat(r["limit"], 64)
		if err != nil {
			return nil, fmt.Errorf("the case %s has the limit %q", c.ID, r["limit"])
		}
		rd, err := unit.Read(c.Published, f.Kind, unit.Options{Ranges: true})
		if err != nil {
			return nil, fmt.Errorf("the case %s: %w", c.ID, err)
		}
		c.Ours, c.Verdict = f.Text, copied(judge(f, rd.Range, c.Published, limit))
		out = append(out, c)
	}
	return out, nil
}

func judge(f calc.Finding, published unit.Range, text string, limit float64) string {
	if _, same, err := check.Match(f, text); err == nil && same {
		return "holds"
	}
	slack := 1e-9 * max(f.Range.High, -f.Range.Low)
	outside := published.Low < f.Range.Low-slack || published.High > f.Range.High+slack
	both := min(published.High, f.Range.High) - max(published.Low, f.Range.Low) // how far they overlap
	point := f.Range.High-f.Range.Low <= slack && both >= -slack                // ours is one value, and lies in theirs
	switch {
	case outside && both <= slack && !point:
		return "missed"
	case f.Range.Low <= 0 || f.Range.High > limit*f.Range.Low*(1+1e-9):
		return "too wide"
	case outside:
		return "overlaps"
	}
	return "holds"
}

// judgePick holds a published outcome against every option that our answer can
// take, and puts both in the words of the answer. An option that only says that
// nobody asked does not count as an outcome.
func judgePick(k *calc.Calculator, b *book.Book, p calc.Pick, outcome string) (published, ours, verdict string, err error) {
	var all []calc.Option // what the answer can be called at all
	_, outs := k.Describe(b)
	for _, o := range outs {
		if o.Name == p.Name {
			all = slices.DeleteFunc(slices.Clone(o.Words), func(w calc.Option) bool { return w.Value == "not-asked" })
		}
	}
	i := slices.IndexFunc(all, func(o calc.Option) bool { return o.Value == outcome })
	if i < 0 {
		var names []string
		for _, o := range all {
			names = append(names, o.Value)
		}
		return "", "", "", fmt.Errorf("the answer %s is one of %s, the published %q is none of them", p.Name, strings.Join(names, ", "), outcome)
	}
	var words []string
	can := 0
	for _, o := range p.All {
		words = append(words, o.Label)
		if slices.Contains(all, o) {
			can++
		}
	}
	verdict = "missed"
	if slices.Contains(p.All, all[i]) {
		verdict = "holds"
		if can == len(all) {
			verdict = "too wide"
		}
	}
	return all[i].Label, strings.Join(words, " or "), verdict, nil
}

// evidenceRows reads a list of an evidence folder by its columns; a folder
// without it has none.
func evidenceRows(evidence fs.FS, name string) ([]map[string]string, error) {
	if evidence == nil {
		return nil, nil
	}
	f, err := evidence.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	var out []map[string]string
	for _, rec := range all[min(1, len(all)):] {
		row := map[string]string{}
		for i, col := range all[0] {
			row[col] = rec[i]
		}
		out = append(out, row)
	}
	return out, nil
}

// trust is the page that says how far each number deserves trust: published
// cases, the outside checks of every calculator with its formulas, and where
// every row of every table comes from. Nothing is left out.
func (p *press) trust(c *render.Context) (string, error) {
	cases, err := cases(p.options.Evidence, p.site.Content.Base, p.site.Base, p.site.Eval)
	if err != nil {
		return "", err
	}
	checks, err := evidenceRows(p.options.Evidence, "checks.csv")
	if err != nil {
		return "", err
	}
	t := &trust{listing{press: p, c: c}}
	t.put("<p class=\"short\">Every number of this handbook is computed or has its origin beside it. This page lists what the computing was held against, where it missed, and how each constant was come by.</p>\n")
	t.cases(cases)
	t.checks(checks)
	t.constants()
	return t.s.String(), nil
}

type trust struct{ listing }

// work links a publication by its key.
func (t *trust) work(key, place string) string {
	text := html.EscapeString(key)
	if w, ok := t.press.site.Content.Work(key); ok {
		text = `<a class="cite" href="` + html.EscapeString(t.c.Href("bibliography.html#"+key)) + `">` + html.EscapeString(render.ShortName(w)) + "</a>"
	}
	if place != "" {
		text += " " + html.EscapeString(place)
	}
	return text
}

func (t *trust) cases(cases []Case) {
	t.heading(2, "cases", "Published cases beside our range")
	if len(cases) == 0 {
		t.put("<p>This edition was published without the list of cases.</p>\n")
		return
	}
	count := map[string]int{}
	for _, c := range cases {
		count[c.Verdict]++
	}
	made := len(cases) - count["not made"]
	t.put(fmt.Sprintf("<p>A case holds only if the published value lies inside our range, and our range is narrow enough to mean something. Where the two ranges share a part only, they agree as far as they overlap, and that is not counted as holding. Where the outcome is a choice, ours must be able to take it, and not every other one too. Of %d cases %d hold, %d overlap, %d are missed, and in %d our range is too wide to mean anything. %d more were carried over from the source itself and prove nothing, and %d were sought and could not be made.</p>\n", made-count["copied"], count["holds"], count["overlaps"], count["missed"], count["too wide"], count["copied"], count["not made"]))
	for _, verdict := range []struct{ word, id, title string }{{"missed", "missed", "Missed"}, {"too wide", "too-wide", "Too wide to mean anything"}, {"overlaps", "overlap", "Agree as far as they overlap"}, {"holds", "hold", "Hold"}, {"copied", "copied", "Carried over from the source: no proof"}} {
		var rows [][]string
		for _, c := range cases {
			if c.Verdict == verdict.word {
				rows = append(rows, []string{html.EscapeString(c.Title), html.EscapeString(c.Published), html.EscapeString(c.Ours), t.work(c.Source, c.Place), html.EscapeString(c.Note)})
			}
		}
		if len(rows) == 0 {
			continue
		}
		t.heading(3, verdict.id, verdict.title)
		t.table([]string{"Case", "Published", "Ours", "From", "What to know"}, rows)
	}
	var rows [][]string
	for _, c := range cases {
		if c.Verdict == "not made" {
			from := "nothing found"
			if c.Source != "" {
				from = t.work(c.Source, c.Place)
			}
			rows = append(rows, []string{html.EscapeString(c.Title), from, html.EscapeString(c.Note)})
		}
	}
	if len(rows) > 0 {
		t.heading(3, "not-made", "Sought, and not made")
		t.table([]string{"Case", "Looked for in", "Why it is not here"}, rows)
	}
}

// checks lists each calculator's formulas, and what its answers were held against.
func (t *trust) checks(checks []map[string]string) {
	t.heading(2, "formulas", "Formulas and their outside checks")
	t.put("<p>A check holds one answer against a value from outside: a publication, a standard, or a general library. “Memory” means that somebody knew the value and nobody looked it up. A formula below a calculator with no check of that name rests on its source alone.</p>\n")
	for _, k := range t.press.site.Set.All() {
		t.heading(3, "checks-"+k.ID, k.Title)
		t.put(`<p><a href="` + html.EscapeString(t.c.Href(check.CalculatorAddress(k.ID))) + `">` + html.EscapeString(k.Question) + "</a></p>\n")
		type pair struct {
			name, source string
			rows         int
			how          []string
		}
		var pairs []*pair
		for _, r := range checks {
			if r["calculator"] != k.ID {
				continue
			}
			name, _, _ := strings.Cut(r["pair"], "/")
			i := slices.IndexFunc(pairs, func(x *pair) bool { return x.name == name && x.source == r["source"] })
			if i < 0 {
				pairs = append(pairs, &pair{name: name, source: r["source"]})
				i = len(pairs) - 1
			}
			pairs[i].rows++
			if !slices.Contains(pairs[i].how, r["evidence"]) {
				pairs[i].how = append(pairs[i].how, r["evidence"])
			}
		}
		if len(pairs) == 0 {
			t.put("<p>No outside check stands for this calculator's own answers. Its formulas are held in the tests of their packages.</p>\n")
		} else {
			var rows [][]string
			for _, x := range pairs {
				rows = append(rows, []string{html.EscapeString(strings.ReplaceAll(x.name, "-", " ")), t.work(x.source, ""), strconv.Itoa(x.rows), html.EscapeString(strings.Join(x.how, ", "))})
			}
			t.table([]string{"Held", "Against", "Values", "How known"}, rows)
		}
		t.formulas(k.ID)
	}
}

// formulas lists the steps that a calculator's recorded answers show.
func (t *trust) formulas(id string) {
	seen := map[string]bool{}
	var rows [][]string
	for _, a := range t.press.site.Answers {
		if a.Calculator != id || a.Reply.Answer == nil {
			continue
		}
		for _, st := range a.Reply.Answer.Steps {
			name, _, _ := strings.Cut(st.Name, ",")
			name = strings.TrimRight(name, " 0123456789")
			if seen[name] {
				continue
			}
			seen[name] = true
			rows = append(rows, []string{html.EscapeString(name), html.EscapeString(st.Formula), t.work(st.Source, "")})
		}
	}
	if len(rows) > 0 {
		t.table([]string{"Worked out", "Formula", "From"}, rows)
	}
}

// constants counts and lists where every row of every table comes from.
func (t *trust) constants() {
	t.heading(2, "constants", "Constants and where they come from")
	for _, table := range t.press.site.Content.Book.Tables() {
		var rows [][]string
		last := -1
		for _, r := range table.Rows {
			from := html.EscapeString(r.Provenance)
			if r.Source != "" {
				from = t.work(r.Source, r.Place) + ", " + from
			}
			if last >= 0 && rows[last][1] == from {
				rows[last][0] += ", " + html.EscapeString(r.Key)
				continue
			}
			rows = append(rows, []string{html.EscapeString(r.Key), from})
			last = len(rows) - 1
		}
		t.heading(3, "table-"+table.Name, table.Title)
		t.table([]string{"Rows", "From"}, rows)
	}
}
