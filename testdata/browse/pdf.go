package browse

import (
	"bytes"
	"compress/zlib"
	"io"
	"regexp"
	"strconv"
	"strings"
)

// Sheets reads what Chromium printed: the text of every page without its spaces,
// in the order in which it was drawn, and each page's size in points. It reads
// what that one printer writes and no other file.
func Sheets(pdf []byte) (texts []string, sizes [][2]float64) {
	objects := map[string][]byte{}
	for _, m := range regexp.MustCompile(`(?s)(\d+) 0 obj\n(.*?)\nendobj`).FindAllSubmatch(pdf, -1) {
		objects[string(m[1])] = m[2]
	}
	letters := map[string]map[int]string{} // by the object of a font
	for name, o := range objects {
		if ref := regexp.MustCompile(`/ToUnicode (\d+) 0 R`).FindSubmatch(o); ref != nil {
			letters[name] = readMap(stream(objects[string(ref[1])]))
		}
	}
	for _, m := range regexp.MustCompile(`(?s)(\d+) 0 obj\n(.*?)\nendobj`).FindAllSubmatch(pdf, -1) {
		if !regexp.MustCompile(`/Type /Page\b`).Match(m[2]) {
			continue
		}
		fonts := map[string]map[int]string{}
		for _, f := range regexp.MustCompile(`/(F\d+) (\d+) 0 R`).FindAllSubmatch(m[2], -1) {
			fonts[string(f[1])] = letters[string(f[2])]
		}
		size := [2]float64{}
		if box := regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`).FindSubmatch(m[2]); box != nil {
			size[0], _ = strconv.ParseFloat(string(box[1]), 64)
			size[1], _ = strconv.ParseFloat(string(box[2]), 64)
		}
		sizes = append(sizes, size)
		text := ""
		if ref := regexp.MustCompile(`/Contents (\d+) 0 R`).FindSubmatch(m[2]); ref != nil {
			text = readText(stream(objects[string(ref[1])]), fonts)
		}
		texts = append(texts, text)
	}
	return texts, sizes
}

// stream unpacks what stands between "stream" and "endstream".
func stream(object []byte) []byte {
	_, data, ok := bytes.Cut(object, []byte("stream\n"))
	if !ok {
		return nil
	}
	if !bytes.Contains(object, []byte("/FlateDecode")) {
		return data
	}
	r, err := zlib.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil
	}
	out, _ := io.ReadAll(r)
	return out
}

// readMap reads which glyph stands for which letters.
func readMap(text []byte) map[int]string {
	out := map[int]string{}
	number := func(b []byte) int { n, _ := strconv.ParseInt(string(b), 16, 32); return int(n) }
	letters := func(b []byte) string {
		var s strings.Builder
		for i := 0; i+4 <= len(b); i += 4 {
			s.WriteRune(rune(number(b[i : i+4])))
		}
		return s.String()
	}
	for _, part := range regexp.MustCompile(`(?s)beginbf(char|range)\n(.*?)endbf`).FindAllSubmatch(text, -1) {
		for _, line := range bytes.Split(part[2], []byte("\n")) {
			f := regexp.MustCompile(`<([0-9A-Fa-f]+)>`).FindAllSubmatch(line, -1)
			switch {
			case string(part[1]) == "char" && len(f) == 2:
				out[number(f[0][1])] = letters(f[1][1])
			case string(part[1]) == "range" && len(f) == 3:
				for i, low, first := 0, number(f[0][1]), number(f[2][1]); low+i <= number(f[1][1]); i++ {
					out[low+i] = string(rune(first + i))
				}
			}
		}
	}
	return out
}

// readText collects the letters that a page draws.
func readText(content []byte, fonts map[string]map[int]string) string {
	var out strings.Builder
	var font map[int]string
	for _, m := range regexp.MustCompile(`/(F\d+) [\d.]+ Tf|<([0-9A-Fa-f]+)>`).FindAllSubmatch(content, -1) {
		if len(m[1]) > 0 {
			font = fonts[string(m[1])]
			continue
		}
		for i := 0; i+4 <= len(m[2]); i += 4 {
			n, _ := strconv.ParseInt(string(m[2][i:i+4]), 16, 32)
			out.WriteString(font[int(n)])
		}
	}
	return strings.Join(strings.Fields(out.String()), "")
}
