package output

import (
	"strings"
	"testing"
)

func TestCheckName(t *testing.T) {
	for _, name := range []string{
		"index.html", "edition.json", "handbook/40-passes/offsets.html", "a/b/c/d.js", "0.css", "-.x", "book-1a2b.wasm",
		"console.html", "com.html", "com10.html", "lpt.txt", "nul-.html", "auxiliary/prnt.html", strings.Repeat("a", 115) + ".html",
	} {
		if err := CheckName(name); err != nil {
			t.Error(err)
		}
	}
	shape := `use a to z, 0 to 9 and hyphens, folders divided by a slash, and one extension, as in "handbook/wire-lag.html"`
	tests := []struct{ name, want string }{
		{"", shape}, {"Index.html", shape}, {"index.HTML", shape}, {"index", shape}, {"a/index", shape}, {".html", shape},
		{"index.", shape}, {"a..b", shape}, {"a.min.css", shape}, {"a b.html", shape}, {"a_b.html", shape}, {"maß.html", shape},
		{"/a.html", shape}, {"a//b.html", shape}, {"a/b.html/", shape}, {"../a.html", shape}, {"a/../b.html", shape}, {"./a.html", shape},
		{"a.b/c.html", shape}, {`a\b.html`, shape}, {"c:a.html", shape}, {"a.h-l", shape}, {"a\x00.html", shape}, {"a.html\n", shape},
		{"con.html", `"con" is the name of a device on Windows; choose another`},
		{"prn.html", `"prn" is the name of a device on Windows; choose another`},
		{"aux/a.html", `"aux" is the name of a device on Windows; choose another`},
		{"a/nul.html", `"nul" is the name of a device on Windows; choose another`},
		{"com1.html", `"com1" is the name of a device on Windows; choose another`},
		{"lpt9/a.html", `"lpt9" is the name of a device on Windows; choose another`},
		{strings.Repeat("a", 116) + ".html", "the name has 121 characters; 120 are allowed"},
	}
	for _, tt := range tests {
		err := CheckName(tt.name)
		if err == nil {
			t.Errorf("%q is allowed", tt.name)
			continue
		}
		if !strings.HasPrefix(err.Error(), "cannot publish a file as ") || !strings.HasSuffix(err.Error(), ": "+tt.want) {
			t.Errorf("%q: %v", tt.name, err)
		}
	}
	says(t, CheckName("A.html"), BadName, `cannot publish a file as "A.html": `+shape)
}
