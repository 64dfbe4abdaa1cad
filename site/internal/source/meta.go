package source

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"kerfbook/site/diag"
	"kerfbook/wasm/spell"
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

	// Of a chapter's first page only: the chapter in a word or two, and, where it
	// begins one, the part of the handbook.
	Name string `yaml:"name"`
	Part string `yaml:"part"`

	// Of a shop's page only: where it stands, in one of four ways.
	Chapter  string `yaml:"chapter"`  // new, at the end of this chapter
	Opens    bool   `yaml:"opens"`    // with chapter: makes that chapter, as its first page
	Replaces string `yaml:"replaces"` // in the place of the page with this address
	Before   string `yaml:"before"`   // set into a page: "address#anchor"
	After    string `yaml:"after"`
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
	at, what := readYAML(text, into)
	if what == "" {
		return true
	}
	end := at
	for end < len(text) && text[end] > ' ' && text[end] != ':' {
		end++
	}
	l.problem(diag.YAML, name, base+at, base+end, what)
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

// checkKeys holds the works of one bibliography: what lacks its text, what is of
// no known kind, what stands twice. dir is the folder that messages name.
func (l *loader) checkKeys(works []Work, dir string) {
	file := dir + "bibliography.yaml"
	kinds := []string{"standard", "book", "paper", "thesis", "dataset", "program", "regulation"}
	seen := map[string]bool{}
	if dir != "" {
		for _, w := range l.c.Works {
			seen[w.Key] = true
		}
	}
	for i, w := range works {
		say := func(what string) {
			at, end := valueAt(l.c.Texts[file], "key", w.Key)
			l.problem(diag.WorkEntry, file, at, end, what)
		}
		switch {
		case w.Key == "" || w.Title == "":
			l.problem(diag.WorkEntry, file, 0, 0, "entry "+strconv.Itoa(i+1)+" lacks its key or its title")
		case !publicWord(w.Key):
			say("a work's key is written with small letters, digits and hyphens, not " + spell.Quote(w.Key))
		case seen[w.Key] && dir != "":
			say("the key " + spell.Quote(w.Key) + " stands twice, or is a work's of the handbook: give yours another")
		case seen[w.Key]:
			say("the key " + spell.Quote(w.Key) + " stands twice")
		case !slices.Contains(kinds, w.Kind):
			say("“kind” of " + spell.Quote(w.Key) + " is one of " + strings.Join(kinds, ", ") + ", not " + spell.Quote(w.Kind))
		case w.Seen != "seen" && w.Seen != "memory":
			say("“seen” of " + spell.Quote(w.Key) + " is seen or memory")
		}
		seen[w.Key] = true
	}
}

// checkTerms is checkKeys for a glossary.
func (l *loader) checkTerms(terms []Term, dir string) {
	file := dir + "glossary.yaml"
	seen := map[string]bool{}
	if dir != "" {
		for _, t := range l.c.Terms {
			seen[slug(t.Term)] = true
		}
	}
	for _, t := range terms {
		say := func(what string) {
			at, end := valueAt(l.c.Texts[file], "term", t.Term)
			l.problem(diag.TermEntry, file, at, end, what)
		}
		switch {
		case t.Term == "" || t.Text == "":
			say("a term lacks its name or its text: " + spell.Quote(t.Term+t.Text))
		case seen[slug(t.Term)] && dir != "":
			say("the term " + spell.Quote(t.Term) + " stands twice, or is in the handbook's glossary: leave it out here")
		case seen[slug(t.Term)]:
			say("the term " + spell.Quote(t.Term) + " stands twice")
		}
		seen[slug(t.Term)] = true
	}
}

// front takes the front matter off a page: the body keeps its length, so that
// every later position is a position in the file.
func (l *loader) front(p *Page) bool {
	p.Body = bytes.Clone(p.Text)
	rest, ok := bytes.CutPrefix(p.Text, []byte("---\n"))
	if !ok {
		l.problem(diag.FrontMatter, p.File, 0, min(3, len(p.Text)), "a page starts with its front matter: a line ---, title: and number:, a line ---")
		return false
	}
	end := bytes.Index(p.Text[3:], []byte("\n---\n"))
	if end < 0 {
		l.problem(diag.FrontMatter, p.File, 0, 3, "the front matter has no closing line ---")
		return false
	}
	ok = l.decode(p.File, rest[:end], 4, &p.Front)
	for i := range 4 + end + 4 {
		if p.Body[i] != '\n' {
			p.Body[i] = ' '
		}
	}
	return ok
}

// own checks the front matter of one of the handbook's own pages.
func (l *loader) own(p *Page) bool {
	f := p.Front
	if f.Title == "" || f.Number == "" {
		l.problem(diag.FrontMatter, p.File, 0, 3, "the front matter wants title: and number:")
		return false
	}
	if f.Chapter+f.Replaces+f.Before+f.After != "" || f.Opens {
		l.problem(diag.FrontMatter, p.File, 0, 3, "chapter:, opens:, replaces:, before: and after: are for a shop's pages; a page of the handbook stands where its file is")
		return false
	}
	return true
}
