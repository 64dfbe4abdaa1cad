package site

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"

	"kerfbook/site/record"
	"kerfbook/site/theme"
)

// mark gives a sheet its check code: a half for the identification number,
// which never changes, and a half for everything printed on the sheet. So a
// print whose sheet has changed since is still known for what it was.
//
// It depends on what is printed and on nothing else: an edition that only
// brings a new page leaves the codes of the others. What only a screen shows
// (the neighbours, the bar, the names of style and script) is left out.
func (p *press) mark(i int, page *theme.Page) {
	var s strings.Builder
	body := string(page.Body)
	for _, part := range page.Parts {
		body += "\n" + part.Title
		for _, ch := range part.Chapters {
			body += "\n" + ch.Number + " " + ch.Name
			if page.Kind == "first" {
				continue
			}
			for _, s := range ch.Sheets {
				body += "\n" + s.Number + " " + s.Title
			}
			for _, l := range slices.Concat(ch.Calculators, ch.Tables) {
				body += "\n" + l.Title
			}
		}
	}
	trail := ""
	for _, t := range page.Trail {
		trail += t.Number + " " + t.Title + "\n"
	}
	e := page.Edition
	for _, part := range []string{page.Kind, page.Title, page.Sheet, trail, body, e.Owner, e.Title, e.DocumentType, e.Number, e.Revision, e.Date, e.Language, e.Creator, e.Approval} {
		fmt.Fprintf(&s, "%d %s\n", len(part), part) // with its length, so that no two sheets run together alike
	}
	sh := &p.sheets[i]
	sh.check = record.Code(e.Number, s.String())
	body = withoutMarks(body)
	sh.printed, sh.text = record.Short(record.Sum([]byte(trail+body))), p.wordsOf(body)
	page.Edition.Check = sh.check
}

// wordSums are the digests of bodies' words by the digests of the bodies.
type wordSums map[[sha256.Size]byte]string

// wordsOf is the digest of a body's words, looked up where the last publication of
// this process had the same body.
func (p *press) wordsOf(body string) string {
	if p.draft == nil || p.options.Memory == nil {
		return record.Short(record.Sum([]byte(record.Words(body))))
	}
	key := sha256.Sum256([]byte(body))
	text := ""
	if b := p.draft.before; b != nil {
		text = b.words[key]
	}
	if text == "" {
		text = record.Short(record.Sum([]byte(record.Words(body))))
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.draft.words == nil {
		p.draft.words = wordSums{}
	}
	p.draft.words[key] = text
	return text
}

// withoutMarks takes out of a body what it repeats of the edition: the revision
// and check code under a table, the handbook's name on a job sheet, the codes of
// other sheets. They are printed, so the check code follows them; but a new
// revision letter is no change of the text.
func withoutMarks(body string) string {
	for _, m := range [][2]string{{`<span class="table-code">`, "</span>"}, {`<dl class="job-edition">`, "</dl>"}, {editionMark, "</code>"}} {
		var s strings.Builder
		for {
			before, after, ok := strings.Cut(body, m[0])
			s.WriteString(before)
			if !ok {
				break
			}
			_, body, _ = strings.Cut(after, m[1])
		}
		body = s.String()
	}
	return body
}
