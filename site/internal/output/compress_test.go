package output

import (
	"bytes"
	"compress/gzip"
	"io"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
)

func TestCompress(t *testing.T) {
	content := tree{
		"page.html": strings.Repeat("<p>Which offset for each pass?</p>\n", 50),
		"tiny.css":  "a{}",
		"mark.png":  strings.Repeat("x", 1000), // by its name, a picture
		Record:      `{"kerfbook": 1, "files": ["mark.png", "page.html", "tiny.css"], "digest": "` + strings.Repeat("0", 200) + `"}`,
	}
	dir := newPlace(t)
	must(t, publish(Disk(), dir, content, Options{Compress: true}))
	first := read(t, dir)
	if got, want := slices.Sorted(maps.Keys(first)), []string{
		"edition.json", "edition.json.br", "edition.json.gz", "mark.png", "page.html", "page.html.br", "page.html.gz", "tiny.css",
	}; !slices.Equal(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
	for name, text := range content {
		if first[name] != text {
			t.Errorf("%s: %q", name, first[name])
		}
	}
	for _, name := range []string{"page.html", Record} {
		z, err := gzip.NewReader(strings.NewReader(first[name+".gz"]))
		must(t, err)
		plain, err := io.ReadAll(z)
		must(t, err)
		if string(plain) != content[name] {
			t.Errorf("%s.gz holds %q", name, plain)
		}
		plain, err = io.ReadAll(brotli.NewReader(strings.NewReader(first[name+".br"])))
		must(t, err)
		if string(plain) != content[name] {
			t.Errorf("%s.br holds %q", name, plain)
		}
	}
	// RFC 1952, 2.3.1: no flags, so no name; time 0; slowest compression; unknown system.
	if head := []byte(first["page.html.gz"])[:10]; !bytes.Equal(head, []byte{0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 2, 255}) {
		t.Errorf("head % x", head)
	}
	// An edition with copies can be replaced, and the same input gives the same bytes.
	must(t, publish(Disk(), dir, content, Options{Compress: true}))
	holds(t, dir, first)
	must(t, publish(Disk(), dir, content, Options{}))
	holds(t, dir, content)
}
