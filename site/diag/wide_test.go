package diag

import (
	"bufio"
	"fmt"
	"os"
	"strings"
	"testing"
	"unicode"
)

// Every character that Go and Perl both know, against the width that Perl's copy of the Unicode data
// gives it.
func TestWideAgainstPerl(t *testing.T) {
	file, err := os.Open("testdata/wide.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	perl := map[rune]bool{}
	for lines := bufio.NewScanner(file); lines.Scan(); {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		var from, to rune
		if _, err := fmt.Sscanf(lines.Text(), "%x %x", &from, &to); err != nil {
			t.Fatalf("%q: %v", lines.Text(), err)
		}
		for r := from; r <= to; r++ {
			perl[r] = true
		}
	}
	if len(perl) < 117_000 {
		t.Fatalf("only %d wide characters read", len(perl))
	}
	// Go 1.26 knows Unicode 15.0, Perl 5.36 Unicode 14.0. What came between is wide only here: 4,192
	// ideographs of extension H, one more ideograph, two kana and 20 pictures (the numbers of
	// extension H and of the rest as Go's tables hold them).
	const between = 4192 + 1 + 2 + 20
	newer := 0
	for r := rune(0x300); r <= 0x3ffff; r++ {
		if !unicode.IsGraphic(r) || wide(r) == perl[r] {
			continue
		}
		if perl[r] {
			t.Errorf("%U: Perl says wide", r)
		} else {
			newer++
		}
	}
	if newer != between {
		t.Errorf("%d characters are wide only here, want %d", newer, between)
	}
}
