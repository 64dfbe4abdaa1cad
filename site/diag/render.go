package diag

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// Render writes the messages in the given order, each with its place, the line it is about and a mark
// under the place, then the closing line. List.Messages gives the order that people expect. pages is
// the number of pages looked at; 0 when pages were not what was looked at.
//
// A message about a file that src does not know is shown without line number and excerpt. Only the
// first line of a span is shown. The error is the writer's.
func Render(w io.Writer, list []Message, src Files, pages int) error {
	_, err := write(w, list, src, pages)
	return err
}

// write does it and returns how many bytes of the files it went over to find places.
func write(w io.Writer, list []Message, src Files, pages int) (passed int, err error) {
	out := bufio.NewWriter(w)
	var file string
	var at cursor
	var known bool
	for i, m := range list {
		if i == 0 || m.Span.File != file {
			file, known = m.Span.File, false
			if file != "" && src != nil {
				var text []byte
				text, known = src.Source(file)
				at = newCursor(text)
			}
		}
		if known {
			passed += at.move(m.Span.Start)
		}
		render(out, m, at, known)
	}
	fmt.Fprintln(out, closing(list, pages))
	return passed, out.Flush()
}

// Columns left of the bar: the line number is set to the right of gutter.
const gutter = 5

func render(out *bufio.Writer, m Message, at cursor, known bool) {
	place := visible(m.Span.File)
	if known {
		place += ":" + strconv.Itoa(at.line) + ":" + strconv.Itoa(at.col)
	}
	if place != "" {
		place += ": "
	}
	// A line break in a sentence is indented, so that no content can forge a message of its own.
	sentence := func(s, indent string) string {
		lines := strings.Split(strings.TrimRight(s, "\r\n"), "\n")
		for i := range lines {
			lines[i] = visible(strings.TrimSuffix(lines[i], "\r"))
		}
		return strings.Join(lines, "\n"+indent)
	}
	fmt.Fprintf(out, "%s%s: %s\n", place, m.Kind, sentence(m.Text, "        "))

	number := strconv.Itoa(at.line)
	margin := strings.Repeat(" ", max(gutter, len(number)))
	if known {
		line, mark := excerpt(at, m.Span.End)
		for _, row := range [...]string{
			margin[len(number):] + number + " | " + line,
			margin + " | " + mark,
		} {
			out.WriteString(strings.TrimRight(row, " "))
			out.WriteByte('\n')
		}
	} else {
		margin = strings.Repeat(" ", gutter)
	}
	for _, note := range m.Notes {
		fmt.Fprintf(out, "%s = %s\n", margin, sentence(note, margin+"   "))
	}
}
