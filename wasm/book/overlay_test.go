//go:build !wasip1

package book

import (
	"errors"
	"strconv"
	"strings"
	"testing"
)

// handbook is what the tests lay a shop's tables over.
func handbook(t testing.TB) *Book {
	t.Helper()
	b, err := Read([]File{
		{"gaps.csv", "# title: Gaps\n# key: wire_mm pass\n# note: A note.\n" +
			"wire_mm,pass,gap_low_um,gap_likely_um,gap_high_um,remark,source,place,provenance\n" +
			"0.1,rough,20,30,40,,,,common practice\n" +
			"0.1,skim,4,6,8,\"a, b\",,,common practice\n" +
			"0.25,rough,35,50,65,,grote,table 3,cited\n"},
		{"notes.csv", "# title: Notes\n# key: name\nname,size_mm,source,place,provenance\n0.020,1000000000,,,invented\nplate,2,,,invented\n"},
	})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

const (
	skim  = "wire_mm;pass;gap_likely_um\n"
	every = "wire_mm;pass;gap_low_um;gap_likely_um;gap_high_um;remark;provenance\n"
)

// TestDigest: the digest is what a sha256sum of the cells says.
func TestDigest(t *testing.T) {
	// printf 'name=plate\x1fsize_mm=2\x1fsource=\x1fplace=\x1fprovenance=invented' | sha256sum
	b := handbook(t)
	r, _ := b.Find("notes", "plate")
	if got := r.Digest(b.Table("notes").Columns); got != "2857c93e81" {
		t.Errorf("the digest is %s", got)
	}
	r.Ours, r.Line = true, 9
	if got := r.Digest(b.Table("notes").Columns); got != "2857c93e81" {
		t.Errorf("where a row comes from changes its digest to %s", got)
	}
}

// told writes changes as lines.
func told(changes []Change, b *Book) string {
	var s strings.Builder
	for _, c := range changes {
		s.WriteString(c.File + ":" + strconv.Itoa(c.Line) + " " + c.Kind + " " + c.Table + " " + c.Key + ":")
		for _, r := range []*Row{c.Was, c.Is} {
			if r == nil {
				s.WriteString(" -")
				continue
			}
			for i, col := range b.Table(c.Table).Columns {
				s.WriteString([]string{"|", " "}[min(1, max(0, 1-i))] + r.Cell(col))
			}
		}
		s.WriteString("\n")
	}
	return s.String()
}

func TestOverlay(t *testing.T) {
	replaced := "data/gaps.csv:2 replaced gaps 0.1/skim: 0.1|skim|4|6|8|a, b|||common practice 0.1|skim|4|5|8|a, b|||common practice\n"
	added := "data/gaps.csv:2 added gaps 0.3/rough: - 0.3|rough|30|55.5|70|=A1+1|||measured\n"
	for _, c := range []struct{ name, file, text, want string }{
		{"nothing", "gaps", skim, ""},
		{"a column that is not there keeps", "gaps", skim + "0.1;skim;5\n", replaced},
		{"columns in any order", "gaps", "gap_likely_um;pass;wire_mm\n5;skim;0.1\n", replaced},
		{"comma", "gaps", "wire_mm,pass,gap_likely_um\n0.1,skim,5\n", replaced},
		{"tab and decimal comma", "gaps", "wire_mm\tpass\tgap_likely_um\n0,1\tskim\t5,0\n", strings.Replace(replaced, "4|5|", "4|5.0|", 1)},
		{"mark, CR LF, a key as 0,10", "gaps", "\ufeffwire_mm;pass;gap_likely_um\r\n0,10;skim;5\r\n", replaced},
		{"lone CR", "gaps", "wire_mm;pass;gap_likely_um\r0,1;skim;5\r", replaced},
		{"no end of line", "gaps", skim + "0.1;skim;5", replaced},
		{"sep line", "gaps", "sep=;\nwire_mm;pass;gap_likely_um\n0.1;skim;5\n", strings.Replace(replaced, ":2", ":3", 1)},
		{"quoted sep line", "gaps", "\"sep=\t\"\nwire_mm\tpass\tgap_likely_um\n0.1\tskim\t5\n", strings.Replace(replaced, ":2", ":3", 1)},
		{"empty cells and lines", "gaps", ";;;;;\nwire_mm;pass;gap_likely_um;;;\n;;;;;\n\n0.1;skim;5;;;\n  ;\n", strings.Replace(replaced, ":2", ":5", 1)},
		{"the handbook's head", "gaps", "# title: Gaps;;\n\"# key: wire_mm pass\";;\n# note: A note.;;\n" + skim + "0.1;skim;5\n", strings.Replace(replaced, ":2", ":5", 1)},
		{"an empty cell is empty", "gaps", "wire_mm;pass;remark\n0.1;skim;\n", "data/gaps.csv:2 replaced gaps 0.1/skim: 0.1|skim|4|6|8|a, b|||common practice 0.1|skim|4|6|8||||common practice\n"},
		{"cells left out at the end are empty", "gaps", "wire_mm;pass;remark;delete\n0.1;skim\n", "data/gaps.csv:2 replaced gaps 0.1/skim: 0.1|skim|4|6|8|a, b|||common practice 0.1|skim|4|6|8||||common practice\n"},
		{"added, a formula is text", "gaps", every + "0,3;rough;30;55,5;70;=A1+1;measured\n", added},
		{"deleted", "gaps", "wire_mm;pass;delete\n0.1;skim;X\n0.1;rough;no\n0.25;rough;\n", "data/gaps.csv:2 deleted gaps 0.1/skim: 0.1|skim|4|6|8|a, b|||common practice -\n"},
		{"since", "gaps", "wire_mm;pass;gap_likely_um;since\n0.1;skim;5;d98a1b7680\n", replaced},
		{"deleted with since", "gaps", "wire_mm;pass;delete;since\n0.1;skim;1;d98a1b7680\n", "data/gaps.csv:2 deleted gaps 0.1/skim: 0.1|skim|4|6|8|a, b|||common practice -\n"},
		{"as the handbook's", "gaps", "wire_mm;pass;gap_likely_um;remark\n0,10;skim;6,00;\"a, b\"\n", ""},
		{"a number of twelve digits as written by a spreadsheet", "notes", "name;size_mm\n0,02;1E+09\n", ""},
		{"a key that is a number", "notes", "name;size_mm\n0,02;3,5\n", "data/notes.csv:2 replaced notes 0.020: 0.020|1000000000|||invented 0.020|3.5|||invented\n"},
		{"one column", "notes", "name\nplate\n", ""},
		{"line breaks in a cell", "gaps", "wire_mm;pass;remark\r\n0.1;skim;\"one\r\ntwo\rthree\"\r\n", "data/gaps.csv:2 replaced gaps 0.1/skim: 0.1|skim|4|6|8|a, b|||common practice 0.1|skim|4|6|8|one\ntwo\nthree|||common practice\n"},
		{"a table of its own", "combs", "\"# title: Combs, of ours\";;;;\n# key: comb;;;;\ncomb;pitch_mm;source;place;provenance;delete\nA;0,5;;;measured;\n", "data/combs.csv:4 added combs A: - A|0.5|||measured\n"},
	} {
		b := handbook(t)
		before := b.Canonical()
		out, changes, err := b.Overlay([]File{{"data/" + c.file + ".csv", c.text}})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := told(changes, out); got != c.want {
			t.Errorf("%s\n got %s\nwant %s", c.name, got, c.want)
		}
		if b.Canonical() != before {
			t.Errorf("%s: the handbook's book changed", c.name)
		}
		if c.want == "" && out.Canonical() != before {
			t.Errorf("%s: the canonical text changed", c.name)
		}
	}
}

// TestOursReadsBack: the canonical text says which rows are the shop's, and no
// other text may.
func TestOursReadsBack(t *testing.T) {
	b, _, err := handbook(t).Overlay([]File{
		{"data/gaps.csv", "wire_mm;pass;gap_low_um;gap_likely_um;gap_high_um;provenance;delete\n0.25;rough;35;45;65;measured;\n0.1;rough;;;;;yes\n0.3;rough;40;50;60;measured;\n"},
		{"data/combs.csv", "# title: Combs\n# key: comb\ncomb,source,place,provenance\nA,,,measured\n"},
	})
	if err != nil {
		t.Fatal(err)
	}
	want := "=== combs.csv\n# title: Combs\n# key: comb\n# ours: 1\ncomb,source,place,provenance\nA,,,measured\n" +
		"=== gaps.csv\n# title: Gaps\n# key: wire_mm pass\n# note: A note.\n# ours: 2 3\n" +
		"wire_mm,pass,gap_low_um,gap_likely_um,gap_high_um,remark,source,place,provenance\n" +
		"0.1,skim,4,6,8,\"a, b\",,,common practice\n0.25,rough,35,45,65,,grote,table 3,measured\n0.3,rough,40,50,60,,,,measured\n" +
		"=== notes.csv\n# title: Notes\n# key: name\nname,size_mm,source,place,provenance\n0.020,1000000000,,,invented\nplate,2,,,invented\n"
	if got := b.Canonical(); got != want {
		t.Fatalf("got\n%s\nwant\n%s", got, want)
	}
	again, err := Parse(want)
	if err != nil || again.Canonical() != want {
		t.Fatalf("it does not read back: %v", err)
	}
	for _, k := range []struct {
		wire, pass string
		ours       bool
	}{{"0.1", "skim", false}, {"0.25", "rough", true}, {"0.3", "rough", true}} {
		if r, ok := again.Find("gaps", k.wire, k.pass); !ok || r.Ours != k.ours {
			t.Errorf("%s %s: found %v, ours %v", k.wire, k.pass, ok, r.Ours)
		}
	}
	if _, err := Parse(strings.Replace(want, "ours: 1", "ours: 2", 1)); err == nil || err.Error() != "combs.csv:3:1: the table has no row “2”" {
		t.Error(err)
	}
	if _, err := Read([]File{{"combs.csv", "# title: Combs\n# key: comb\n# ours: 1\ncomb,source,place,provenance\nA,,,measured\n"}}); err == nil ||
		err.Error() != "combs.csv:3:1: a line before the columns is \"# title:\", \"# key:\" or \"# note:\"" {
		t.Error(err)
	}
}

func TestOverlayFaults(t *testing.T) {
	looked := "the first line names the columns, with a comma, a semicolon or a tab between them; none of the three splits this one for sure; looked for wire_mm, pass, gap_low_um, gap_likely_um, gap_high_um, remark, source, place, provenance, delete, since"
	since := "wire_mm;pass;gap_likely_um;remark;since;delete\n"
	for _, c := range []struct{ file, text, want string }{
		{"gaps", "", "1:1: " + looked},
		{"gaps", "\ufeff\n\n", "3:1: " + looked},
		{"gaps", "wire_mm,pass;remark\n", "1:1: " + looked},
		{"gaps", "sep=;\nwire_mm;pass,remark\n", "2:9: the table “gaps” has no column “pass,remark”\ndata/gaps.csv:2:1: the column “pass” is missing: by it a row is found"},
		{"gaps", "\ufeff# titel: Gaps\n" + skim, "1:1: a line before the columns is \"# title:\", \"# key:\" or \"# note:\""},
		{"gaps", "wire|pass\n", "1:1: " + looked},
		{"gaps", "wire_mm;gap_likely_um\n", "1:1: the column “pass” is missing: by it a row is found"},
		{"gaps", "wire_mm;pass;gap_likly_um\n", "1:14: the table “gaps” has no column “gap_likly_um”, did you mean “gap_likely_um”?"},
		{"gaps", "\ufeffwire_mm;pass;Delete\n", "1:14: the table “gaps” has no column “Delete”, did you mean “delete”?"},
		{"gaps", "wire_mm;pass;colour of the wire\n", "1:14: the table “gaps” has no column “colour of the wire”"},
		{"gaps", "wire_mm;pass;pass\n", "1:14: a column name is empty or stands twice: “pass”"},
		{"gaps", "wire_mm;;pass\n", "1:9: a column name is empty or stands twice: “”"},
		{"gaps", "# note: Mine.\n" + skim, "1:1: the handbook's table “gaps” keeps its note: leave this line out"},
		{"gaps", "# titel: Gaps\n" + skim, "1:1: a line before the columns is \"# title:\", \"# key:\" or \"# note:\""},
		{"gap", skim, "1:1: the handbook has no table “gap”, and a table of your own begins with \"# title: …\" and \"# key: column …\", did you mean “gaps”?"},
		{"combs", "# title: Combs\n# key: comb\ncomb;Pitch;source;place;provenance\n", "3:6: a column name is written with a to z, 0 to 9 and _, not “Pitch”"},
		{"combs", "# title: Combs\n# key: comb\ncomb;source;place\n", "1:1: the column “provenance” is missing"},
		{"combs", "# title: Combs\n# key: comb\ncomb;source;place;provenance;delete\nA;;;measured;1\n", "4:1: the handbook's table “combs” has no row “A” to delete"},
		{"Gaps", skim, "1:1: a table's file is called letters-and-digits.csv"},
		{"gaps", "\xff\xfew\x00i\x00", "1:1: this is UTF-16 text: save as CSV UTF-8"},
		{"gaps", "w\x00i\x00", "1:2: a table holds no zero byte: save as CSV UTF-8"},
		{"gaps", skim + "0.1;sk\xefm;5\n", "2:7: this is not UTF-8 text: save as CSV UTF-8"},
		{"gaps", skim + "0.1;skim;5;x\n", "2:12: this row has 4 cells, the first line names 3 columns"},
		{"gaps", skim + "0.1;\"skim;5\n", "2:5: this quotation mark is never closed"},
		{"gaps", skim + "0.1;\"skim\",5\n", "2:11: a semicolon or the end of the line is wanted after the closing quotation mark"},
		{"gaps", skim + "0.1;skim;five\n", "2:10: the column “gap_likely_um” wants a number, this is “five” (the handbook's row: gaps.csv:6)"},
		{"gaps", skim + "0.1;skim;NaN\n", "2:10: the column “gap_likely_um” wants a number, this is “NaN” (the handbook's row: gaps.csv:6)"},
		{"gaps", skim + "0.1;skim;1.250,5\n", "2:10: the column “gap_likely_um” wants a number without a thousands separator, such as 1250.5, this is “1.250,5” (the handbook's row: gaps.csv:6)"},
		{"gaps", skim + "0.1;skim;1,250.5\n", "2:10: the column “gap_likely_um” wants a number without a thousands separator, such as 1250.5, this is “1,250.5” (the handbook's row: gaps.csv:6)"},
		{"gaps", skim + "0.1;skim;1,250,000\n", "2:10: the column “gap_likely_um” wants a number without a thousands separator, such as 1250000, this is “1,250,000” (the handbook's row: gaps.csv:6)"},
		{"gaps", skim + "0,1;skim;1.250\n", "2:10: the column “gap_likely_um” wants a number that reads in one way, such as 1.2500 or 1250, this is “1.250” (the handbook's row: gaps.csv:6)"},
		{"gaps", skim + "0.1;skim;1,250\n", "2:10: the column “gap_likely_um” wants a number that reads in one way, such as 1.2500 or 1250, this is “1,250” (the handbook's row: gaps.csv:6)"},
		{"gaps", "wire_mm,pass,gap_likely_um\n0.1,skim,\"5,5\"\n", "2:10: the column “gap_likely_um” wants a number with a point, such as 5.5, this is “5,5” (the handbook's row: gaps.csv:6)"},
		{"gaps", skim + "0.1;skim;9\n", "2:10: low, likely and high of “gap” do not rise: 4, 9, 8 (the handbook's row: gaps.csv:6)"},
		{"gaps", "wire_mm;pass;gap_likely_um;remark\n0.1;skim;;\n", "2:10: low, likely and high of “gap” do not rise: 4, , 8 (the handbook's row: gaps.csv:6)"},
		{"gaps", "wire_mm;pass;provenance\n0.1;skim;hearsay\n", "2:10: provenance is cited, from memory, common practice, our estimate, measured, definition or invented, not “hearsay” (the handbook's row: gaps.csv:6)"},
		{"gaps", "wire_mm;pass;source\n0.25;rough;\n", "2:12: a row cited names its source (the handbook's row: gaps.csv:7)"},
		{"gaps", skim + "0.4;skim;5\n", "2:1: provenance is cited, from memory, common practice, our estimate, measured, definition or invented, not “”"},
		{"gaps", every + "0.4;;1;2;3;;measured\n", "2:5: the column “pass” is a key and is empty"},
		{"gaps", skim + "0.1;skim;5\n0.10;skim;6\n", "3:1: the key “0.1/skim” stands in line 2 already (the handbook's row: gaps.csv:6)"},
		{"gaps", every + "0.4;skim;1;2;3;;measured\n0,40;skim;1;2;3;;measured\n", "3:1: the key “0.40/skim” stands in line 2 already"},
		{"gaps", "wire_mm;pass;remark\n0.1;skim;\"a\n=== b\"\n", "2:10: no line of a cell begins with “=== ” (the handbook's row: gaps.csv:6)"},
		{"gaps", since + "0.1;skim;5;;;maybe\n", "2:14: delete is yes, x or 1, or it is empty, no or 0, not “maybe” (the handbook's row: gaps.csv:6)"},
		{"gaps", since + "0.1;skin;;;;yes\n", "2:1: the handbook's table “gaps” has no row “0.1/skin” to delete, did you mean “0.1/skim”?"},
		{"gaps", since + "0.5;fine;5;;0123456789;\n", "2:13: since is “0123456789”, but the handbook's table “gaps” has no row “0.5/fine”: it is gone or its key is another now, and a row that adds has no since"},
		{"gaps", since + "0.1;skim;5;;0123456789;\n", "2:13: the handbook's row has moved since yours was written, from 0123456789 to d98a1b7680: gap_likely_um is 6 there and 5 in yours, remark is a, b there and empty in yours; look at both, then write since = d98a1b7680 (the handbook's row: gaps.csv:6)"},
		{"gaps", since + "0.1;skim;6;a, b;0123456789;\n", "2:17: the handbook's row has moved since yours was written, from 0123456789 to d98a1b7680: it is as yours now, which you may leave out; look at both, then write since = d98a1b7680 (the handbook's row: gaps.csv:6)"},
		{"gaps", since + "0.1;skim;;;0123456789;x\n", "2:12: the handbook's row has moved since yours was written, from 0123456789 to d98a1b7680: yours deletes it; look at both, then write since = d98a1b7680 (the handbook's row: gaps.csv:6)"},
		{"gaps", since + "0.1;skim;5;;1,2E+88;\n", "2:13: since is ten of the letters 0 to 9 and a to f, not “1,2e+88”: a spreadsheet takes some of them for a number unless the column is set to text; the handbook's row has d98a1b7680 now (the handbook's row: gaps.csv:6)"},
		// Lines stay true after a cell with three line breaks, however they are written.
		{"gaps", "wire_mm;pass;gap_likely_um;remark\n0.1;rough;30;\n0.1;skim;5;\"a\nb\nc\nd\"\n\n0.25;rough;x;\n", "8:12: the column “gap_likely_um” wants a number, this is “x” (the handbook's row: gaps.csv:7)"},
		{"gaps", "\ufeffwire_mm;pass;gap_likely_um;remark\r\n0.1;rough;30;\r\n0.1;skim;5;\"a\r\nb\nc\rd\"\r\n\r\n0.25;rough;x;\r\n", "8:12: the column “gap_likely_um” wants a number, this is “x” (the handbook's row: gaps.csv:7)"},
		{"gaps", "wire_mm;pass;gap_likely_um;remark\r0.1;rough;30;\r0.1;skim;5;\"a\rb\rc\rd\"\r\r0.25;rough;x;\r", "8:12: the column “gap_likely_um” wants a number, this is “x” (the handbook's row: gaps.csv:7)"},
		{"gaps", "sep=;\r\n\"# title: Gaps\"\r\nwire_mm;pass;gap_likely_um;remark\r\n0.1;skim;5;\"a\r\nb\r\nc\r\nd\"\r\n0.25;rough;x;\r\n", "8:12: the column “gap_likely_um” wants a number, this is “x” (the handbook's row: gaps.csv:7)"},
		// Sizes.
		{"gaps", "wire_mm;pass;remark\n0.1;skim;" + strings.Repeat("é", 5001) + "\n", "2:10: this cell has 10002 bytes: a cell has 10000 at most; is a quotation mark left open?"},
		{"gaps", skim + strings.Repeat("1;", 200) + "1\n", "2:1: this row has 201 cells: a row has 200 at most"},
		{"gaps", skim + strings.Repeat("0.1;skim;6\n", 100_001), "100002:1: a table has 100000 rows at most"},
	} {
		_, changes, err := handbook(t).Overlay([]File{{"data/" + c.file + ".csv", c.text}})
		var faults Faults
		if !errors.As(err, &faults) || changes != nil {
			t.Errorf("%.200q: the error is %v, the changes are %v", c.text, err, changes)
			continue
		}
		if len(faults) > 1000 { // the huge table repeats its row
			faults = faults[:1]
		}
		want := "data/" + c.file + ".csv:" + c.want
		if got := faults.Error(); got != want {
			t.Errorf("%.200q\n got %s\nwant %s", c.text, got, want)
		}
	}
}

// TestFaultPlace: Offset counts the file's own bytes, Col those after the mark.
func TestFaultPlace(t *testing.T) {
	text := "\ufeffwire_mm;pass;gap_likely\n"
	_, _, err := handbook(t).Overlay([]File{{"data/gaps.csv", text}})
	var faults Faults
	if !errors.As(err, &faults) || len(faults) != 1 {
		t.Fatal(err)
	}
	f := faults[0]
	if f.Line != 1 || f.Col != 14 || text[f.Offset:f.Offset+f.Len] != "gap_likely" || f.Beside != nil {
		t.Errorf("%+v", f)
	}
}

// TestOverlayTwice: one table in two files is told, changes come by table.
func TestOverlayTwice(t *testing.T) {
	_, _, err := handbook(t).Overlay([]File{{"data/gaps.csv", skim}, {"more/gaps.csv", skim}})
	if err == nil || err.Error() != "more/gaps.csv:1:1: the table “gaps” is read twice" {
		t.Error(err)
	}
	_, changes, err := handbook(t).Overlay([]File{{"data/notes.csv", "name,size_mm\nplate,3\n"}, {"data/gaps.csv", skim + "0.1;skim;5\n0.1;rough;31\n"}})
	if err != nil || len(changes) != 3 || changes[0].Key != "0.1/skim" || changes[1].Key != "0.1/rough" || changes[2].Key != "plate" {
		t.Errorf("%v %+v", err, changes)
	}
}

// FuzzOverlay: no table makes it panic, and the shop's book has a canonical text
// that reads back with its own rows marked.
func FuzzOverlay(f *testing.F) {
	f.Add("gaps", skim+"0,1;skim;5,5\n")
	f.Add("gaps", "\ufeffsep=;\r\n"+every+"0,3;rough;30;55,5;70;\"=A1\r\n=== x\";measured\r\n")
	f.Add("gaps", "wire_mm\tpass\tdelete\tsince\r0.1\tskim\tx\td98a1b7680\r")
	f.Add("combs", "\"# title: Combs, ours\",,\n# key: comb\ncomb,source,place,provenance\n=== a,,,measured\n")
	f.Add("notes", "name;size_mm;provenance\n\"a\rb\";1.250,5;measured\n")
	f.Fuzz(func(t *testing.T, name, text string) {
		b, _, err := handbook(t).Overlay([]File{{"data/" + name + ".csv", text}})
		if err != nil {
			for _, f := range err.(Faults) {
				if f.Line < 1 || f.Col < 1 || f.Len < 0 || f.Offset < 0 || f.Offset+f.Len > len(text) {
					t.Errorf("%q: no such place: %+v", text, f)
				}
			}
			return
		}
		again, err := Parse(b.Canonical())
		if err != nil || again.Canonical() != b.Canonical() {
			t.Errorf("%q has the canonical text %q: %v", text, b.Canonical(), err)
		}
	})
}
