package source

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"unicode"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/token"

	"kerfbook/wasm/spell"
)

// The most that is read as YAML, in bytes and in depth: settings, a list of works
// or of terms. Names for parts (&, *), tags (!) and keys of several lines (?) are
// refused: nothing here needs them, and they can make much out of little.
const (
	maxYAML      = 256 << 10
	maxYAMLDepth = 16
)

// readYAML decodes strictly. What is wrong comes back with its place; a fault of
// the decoder itself is a fault of the text for the person who wrote it.
func readYAML(text []byte, into any) (at int, what string) {
	defer func() {
		if r := recover(); r != nil {
			at, what = 0, "this cannot be read as YAML: compare it with the example's"
		}
	}()
	if len(text) > maxYAML {
		return 0, fmt.Sprintf("this YAML is larger than %d kB, so it was not read", maxYAML>>10)
	}
	if at, what = heldYAML(text); what != "" {
		return at, what
	}
	err := yaml.NewDecoder(bytes.NewReader(text), yaml.Strict()).Decode(into)
	if err == nil {
		if word := spoiled(reflect.ValueOf(into)); word != "" {
			return 0, "a word here holds a character that cannot be seen: " + spell.Quote(spell.Short(word, 40))
		}
		return 0, ""
	}
	var ye yaml.Error
	if !errors.As(err, &ye) || ye.GetToken() == nil || ye.GetToken().Position == nil {
		head, _, _ := strings.Cut(err.Error(), "\n")
		return 0, "this YAML cannot be read: " + head
	}
	t := ye.GetToken()
	at = offsetOf(text, t.Position.Line, t.Position.Column)
	what, _, _ = strings.Cut(ye.GetMessage(), "\n")
	switch {
	case strings.Contains(what, "unknown field"):
		what = "the key " + spell.Quote(spell.Short(t.Value, 40)) + " is not known here"
	case strings.Contains(what, "unmarshal"), strings.Contains(what, "was used where"):
		what = "a value of another kind is wanted here, not " + spell.Quote(spell.Short(t.Value, 40)) + ": a word, a number or a list, as in the example"
	}
	return at, what
}

// heldYAML looks at the words of the text before anything is built of them.
func heldYAML(text []byte) (at int, what string) {
	depth, line, entries := 0, 0, 0
	for _, t := range lexer.Tokenize(string(text)) {
		here := func() int { return offsetOf(text, t.Position.Line, t.Position.Column) }
		switch t.Type {
		case token.AnchorType, token.AliasType, token.MergeKeyType, token.TagType, token.MappingKeyType, token.DirectiveType:
			return here(), "the signs &, *, !, ?, % and << have a meaning of their own in YAML and are not used here: put the word in quotation marks"
		case token.SequenceStartType, token.MappingStartType:
			depth++
		case token.SequenceEndType, token.MappingEndType:
			depth--
		case token.SequenceEntryType:
			if t.Position.Line != line {
				line, entries = t.Position.Line, 0
			}
			entries++
		}
		if depth > maxYAMLDepth || entries > maxYAMLDepth {
			return here(), "this YAML is nested too deep"
		}
	}
	return 0, ""
}

// spoiled finds a string with a character that must not reach a terminal or a page.
func spoiled(v reflect.Value) string {
	switch v.Kind() {
	case reflect.String:
		if strings.IndexFunc(v.String(), spoils) >= 0 {
			return v.String()
		}
	case reflect.Pointer:
		if !v.IsNil() {
			return spoiled(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if s := spoiled(v.Field(i)); s != "" {
				return s
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			if s := spoiled(v.Index(i)); s != "" {
				return s
			}
		}
	}
	return ""
}

// spoils reports a character that drives a terminal, or that makes a line read as
// another one (the controls of direction).
func spoils(r rune) bool {
	switch {
	case r == '\n' || r == '\t' || r == '\r':
		return false
	case r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069:
		return true
	}
	return unicode.IsControl(r)
}

// plainLines takes the mark of the encoding off a text and ends its lines as we
// do, so that a page saved on any system reads alike.
func plainLines(text []byte) []byte {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if bytes.IndexByte(text, '\r') < 0 {
		return text
	}
	return bytes.ReplaceAll(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n")), []byte("\r"), []byte("\n"))
}

// keyAt finds a key that begins a line, rather one that is not indented; with none,
// the start of the text.
func keyAt(text []byte, key string) (start, end int) {
	for _, indented := range []bool{false, true} {
		for at := 0; at < len(text); {
			line, _, _ := bytes.Cut(text[at:], []byte("\n"))
			rest := line
			if indented {
				rest = bytes.TrimLeft(line, " ")
			}
			if bytes.HasPrefix(rest, []byte(key+":")) {
				start = at + len(line) - len(rest)
				return start, start + len(key)
			}
			at += len(line) + 1
		}
	}
	return 0, 0
}

// valueAt finds the last place where a key of a list has this value.
func valueAt(text []byte, key, value string) (start, end int) {
	for _, sign := range []string{"", "\"", "'"} {
		if i := bytes.LastIndex(text, []byte(key+": "+sign+value)); i >= 0 && value != "" {
			start = i + len(key) + 2 + len(sign)
			return start, start + len(value)
		}
	}
	return 0, 0
}

// itemAt finds a value in the list under a key; without it the key.
func itemAt(text []byte, key, value string) (start, end int) {
	start, end = keyAt(text, key)
	if i := bytes.Index(text[end:], []byte(value)); i >= 0 && value != "" && end > 0 {
		return end + i, end + i + len(value)
	}
	return start, end
}
