package record

import (
	"fmt"
	"strings"
)

// Current says whether a printed sheet is the one of this edition, by the check
// code in its title block. The first half of a code names the sheet, so a print
// that has changed since is still known.
func (e *Edition) Current(code string) (string, error) {
	asked, err := readCode(code)
	if err != nil {
		return "", err
	}
	scheme := e.Scheme
	var changed []string
	for _, p := range e.Pages {
		plain := strings.ReplaceAll(p.Check, "-", "")
		if plain == asked {
			return fmt.Sprintf("sheet %s, %s: current", sheetName(scheme, p.Number, p.Title), e.NameOf()), nil
		}
		if len(plain) == 2*codePart && strings.Contains(p.Check, "-") && plain[:codePart] == asked[:codePart] {
			changed = append(changed, "sheet "+sheetName(scheme, p.Number, p.Title))
		}
	}
	for _, t := range e.Tables {
		plain := strings.ReplaceAll(t.Code(), "-", "")
		if plain == asked {
			return fmt.Sprintf("table “%s”, %s: current", t.Title, e.NameOf()), nil
		}
		if plain[:codePart] == asked[:codePart] {
			changed = append(changed, "table “"+t.Title+"”")
		}
	}
	if len(changed) > 0 {
		return fmt.Sprintf("%s has changed since that print; that of %s is the current one", strings.Join(changed, " or "), e.NameOf()), nil
	}
	if asked == strings.ToLower(Short(e.Digest)) {
		return "the code is that of the whole handbook, " + e.NameOf() + ": current", nil
	}
	if asked == strings.ToLower(Short(e.Book)) {
		return "the code is that of the tables of the whole handbook, " + e.NameOf() + ": current", nil
	}
	return fmt.Sprintf("no sheet of this edition (%s) has the code %s: the print is from another edition or another handbook", e.NameOf(), printedCode(asked)), nil
}

// readCode takes a code as people copy it from paper: with or without the line
// between its halves, in capitals, with an O for a zero and an I or l for a one.
func readCode(code string) (string, error) {
	plain := strings.NewReplacer("-", "", " ", "", "–", "", "o", "0", "i", "1", "l", "1").Replace(strings.ToLower(code))
	const want = "; a check code is ten letters and digits from the title block, for example 3f0a2-9c41e"
	for _, r := range plain {
		if (r < '0' || r > '9') && (r < 'a' || r > 'f') {
			return "", fmt.Errorf("%q is no check code: “%c” never stands in one%s", code, r, want)
		}
	}
	if len(plain) != 2*codePart {
		return "", fmt.Errorf("%q is no check code: it has %d letters and digits%s", code, len(plain), want)
	}
	return plain, nil
}

func printedCode(plain string) string { return plain[:codePart] + "-" + plain[codePart:] }
