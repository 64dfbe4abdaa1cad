package site

import (
	"crypto/sha256"
	"fmt"
	"html"
	"strings"
	"unicode/utf8"

	"kerfbook/site/theme"
)

// codePart is the length of each half of a check code in hexadecimal digits. Of
// two hundred editions of a hundred sheets one has two sheets that share the
// first half (then both are named); a changed sheet keeps its second half once
// in a million.
const codePart = 5

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
	for _, ch := range page.Chapters {
		body += "\n" + ch.Number + " " + ch.Title
		for _, pg := range ch.Pages {
			body += "\n" + pg.Title
		}
	}
	trail := ""
	for _, t := range page.Trail {
		trail += t.Title + "\n"
	}
	e := page.Edition
	for _, part := range []string{page.Kind, page.Title, page.Sheet, trail, body, e.Owner, e.Title, e.DocumentType, e.Number, e.Revision, e.Date, e.Language, e.Creator, e.Approval} {
		fmt.Fprintf(&s, "%d %s\n", len(part), part) // with its length, so that no two sheets run together alike
	}
	sh := &p.sheets[i]
	sh.check = sum([]byte(e.Number))[:codePart] + "-" + sum([]byte(s.String()))[:codePart]
	body = withoutMarks(body)
	sh.printed, sh.text = short(sum([]byte(trail+body))), p.wordsOf(body)
	page.Edition.Check = sh.check
}

// wordSums are the digests of bodies' words by the digests of the bodies.
type wordSums map[[sha256.Size]byte]string

// wordsOf is the digest of a body's words, looked up where the last publication of
// this process had the same body.
func (p *press) wordsOf(body string) string {
	if p.draft == nil || p.options.Memory == nil {
		return short(sum([]byte(wordsOf(body))))
	}
	key := sha256.Sum256([]byte(body))
	text := ""
	if b := p.draft.before; b != nil {
		text = b.words[key]
	}
	if text == "" {
		text = short(sum([]byte(wordsOf(body))))
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

// wordsOf is the words of a body: no tags, no drawings, and every number a
// single sign. White space does not count.
func wordsOf(body string) string {
	var s strings.Builder
	for body != "" {
		switch {
		case strings.HasPrefix(body, "<svg"):
			_, body, _ = strings.Cut(body, "</svg>")
		case body[0] == '<':
			_, body, _ = strings.Cut(body, ">")
			s.WriteByte(' ')
		default:
			end := strings.IndexByte(body, '<')
			if end < 0 {
				end = len(body)
			}
			maskNumbers(&s, html.UnescapeString(body[:end]))
			body = body[end:]
		}
	}
	return strings.Join(strings.Fields(s.String()), " ")
}

// maskNumbers writes text with # for each number. Points, commas and thin
// spaces inside a number belong to it, a sign before it too.
func maskNumbers(s *strings.Builder, text string) {
	digit := func(r rune) bool { return r >= '0' && r <= '9' }
	for text != "" {
		r, n := utf8.DecodeRuneInString(text)
		next, _ := utf8.DecodeRuneInString(text[n:])
		if !digit(r) && !(strings.ContainsRune("-−+±", r) && digit(next)) {
			s.WriteString(text[:n])
			text = text[n:]
			continue
		}
		s.WriteByte('#')
		for text = text[n:]; text != ""; text = text[n:] {
			r, n = utf8.DecodeRuneInString(text)
			next, _ = utf8.DecodeRuneInString(text[n:])
			if !digit(r) && !(strings.ContainsRune(".,\u2009\u202f", r) && digit(next)) {
				break
			}
		}
	}
}
