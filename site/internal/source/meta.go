package source

import (
	"bytes"
	"errors"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml"
)

// Edition is content/edition.yaml, or a shop's own: what the title block says.
type Edition struct {
	Title    string `yaml:"title"`
	Owner    string `yaml:"owner"`
	Document string `yaml:"document"` // kind of document, in the title block
	Scheme   string `yaml:"scheme"`   // stands before each page's number
	Revision string `yaml:"revision"`
	Date     string `yaml:"date"` // ISO 8601 day, from the content and never from the clock
	Language string `yaml:"language"`
	Creator  string `yaml:"creator"`
	Approval string `yaml:"approval"`
}

// Work is one entry of the bibliography.
type Work struct {
	Key     string `yaml:"key"`
	Kind    string `yaml:"kind"` // standard, book, paper, thesis, dataset, program, regulation
	Authors string `yaml:"authors"`
	Title   string `yaml:"title"`
	In      string `yaml:"in"`
	Year    string `yaml:"year"`
	Edition string `yaml:"edition"`
	Seen    string `yaml:"seen"` // seen or memory
	Note    string `yaml:"note"`
}

// Term is one entry of the glossary.
type Term struct {
	Term string   `yaml:"term"`
	Also []string `yaml:"also"`
	Text string   `yaml:"text"`
	Unit string   `yaml:"unit"`
}

// Front is a page's front matter. Number is the identification number, fixed
// for good; Aliases are older addresses, kept so that old links still work.
type Front struct {
	Title       string   `yaml:"title"`
	Number      string   `yaml:"number"`
	Description string   `yaml:"description"`
	Aliases     []string `yaml:"aliases"`
	Passed      []Passed `yaml:"passed"`
}

// Passed answers a lint: words of the place, empty for all of the page, and the
// reason why it may stay.
type Passed struct {
	Lint    string `yaml:"lint"`
	At      string `yaml:"at"`
	Because string `yaml:"because"`
}

// HasWork tells whether the bibliography has the key.
func (c *Content) HasWork(key string) bool {
	_, ok := c.Work(key)
	return ok
}

// Work finds an entry of the bibliography.
func (c *Content) Work(key string) (Work, bool) {
	for _, w := range c.Works {
		if w.Key == key {
			return w, true
		}
	}
	return Work{}, false
}

// WorkKeys lists the keys of the bibliography.
func (c *Content) WorkKeys() []string {
	var out []string
	for _, w := range c.Works {
		out = append(out, w.Key)
	}
	return out
}

func (l *loader) strictYAML(name string, into any) {
	text, ok := l.read(name)
	if ok {
		l.decode(name, text, 0, into)
	}
}

// decode reads YAML strictly: a key that is not known is an error at its place.
func (l *loader) decode(name string, text []byte, base int, into any) bool {
	if len(bytes.TrimSpace(text)) == 0 {
		return true
	}
	err := yaml.NewDecoder(bytes.NewReader(text), yaml.Strict()).Decode(into)
	if err == nil {
		return true
	}
	var ye yaml.Error
	if !errors.As(err, &ye) || ye.GetToken() == nil {
		l.problem(name, base, base, "this YAML cannot be read: "+firstLine(err.Error()))
		return false
	}
	at := offsetOf(text, ye.GetToken().Position.Line, ye.GetToken().Position.Column)
	what := ye.GetMessage()
	if strings.Contains(what, "unknown field") {
		what = "the key " + quote(ye.GetToken().Value) + " is not known here"
	}
	l.problem(name, base+at, base+at+len(ye.GetToken().Value), what)
	return false
}

// offsetOf finds the byte of a line and a column that counts characters.
func offsetOf(text []byte, line, col int) int {
	at := 0
	for range line - 1 {
		i := bytes.IndexByte(text[at:], '\n')
		if i < 0 {
			return len(text)
		}
		at += i + 1
	}
	for i := range string(text[at:]) {
		if col--; col <= 0 {
			return at + i
		}
	}
	return at
}

func firstLine(s string) string {
	head, _, _ := strings.Cut(s, "\n")
	return head
}

// checkKeys looks for works and terms that stand twice or lack their text.
func (l *loader) checkKeys() {
	seen := map[string]bool{}
	for i, w := range l.c.Works {
		switch {
		case w.Key == "" || w.Title == "":
			l.problem("bibliography.yaml", 0, 0, "entry "+strconv.Itoa(i+1)+" lacks its key or its title")
		case seen[w.Key]:
			at := strings.LastIndex(string(l.c.Texts["bibliography.yaml"]), "key: "+w.Key)
			l.problem("bibliography.yaml", at+5, at+5+len(w.Key), "the key "+quote(w.Key)+" stands twice")
		case w.Seen != "seen" && w.Seen != "memory":
			at := strings.Index(string(l.c.Texts["bibliography.yaml"]), "key: "+w.Key)
			l.problem("bibliography.yaml", at+5, at+5+len(w.Key), "“seen” of "+quote(w.Key)+" is seen or memory")
		}
		seen[w.Key] = true
	}
	for _, t := range l.c.Terms {
		if t.Term == "" || t.Text == "" {
			l.problem("glossary.yaml", 0, 0, "a term lacks its name or its text: "+quote(t.Term+t.Text))
		}
	}
}

// front takes the front matter off a page: the body keeps its length, so that
// every later position is a position in the file.
func (l *loader) front(p *Page) bool {
	p.Body = bytes.Clone(p.Text)
	rest, ok := bytes.CutPrefix(p.Text, []byte("---\n"))
	if !ok {
		l.problem(p.File, 0, min(3, len(p.Text)), "a page starts with its front matter: a line ---, title: and number:, a line ---")
		return false
	}
	end := bytes.Index(append([]byte("\n"), rest...), []byte("\n---\n"))
	if end < 0 {
		l.problem(p.File, 0, 3, "the front matter has no closing line ---")
		return false
	}
	ok = l.decode(p.File, rest[:end], 4, &p.Front)
	for i := range 4 + end + 4 {
		if p.Body[i] != '\n' {
			p.Body[i] = ' '
		}
	}
	if ok && (p.Front.Title == "" || p.Front.Number == "") {
		l.problem(p.File, 0, 3, "the front matter wants title: and number:")
		ok = false
	}
	return ok
}
