package book

import (
	"testing"
)

const good = "# title: Gaps\n# key: diameter_mm dielectric pass\n# note: A note.\n" +
	"diameter_mm,dielectric,pass,gap_low_um,gap_likely_um,gap_high_um,source,place,provenance\n" +
	"0.1,oil,fine,2,4,6,,,common practice\n0.2,oil,fine,3,6.5,10,,\"a, \"\"b\"\"\",common practice\n"

func TestReadAndCanonical(t *testing.T) {
	b, err := Read([]File{{"gaps.csv", good}})
	if err != nil {
		t.Fatal(err)
	}
	again, err := Parse(b.Canonical())
	if err != nil || again.Canonical() != b.Canonical() {
		t.Fatalf("the canonical text does not read back: %v", err)
	}
	crlf, err := Read([]File{{"gaps.csv", "# title: Gaps\r\n# key: diameter_mm dielectric pass\r\n# note: A note.\r\ndiameter_mm,dielectric,pass,gap_low_um,gap_likely_um,gap_high_um,source,place,provenance\r\n0.1, oil ,fine,2,4,6,,,common practice\r\n0.2,oil,fine,3,6.5,10,,\"a, \"\"b\"\"\",common practice\r\n"}})
	if err != nil || crlf.Canonical() != b.Canonical() {
		t.Errorf("line ends and spaces change the canonical text: %v", err)
	}
	r, ok := b.Find("gaps", "0.2", "oil", "fine")
	if !ok || r.Cell("place") != "a, \"b\"" || r.Num("gap_likely_um") != 6.5 || r.Line != 6 {
		t.Errorf("%+v", r)
	}
}

func TestFaults(t *testing.T) {
	head := "# title: T\n# key: name\nname,v_low_um,v_likely_um,v_high_um,source,place,provenance\n"
	for _, c := range []struct{ name, text, want string }{
		{"t.csv", head + "a,1,x,3,,,common practice\n", "t.csv:4:5: the column “v_likely_um” wants a number, this is “x”"},
		{"t.csv", head + "a,1,NaN,3,,,common practice\n", "t.csv:4:5: the column “v_likely_um” wants a number, this is “NaN”"},
		{"t.csv", head + "a,3,2,1,,,common practice\n", "t.csv:4:3: low, likely and high of “v” do not rise: 3, 2, 1"},
		{"t.csv", head + "a,1,2,3,,,hearsay\n", "t.csv:4:11: provenance is cited, from memory, common practice, our estimate, measured, definition or invented, not “hearsay”"},
		{"t.csv", head + "a,1,2,3,,,cited\n", "t.csv:4:9: a row cited names its source"},
		{"t.csv", head + "a,1,2,3,,,common practice\na,1,2,3,,,common practice\n", "t.csv:5:1: the key “a” stands in line 4 already"},
		{"t.csv", head + "a,1,2\n", "t.csv:4:1: this row has 3 cells, the table has 7 columns"},
		{"t.csv", head + "\"a,1,2,3,,,common practice\n", "t.csv:4:1: this quotation mark is never closed"},
		{"t.csv", "name\n", "t.csv:1:1: the table starts with \"# title: …\" and \"# key: column …\""},
		{"t.csv", "# title: T\n# key: nme\nname,source,place,provenance\n", "t.csv:1:1: the column “nme” is missing"},
		{"T.csv", head, "T.csv:1:1: a table's file is called letters-and-digits.csv"},
		{"t.csv", head + "\xff,1,2,3,,,common practice\n", "t.csv:4:1: this is not UTF-8 text: save as CSV UTF-8"},
	} {
		_, err := Read([]File{{c.name, c.text}})
		if err == nil || err.Error() != c.want {
			t.Errorf("%q\n got %v\nwant %s", c.text, err, c.want)
		}
	}
	if _, err := Read([]File{{"gaps.csv", good}, {"gaps.csv", good}}); err == nil {
		t.Error("a table read twice is not told")
	}
}

// FuzzRead: no text makes it panic, and what is read has a canonical text that
// reads back.
func FuzzRead(f *testing.F) {
	f.Add(good)
	f.Add("# title: T\n# key: name\nname,source,place,provenance\n\"a\"\"b\",,,definition\n")
	f.Fuzz(func(t *testing.T, text string) {
		b, err := Read([]File{{"t.csv", text}})
		if err != nil {
			return
		}
		again, err := Parse(b.Canonical())
		if err != nil || again.Canonical() != b.Canonical() {
			t.Errorf("%q has the canonical text %q: %v", text, b.Canonical(), err)
		}
	})
}
