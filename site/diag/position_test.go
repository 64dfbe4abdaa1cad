package diag

import (
	"strings"
	"testing"
	"unicode/utf8"
)

func TestPosition(t *testing.T) {
	tests := []struct {
		text              string
		offset, line, col int
	}{
		{"", 0, 1, 1},
		{"abc", 0, 1, 1},
		{"abc", 2, 1, 3},
		{"abc", 3, 1, 4},
		{"abc", 99, 1, 4},
		{"abc", -1, 1, 1},
		{"a\nb", 1, 1, 2},
		{"a\nb", 2, 2, 1},
		{"a\n", 2, 2, 1},
		{"a\r\nb", 3, 2, 1},
		{"\ta", 1, 1, 2},
		{"≈ 3", 3, 1, 2},
		{"≈ 3", 1, 1, 1}, // inside ≈
		{"≈ 3", 2, 1, 1},
		{"a𝛑b", 4, 1, 2}, // inside 𝛑
		{"a𝛑b", 5, 1, 3},
		{"\xff\xffa", 2, 1, 3},
		{"a\x80b", 2, 1, 3}, // a stray continuation byte is a character of its own
		{"\ufeffab", 0, 1, 1},
		{"\ufeffab", 3, 1, 1},
		{"\ufeffab", 4, 1, 2},
		{"\ufeffa\nb", 5, 2, 1},
	}
	for _, tt := range tests {
		line, col := Position([]byte(tt.text), tt.offset)
		if line != tt.line || col != tt.col {
			t.Errorf("Position(%q, %d) = %d, %d; want %d, %d", tt.text, tt.offset, line, col, tt.line, tt.col)
		}
	}
}

// A cursor that moved step by step, forwards or back, stands where a fresh one would.
func TestCursorAgreesWithPosition(t *testing.T) {
	text := []byte("\ufeffé\n\n線\xff\r\na𝛑\n")
	forth := newCursor(text)
	for i := range len(text) + 1 {
		forth.move(i)
		back := newCursor(text)
		back.move(len(text))
		back.move(i)
		line, col := Position(text, i)
		if forth.line != line || forth.col != col || back.line != line || back.col != col {
			t.Errorf("offset %d: forwards %+v, back %+v, fresh %d:%d", i, forth, back, line, col)
		}
	}
}

// A naive count, decoding from the head for each offset.
func FuzzPosition(f *testing.F) {
	f.Add([]byte("a\n≈\xffb"), 3)
	f.Fuzz(func(t *testing.T, text []byte, offset int) {
		line, col := Position(text, offset)
		wantLine, wantCol := 1, 1
		for i := 0; i < len(text); {
			r, size := utf8.DecodeRune(text[i:])
			if i+size > offset {
				break
			}
			switch {
			case i == 0 && r == '\ufeff':
			case r == '\n':
				wantLine, wantCol = wantLine+1, 1
			default:
				wantCol++
			}
			i += size
		}
		if line != wantLine || col != wantCol {
			t.Errorf("Position(%q, %d) = %d:%d, want %d:%d", text, offset, line, col, wantLine, wantCol)
		}
		var b strings.Builder
		if err := Render(&b, []Message{{Span: Span{"a", offset, offset + 5}}}, SourceMap{"a": text}, 0); err != nil {
			t.Error(err)
		}
		for _, r := range b.String() {
			if r != '\n' && r != '\t' && !harmless(r) {
				t.Errorf("%q reaches the terminal", r)
			}
		}
	})
}
