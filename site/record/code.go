package record

import (
	"crypto/sha256"
	"encoding/hex"
	"html"
	"strings"
	"unicode/utf8"
)

// Sum is the digest of a file or of a text.
func Sum(data []byte) string {
	d := sha256.Sum256(data)
	return hex.EncodeToString(d[:])
}

// Short shortens a digest, which in a record may be of any length.
func Short(digest string) string { return digest[:min(10, len(digest))] }

// codePart is the length of each half of a check code in hexadecimal digits. Of
// two hundred editions of a hundred sheets one has two sheets that share the
// first half (then both are named); a changed sheet keeps its second half once
// in a million.
const codePart = 5

// CodesNumber is the identification number of the page that lists every code.
const CodesNumber = "L8"

// Code is the check code of a sheet: a half for its identification number,
// which never changes, and a half for everything printed on it.
func Code(number, printed string) string {
	return Sum([]byte(number))[:codePart] + "-" + Sum([]byte(printed))[:codePart]
}

// Words is the words of a body: no tags, no drawings, and every number a
// single sign. White space does not count.
func Words(body string) string {
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
