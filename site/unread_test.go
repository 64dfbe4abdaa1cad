package site

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"kerfbook/site/diag"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
)

// TestUnread: a column of the handbook's tables that no calculator declares and no
// page prints is a warning at its name; one that is printed, or that a calculator
// reads, is none, and neither is a remark. A shop is not asked: it may have left the
// chapter out.
func TestUnread(t *testing.T) {
	const head = "# title: Sizes\n# key: name\nname,size_mm,gap_um,spool_kg,"
	const want = "data/sizes.csv:3:21: nothing reads the column “spool_kg” of the table “sizes”: no calculator, and no table of a page"
	for _, c := range []struct {
		name, page, table, extra string
		want                     []string
	}{
		{"unread", "", head, "", []string{want}},
		{"printed", "\n```table sizes\ncolumns: name spool\n```\n", head, "", nil},
		{"the whole printed", "\n```table sizes\n```\n", head, "", nil},
		{"read", "", head, " spool_kg", nil},
		{"a remark", "", strings.Replace(head, "spool_kg", "remark", 1), "", nil},
		{"a slip", "", strings.Replace(head, "spool_kg", "gaq_um", 1), "", []string{"data/sizes.csv:3:21: nothing reads the column “gaq_um” of the table “sizes”: no calculator, and no table of a page; did you mean “gap_um”?"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := content()
			files["data/sizes.csv"] = &fstest.MapFile{Data: []byte(c.table + "source,place,provenance\none,1,2,3,work,page 1,cited\n")}
			files["handbook/10-how/20-more.md"] = &fstest.MapFile{Data: []byte("---\ntitle: More\nnumber: \"011\"\n---\nMore.\n" + c.page)}
			o := trial(files)
			made := o.Calculators
			o.Calculators = func(b *book.Book) (*calc.Set, error) {
				set, err := made(b)
				set.All()[0].Tables = []string{"sizes size_mm gap_um" + c.extra}
				return set, err
			}
			look := func() []string {
				res, err := Check(o)
				if err != nil {
					t.Fatal(err, res.Messages)
				}
				var out []string
				for _, m := range res.Messages {
					if m.ID == diag.TableUnread {
						line, col := diag.Position(res.Texts[m.Span.File], m.Span.Start)
						out = append(out, fmt.Sprintf("%s:%d:%d: %s", m.Span.File, line, col, m.Text))
					}
				}
				return out
			}
			if got := look(); !slices.Equal(got, c.want) {
				t.Errorf("says %q, want %q", got, c.want)
			}
			o.Shop = shopFolder()
			if got := look(); len(got) > 0 {
				t.Errorf("in a shop's edition: %q", got)
			}
		})
	}
}

// TestUnreadEmpty: a table that nothing reads is told by its columns, and left alone
// when it has no row.
func TestUnreadEmpty(t *testing.T) {
	const head = "# title: Old\n# key: name\nname,rate_mm2min,source,place,provenance\n"
	for _, c := range []struct {
		name, rows string
		want       int
	}{{"no row", "", 0}, {"a row", "one,2,work,page 1,cited\n", 1}} {
		t.Run(c.name, func(t *testing.T) {
			files := content()
			files["data/old.csv"] = &fstest.MapFile{Data: []byte(head + c.rows)}
			res, err := Check(trial(files))
			if err != nil {
				t.Fatal(err, res.Messages)
			}
			got := 0
			for _, m := range res.Messages {
				if m.ID == diag.TableUnread && m.Span.File == "data/old.csv" {
					got++
				}
			}
			if got != c.want {
				t.Errorf("names %d columns, want %d", got, c.want)
			}
		})
	}
}
