package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"golang.org/x/net/html"

	"kerfbook/site"
	"kerfbook/site/diag"
	"kerfbook/site/record"
)

// TestRevision: the example shop's edition is published, changed in one gap row,
// one rule, one page, its revision and date, and published again. The report
// names what moved and nothing else, and the prints of the first edition are
// known for what they are.
func TestRevision(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, shop := range []string{"shop", "changed"} {
		if err := os.CopyFS(at(shop), os.DirFS(exampleShop)); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct{ file, old, new string }{
		{"shop.yaml", "revision: C\ndate: \"2026-11-20\"", "revision: D\ndate: \"2026-11-25\""},
		{"data/gaps.csv", ";8,5;9,5;11;", ";8,5;9;10,5;"},
		{"data/flushings.csv", "three plates on Quay", "four plates on Quay"},
		{"rules.csv", "slot <= 0.3 mm", "slot <= 0.25 mm"},
		{"rules.csv", "slots of 0.3 mm and less go", "slots of 0.25 mm and less go"}, // the same rule's reason
		{"pages/our-rinse.md", "runs on Loft, in oil.", "runs on Loft, in oil, until the morning shift."},
	} {
		data, err := os.ReadFile(filepath.Join(at("changed"), c.file))
		if err != nil || strings.Count(string(data), c.old) != 1 {
			t.Fatalf("%s does not hold %q once: %v", c.file, c.old, err)
		}
		if err := os.WriteFile(filepath.Join(at("changed"), c.file), bytes.Replace(data, []byte(c.old), []byte(c.new), 1), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var all sync.WaitGroup
	for to, shop := range map[string]string{"A": "shop", "A2": "shop", "B": "changed"} {
		o := example(t, at(shop))
		all.Go(func() {
			if err := shopEdition(o, at(to)); err != nil {
				t.Errorf("%s: %v", to, err)
			}
		})
	}
	if all.Wait(); t.Failed() {
		return
	}
	a, _, err := openEdition(at("A"))
	if err != nil {
		t.Fatal(err)
	}
	b, _, err := openEdition(at("B"))
	if err != nil {
		t.Fatal(err)
	}

	t.Run("the same twice", func(t *testing.T) {
		code, out, errs := command("changes", at("A"), at("A2"))
		if want := "nothing changed: Kerfbook, revision C of 2026-11-20 (" + a.Digest[:10] + ")\n"; code != 0 || out != want || errs != "" {
			t.Errorf("exit %d, %q %q", code, out, errs)
		}
	})
	t.Run("text", func(t *testing.T) {
		code, out, errs := command("changes", at("A"), at("B"), "--jobs", "testdata/shop-jobs")
		out = strings.NewReplacer(a.Digest[:10], "digest of A", b.Digest[:10], "digest of B").Replace(out)
		const file = "testdata/shop-changes.txt"
		if os.Getenv("KERFBOOK_UPDATE") != "" {
			if err := os.WriteFile(file, []byte(out), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if code != 0 || errs != "" || err != nil || out != string(want) {
			t.Errorf("exit %d %s %v: %s\nKERFBOOK_UPDATE=1 writes the file; read it then", code, errs, err, firstDifference(out, string(want)))
		}
	})
	t.Run("held against the records", func(t *testing.T) { heldAgainst(t, at("A"), at("B"), a, b, at("report.html")) })
	t.Run("codes", func(t *testing.T) { codesOnPaper(t, at("A"), at("B"), a, b) })
}

// shopEdition publishes into a folder.
func shopEdition(o site.Options, to string) error {
	o.Wasm, o.Toolchain = []byte("calculators are not run from a page here"), "go0"
	ed, err := site.OpenFolder(to, site.FolderOptions{})
	if err != nil {
		return err
	}
	if res, err := site.Publish(context.Background(), o, ed); err != nil {
		var told bytes.Buffer
		return errors.Join(err, diag.Render(&told, res.Messages, res.Texts, res.Pages), errors.New(told.String()))
	}
	return ed.Commit()
}

// heldAgainst works out what moved from the records and the published pages
// alone, and holds the report's JSON and its page against it.
func heldAgainst(t *testing.T, dirA, dirB string, a, b *record.Edition, page string) {
	code, out, errs := command("changes", dirA, dirB, "--json", "--page", page)
	if code != 0 {
		t.Fatal(errs)
	}
	var ch record.Changes
	if err := json.Unmarshal([]byte(out), &ch); err != nil {
		t.Fatal(err)
	}
	same := func(what string, got, want []string) {
		t.Helper()
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) || len(want) == 0 {
			t.Errorf("%s: the report has\n%s\nthe editions differ in\n%s", what, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
	// Answers, value by value; each that moved rests on the row of gaps.
	const row = "gaps 0.25/water/fine"
	lines := func(e *record.Edition) (values map[string]string, uses map[string]bool) {
		values, uses = map[string]string{}, map[string]bool{}
		for _, x := range e.Answers {
			for _, v := range x.Values {
				values[x.ID+" "+v.Name] = v.Text
			}
			values[x.ID+" verdict of it"] = x.Verdict
			uses[x.ID] = slices.Contains(x.Rows, row)
		}
		return values, uses
	}
	before, _ := lines(a)
	after, uses := lines(b)
	var want, got []string
	for name, now := range after {
		if before[name] != now {
			want = append(want, name+": "+before[name]+" → "+now)
		}
	}
	if len(before) != len(after) {
		t.Errorf("%d values before, %d after", len(before), len(after))
	}
	const cause = `[{row gaps 0.25/water/fine changed [{gap_likely_um 9.5 9} {gap_high_um 11 10.5}]}]`
	for _, x := range ch.Answers {
		for _, v := range x.Values {
			got = append(got, x.ID+" "+v.Name+": "+v.Old+" → "+v.New)
		}
		if because := fmt.Sprint(x.Causes); because != cause || x.State != record.Changed || !uses[x.ID] {
			t.Errorf("%s: %s because %s, it uses the row: %v", x.ID, x.State, because, uses[x.ID])
		}
	}
	same("answers", got, want)

	// Rows of tables and rules.
	want, got = nil, nil
	cells := map[string]string{}
	for _, r := range a.Rows {
		cells[r.Table+" "+r.Key] = fmt.Sprint(r.Cells)
	}
	for _, r := range b.Rows {
		if name := r.Table + " " + r.Key; cells[name] != fmt.Sprint(r.Cells) {
			want = append(want, name)
		}
	}
	for _, table := range slices.Concat(ch.Tables, ch.Rules) {
		for _, r := range table.Rows {
			got = append(got, table.Name+" "+r.Key)
		}
	}
	same("rows", got, want)
	same("what was changed", got, []string{"flushings one-off", row, "rules our-carbide-oil"})

	// Pages, from the files: what stands in the body, and what stands in the title block.
	want, got = nil, nil
	var words, wantWords, block []string
	for _, p := range b.Pages {
		bodyA, bodyB := readBody(t, dirA, p.Address), readBody(t, dirB, p.Address)
		switch {
		case bodyA != bodyB:
			want = append(want, p.Address)
			if numbersOut(bodyA) != numbersOut(bodyB) {
				wantWords = append(wantWords, p.Address)
			}
		case p.Address != "codes.html":
			block = append(block, p.Address)
		}
	}
	var only []string
	for _, p := range ch.Pages {
		switch what := strings.Join(p.What, " "); what {
		case "title block":
			only = append(only, p.Address)
		case "text":
			words = append(words, p.Address)
			fallthrough
		case "numbers":
			got = append(got, p.Address)
		default:
			t.Errorf("%s: %s", p.Address, what)
		}
	}
	same("pages", got, want)
	same("words", words, wantWords)
	same("title blocks", only, block)

	// The page to sign holds the same: a line for every value, row's cell and page.
	signed, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	count := 2 + len(got) + 1 // revision and date; pages; the line of the other sheets
	for _, x := range ch.Answers {
		count += len(x.Values)
		for _, v := range x.Values {
			if line := "<td>" + html.EscapeString(v.Old) + "</td><td>" + html.EscapeString(v.New) + "</td>"; !bytes.Contains(signed, []byte(line)) {
				t.Errorf("the page lacks %s of %s", line, x.ID)
			}
		}
	}
	for _, table := range slices.Concat(ch.Tables, ch.Rules) {
		for _, r := range table.Rows {
			count += len(r.Cells)
		}
	}
	heads := bytes.Count(signed, []byte("<thead>"))
	if n := bytes.Count(signed, []byte("<tr")) - heads; n != count {
		t.Errorf("the page has %d lines, the report %d", n, count)
	}
}

// readBody is what a published page says in its body, drawings too, without what
// it repeats of the edition: the codes of tables and sheets, the foot of a job sheet.
func readBody(t *testing.T, dir, address string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, address))
	if err != nil {
		t.Fatal(err)
	}
	doc, err := html.Parse(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	var s strings.Builder
	var write func(n *html.Node)
	write = func(n *html.Node) {
		for _, at := range n.Attr {
			if at.Key == "class" && slices.Contains([]string{"table-code", "job-edition", "edition-mark"}, at.Val) {
				return
			}
			if n.Type == html.ElementNode {
				fmt.Fprintf(&s, "<%s %s>", at.Key, at.Val)
			}
		}
		if n.Type == html.TextNode {
			s.WriteString(n.Data)
		}
		for c := range n.ChildNodes() {
			write(c)
		}
	}
	for n := range doc.Descendants() {
		if len(n.Attr) > 0 && strings.HasPrefix(n.Attr[0].Val, "body kind-") {
			write(n)
		}
	}
	return s.String()
}

var (
	attribute = regexp.MustCompile(`<[^>]*>`)
	aNumber   = regexp.MustCompile(`[-−±+]?[0-9][0-9.,]*`)
)

func numbersOut(body string) string {
	return aNumber.ReplaceAllString(attribute.ReplaceAllString(body, ""), "#")
}

// codesOnPaper reads the codes that a print of the first edition shows and asks
// both editions about them; the page “Is my print current?” says the same.
func codesOnPaper(t *testing.T, dirA, dirB string, a, b *record.Edition) {
	read := func(dir, name string) string {
		t.Helper()
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	find := func(text, pattern string) string {
		t.Helper()
		m := regexp.MustCompile(pattern).FindStringSubmatch(text)
		if m == nil {
			t.Fatalf("nothing printed fits %s", pattern)
		}
		return m[1]
	}
	print, wires, first := read(dirA, "carbide/index.html"), read(dirA, "tables/wires.html"), read(dirA, "index.html")
	sheet := find(print, `<dd class="code">([^<]*)</dd>`)
	flushings := find(read(dirA, "tables/rates.html"), `Table flushings, revision C of 2026-11-20, check code ([^<]*)\.<`)
	wire := find(wires, `Table wires, revision C of 2026-11-20, check code ([^<]*)\.<`)
	whole, tables := find(first, `data-edition="([^"]*)"`), find(first, `data-book="book-([^"]*)"`) // what the script prints on a job sheet
	const isA, isB = "revision C of 2026-11-20: current\n", "revision D of 2026-11-25: current\n"
	none := func(code string) string {
		return "no sheet of this edition (revision D of 2026-11-25) has the code " + code[:5] + "-" + code[5:] + ": the print is from another edition or another handbook\n"
	}
	for _, c := range []struct{ code, a, b string }{
		{sheet, "sheet LQT-W-060 “What does carbide lose in the tank?”, " + isA, "sheet LQT-W-060 “What does carbide lose in the tank?” has changed since that print; that of revision D of 2026-11-25 is the current one\n"},
		{flushings, "table “What flushing leaves of the area rate”, " + isA, "table “What flushing leaves of the area rate” has changed since that print; that of revision D of 2026-11-25 is the current one\n"},
		{wire, "table “Wires”, " + isA, "table “Wires”, " + isB},
		{whole, "the code is that of the whole handbook, " + isA, none(whole)},
		{tables, "the code is that of the tables of the whole handbook, " + isA, none(tables)},
	} {
		for dir, want := range map[string]string{dirA: c.a, dirB: c.b} {
			if code, out, errs := command("current", c.code, dir); code != 0 || out != want || errs != "" {
				t.Errorf("%s in %s: exit %d, %q %q, want %q", c.code, filepath.Base(dir), code, out, errs, want)
			}
		}
	}
	if line := `<p class="current">Printed from revision C of 2026-11-20. This print is current while sheet LQT-W-060 of the published handbook has the check code ` + sheet +
		`. Its sheet LQT-W-L8, “Is my print current?”, lists the codes of all.</p>`; !strings.Contains(print, line) {
		t.Errorf("the print lacks %s", line)
	}
	if list := read(dirA, "contents.html"); !strings.Contains(list, `<a href="codes.html"><span class="num">L8</span> Is my print current?</a>`) {
		t.Error("the contents do not link the page of codes")
	}
	for dir, e := range map[string]*record.Edition{dirA: a, dirB: b} {
		want := map[string]string{"Handbook": e.Digest[:10], "Its tables": e.Book[:10]}
		for _, table := range e.Tables {
			want[table.Name] = table.Code()
		}
		for _, p := range e.Pages {
			printed := find(read(dir, p.Address), `<dd class="code">([^<]*)</dd>`)
			if printed != p.Check {
				t.Errorf("%s prints %s, the record has %s", p.Address, printed, p.Check)
			}
			if want[e.Scheme+p.Number] = p.Check; p.Number == "L8" {
				want[e.Scheme+p.Number] = "in the title block below"
			}
		}
		got := map[string]string{}
		for _, m := range regexp.MustCompile(`<tr><td>([^<]*)</td><td>(?:.*</td><td>)?(?:<code class="edition-mark">)?([^<]*)(?:</code>)?</td></tr>`).FindAllStringSubmatch(read(dir, "codes.html"), -1) {
			got[m[1]] = m[2]
		}
		if !maps.Equal(got, want) {
			for _, name := range slices.SortedFunc(maps.Keys(want), cmp.Compare[string]) {
				if got[name] != want[name] {
					t.Errorf("%s: %s has %q, want %q", filepath.Base(dir), name, got[name], want[name])
				}
			}
			t.Errorf("%s: the page of codes has %d lines, want %d", filepath.Base(dir), len(got), len(want))
		}
	}
}
