package diag

import (
	"fmt"
	"strings"

	"kerfbook/wasm/spell"
)

// closing returns the last line of a report: how many messages there are, and in how many files. A
// page is a file whose name ends in ".md"; tables and settings are counted beside the pages.
func closing(list []Message, pages int) string {
	var kinds [2]int
	inPages, inOthers := map[string]bool{}, map[string]bool{}
	for _, m := range list {
		kinds[min(m.Kind, Warning)]++
		switch {
		case m.Span.File == "":
		case strings.HasSuffix(m.Span.File, ".md"):
			inPages[m.Span.File] = true
		default:
			inOthers[m.Span.File] = true
		}
	}

	var found []string
	if n := kinds[Error]; n > 0 {
		found = append(found, spell.Count(n, "error"))
	}
	if n := kinds[Warning]; n > 0 {
		found = append(found, spell.Count(n, "warning"))
	}
	if len(found) == 0 {
		found = append(found, "no errors")
	}
	what := strings.Join(found, " and ")

	p, o := len(inPages), len(inOthers)
	switch {
	case len(list) == 0 && pages <= 0:
		return what
	case len(list) == 0:
		return what + " in " + spell.Count(pages, "page")
	case p+o == 0:
		return what + " in no particular file"
	case pages <= 0:
		return what + " in " + spell.Count(p+o, "file")
	case p == 0:
		return fmt.Sprintf("%s in %s beside the %s", what, spell.Count(o, "file"), spell.Count(pages, "page"))
	}
	// A page that could not be read may be missing from the caller's number.
	where := fmt.Sprintf("%s in %d of %s", what, p, spell.Count(max(p, pages), "page"))
	if o > 0 {
		where += " and " + spell.Count(o, "other file")
	}
	return where
}
