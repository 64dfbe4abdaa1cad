package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// command runs kerfbook as a person would, in the project's folder.
func command(args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = run(args, &o, &e)
	return code, o.String(), e.String()
}

func work(args ...string) (int, string, string) {
	return command(append([]string{"work", "--content", "../../content"}, args...)...)
}

// TestWorkCorner: three thousandths at most, with the wires that a shop would
// try. Plane geometry, and exact.
func TestWorkCorner(t *testing.T) {
	for _, c := range []struct{ wire, gap, head, lead string }{
		{"10 thou", "0.5 to 20 µm", "No, not with ⌀ 0.254 mm", "Half of this wire is already 0.127 mm: it fails at every gap above zero."},
		{"6 thou", "0.5 to 20 µm", "No, not with ⌀ 0.152 mm", "Half of this wire is already 0.0762 mm: it fails at every gap above zero."},
		{"5 thou", "3 to 10 µm", "Yes, with ⌀ 0.127 mm", "It leaves R 0.07 mm (0.0665 to 0.0735). Works up to a gap of 12.7 µm a side."},
		{"5 thou", "10 to 15 µm", "Only if the gap stays at 12.7 µm or less", "It leaves R 0.076 mm (0.0735 to 0.0785)."},
		{"4 thou", "2 to 6 µm", "Yes, with ⌀ 0.102 mm", "It leaves R 0.0548 mm (0.0528 to 0.0568)."},
		{"20 µm", "1 to 3 µm", "Yes, with ⌀ 0.02 mm", "It leaves R 0.012 mm (0.011 to 0.013)."},
	} {
		code, out, errs := work("corner", "radius=3 thou", "wire="+c.wire, "gap="+c.gap)
		lines := strings.Split(out, "\n")
		if code != 0 || errs != "" || lines[0] != c.head || !strings.Contains(lines[1], c.lead) {
			t.Errorf("%s at %s: exit %d, %q, %q, %s", c.wire, c.gap, code, lines[0], lines[1], errs)
		}
	}
	_, out, _ := work("corner", "radius=3 thou", "wire=5 thou", "gap=10 to 15 µm", "rough-gap=15 µm", "left=20 µm")
	if !strings.Contains(out, "Roughing with even stock does not fit: it needs R 0.0985 mm, the print allows 0.0762 mm.") {
		t.Error("roughing at 15 µm with 20 µm left is not refused")
	}
}

// TestWorkWords: the words of the print decide.
func TestWorkWords(t *testing.T) {
	for _, c := range []struct {
		args []string
		head string
	}{
		{[]string{"asks=sharp", "wire=0.1 mm", "gap=3 to 6 µm"}, "No wire cuts it sharp"},
		{[]string{"asks=plus-minus", "radius=0.06 ±0.01 mm", "wire=0.1 mm", "gap=3 to 6 µm"}, "Yes, with ⌀ 0.10 mm"},
		{[]string{"asks=plus-minus", "radius=0.06 ±0.01 mm", "wire=0.1 mm", "gap=8 to 12 µm"}, "Only if R is programmed at 0.062 mm or more"},
		{[]string{"asks=plus-minus", "radius=0.06 ±0.01 mm", "wire=0.1 mm", "gap=18 to 25 µm"}, "Only if the gap stays at 20 µm or less"},
		{[]string{"asks=minimum", "radius=0.2 mm", "wire=0.25 mm"}, "Yes, with ⌀ 0.25 mm"},
		{[]string{"asks=minimum", "radius=0.2 mm", "wire=0.25 mm", "slot=0.2 mm"}, "No, not with ⌀ 0.25 mm"},
		{[]string{"radius=0.2 mm", "wire=0.1 mm", "slot=0.12 mm", "gap=8 to 12 µm"}, "Only if the gap stays at 10 µm or less"},
	} {
		_, out, errs := work(append([]string{"corner"}, c.args...)...)
		if head, _, _ := strings.Cut(out, "\n"); head != c.head {
			t.Errorf("%v: %q %s", c.args, head, errs)
		}
	}
}

func TestWorkJSON(t *testing.T) {
	code, out, _ := work("corner", "radius=3 thou", "wire=5 thou", "gap=3 to 10 µm", "--json")
	var got struct {
		Understood map[string]string
		Verdict    string
		Values     map[string]struct {
			Likely, Low, High any
			Unit, Text        string
		}
		Rows, Notes, Cautions []string
		Problems              []any
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != 0 {
		t.Fatalf("exit %d: %v", code, err)
	}
	r := got.Values["radius-left"]
	if r.Low != 0.0665 || r.High != 0.0735 || r.Unit != "mm" || r.Text != "0.07 mm (0.0665 to 0.0735)" || got.Verdict != "Yes" || got.Understood["radius"] != "3 thou" || got.Problems == nil {
		t.Errorf("%+v", got)
	}
}

// TestExits: a refused input is 1, "cannot be cut" is an answer and 0, a wrong
// command is 2.
func TestExits(t *testing.T) {
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"work", "--content", "../../content", "corner", "radius=three"}, 1, "radius: “three” does not start with a number; write a number and mm, µm, thou, tenths or in, for example 3 thou\n"},
		{[]string{"work", "--content", "../../content", "corner", "radius=3"}, 1, "radius: “3” has no unit; write a number and mm, µm, thou, tenths or in, for example 3 thou\n"},
		{[]string{"work", "--content", "../../content", "corner", "raduis=3 mm"}, 1, "corner: there is no field \"raduis\"; did you mean \"radius\"?\n"},
		{[]string{"work", "--content", "../../content", "corner", "radius"}, 1, "kerfbook: an input is name=value, for example radius=\"3 thou\"; this is \"radius\"\n"},
		{[]string{"work", "--content", "../../content", "cornr"}, 1, "kerfbook: there is no calculator cornr; did you mean corner?\n"},
		{[]string{"work", "--content", "../../content", "corner", "radius=2 thou", "wire=10 thou"}, 0, ""},
		{[]string{"work", "--content", "nowhere", "corner"}, 1, "kerfbook: there are no tables in"},
		{[]string{"dance"}, 2, "kerfbook: "},
		{[]string{"--help"}, 0, ""},
		{[]string{"check", "--content", "../../content"}, 0, ""},
		{[]string{"publish", "--content", "../../content", "--to", "../.."}, 1, "kerfbook: "},
	} {
		code, _, errs := command(c.args...)
		if code != c.code || !strings.HasPrefix(errs, c.says) || c.code == 0 && errs != "" {
			t.Errorf("%v: exit %d, %q", c.args, code, errs)
		}
	}
}

// TestLadderCounts: an inch reader, and a plan read backwards.
func TestWorkLadder(t *testing.T) {
	_, out, _ := work("ladder", "wire=0.25 mm", "gap-1=30 µm", "gap-2=15 µm", "gap-3=8 µm", "gap-4=5 µm", "left-1=66 µm", "left-2=16 µm", "left-3=4 µm", "--inch")
	if !strings.Contains(out, "8.70 thou") {
		t.Errorf("no offset in thou:\n%s", out)
	}
	_, out, _ = work("ladder", "direction=read-back", "wire=0.2 mm", "passes=3", "gap-1=30 µm", "gap-2=12 µm", "gap-3=6 µm", "offset-1=0.18 mm", "offset-2=0.122 mm", "offset-3=0.117 mm")
	if !strings.HasPrefix(out, "No: in pass 3 a skim takes nothing\n") {
		t.Errorf("a skim that takes less than nothing is not named:\n%s", out[:200])
	}
	_, out, _ = work("ladder", "direction=read-back", "wire=0.2 mm", "passes=2", "gap-1=30 µm", "gap-2=12 µm", "offset-1=0.18 mm", "offset-2=0.19 mm")
	if !strings.HasPrefix(out, "No: in pass 2 the offsets do not fall\n") {
		t.Errorf("rising offsets are not named:\n%s", out[:200])
	}
	code, _, errs := work("ladder", "passes=2", "gap-1=10 µm", "gap-2=20 µm")
	if code != 1 || !strings.Contains(errs, "the gap of pass 2 is above the gap of pass 1") {
		t.Errorf("exit %d, %s", code, errs)
	}
}

// TestBadContentKeepsTheOldEdition: a publication that fails leaves what stands.
func TestBadContentKeepsTheOldEdition(t *testing.T) {
	dir := t.TempDir()
	root := filepath.Join(dir, "handbook")
	if err := os.CopyFS(filepath.Join(root, "content"), os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(dir, "published")
	// The copy has no Go module beside it; the calculators are compiled from ours.
	old := filepath.Join(to, "edition.json")
	if code, _, errs := command("publish", "--content", "../../content", "--to", to); code != 0 {
		t.Fatal(errs)
	}
	before, err := os.ReadFile(old)
	if err != nil {
		t.Fatal(err)
	}
	page := filepath.Join(root, "content", "handbook", "70-passes", "index.md")
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(page, bytes.Replace(text, []byte("offset-4 ≈ 0.13 mm"), []byte("offset-4 ≈ 0.0721 mm"), 1), 0o644); err != nil {
		t.Fatal(err)
	}
	code, _, errs := command("publish", "--content", filepath.Join(root, "content"), "--to", to)
	want := "error: the worked example gives 0.1300 mm, the page says 0.0721 mm\n"
	if code != 1 || !strings.Contains(errs, want) || !strings.Contains(errs, "| offset-4 ≈ 0.0721 mm\n") || !strings.Contains(errs, "= offset of pass 4 of “ladder”: d/2 + gap + stock left = 0.25 mm / 2 + 0.005 mm + 0 mm\n") ||
		!strings.HasSuffix(errs, "nothing was published; "+to+" is as it was\n") {
		t.Errorf("exit %d\n%s", code, errs)
	}
	after, err := os.ReadFile(old)
	if err != nil || !bytes.Equal(before, after) {
		t.Errorf("the old edition changed: %v", err)
	}
}

// TestPreview: it answers this computer only, shows a save within a moment, and
// keeps the last good edition when a page is faulty.
func TestPreview(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	out := &lines{got: make(chan string, 100)}
	ended := make(chan error, 1)
	p := &previewCmd{Content: dir, wasm: []byte("a page needs no calculators to be refreshed")}
	go func() { ended <- p.Run(ctx, &streams{out: out, err: out}) }()
	address := ""
	for address == "" {
		select {
		case line := <-out.got:
			if _, rest, ok := strings.Cut(line, "preview at "); ok {
				address, _, _ = strings.Cut(rest, " ;")
			}
		case <-time.After(patience):
			t.Fatal("no preview")
		}
	}
	get := func(host string) (int, string, http.Header) {
		req, _ := http.NewRequest(http.MethodGet, address, nil)
		if host != "" {
			req.Host = host
		}
		resp, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		defer resp.Body.Close()
		body, _ := io.ReadAll(resp.Body)
		return resp.StatusCode, string(body), resp.Header
	}
	if code, body, head := get(""); code != 200 || !strings.Contains(body, "Can this corner be cut") || head.Get("Content-Security-Policy") != policy {
		t.Errorf("%d %v", code, head)
	}
	if code, _, _ := get("evil.example:80"); code != http.StatusForbidden {
		t.Errorf("another host is answered: %d", code)
	}
	events, err := http.Get(address + "preview-events")
	if err != nil {
		t.Fatal(err)
	}
	defer events.Body.Close()
	page := filepath.Join(dir, "first.md")
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(page, bytes.Replace(text, []byte("Can this corner be cut"), []byte("Is this corner to be cut"), 1), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := io.ReadAll(events.Body); err != nil {
		t.Fatal(err)
	}
	if _, body, _ := get(""); !strings.Contains(body, "Is this corner to be cut") {
		t.Error("the save is not shown")
	}
	if err := os.WriteFile(page, []byte("no front matter"), 0o644); err != nil {
		t.Fatal(err)
	}
	for line := ""; !strings.Contains(line, "nothing was published"); {
		select {
		case line = <-out.got:
		case <-time.After(patience):
			t.Fatal("the faulty page is not told")
		}
	}
	if _, body, _ := get(""); !strings.Contains(body, "Is this corner to be cut") {
		t.Error("a faulty page took the good edition away")
	}
	cancel()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// patience is how long a test waits for what has to come, on the busiest machine.
const patience = 5 * time.Minute

// BenchmarkPreview measures from the save of a page of the real handbook to the
// sign that tells the browser to load it anew.
func BenchmarkPreview(b *testing.B) {
	dir := b.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../content")); err != nil {
		b.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	out := &lines{got: make(chan string, 10_000)}
	ended := make(chan error, 1)
	p := &previewCmd{Content: dir, Memory: b.TempDir(), wasm: wasmBytes(b)}
	go func() { ended <- p.Run(ctx, &streams{out: out, err: out}) }()
	address := ""
	for address == "" {
		if _, rest, ok := strings.Cut(<-out.got, "preview at "); ok {
			address, _, _ = strings.Cut(rest, " ;")
		}
	}
	page := filepath.Join(dir, "first.md")
	text, err := os.ReadFile(page)
	if err != nil {
		b.Fatal(err)
	}
	least := time.Hour
	for n := 0; b.Loop(); n++ {
		events, err := http.Get(address + "preview-events")
		if err != nil {
			b.Fatal(err)
		}
		begin := time.Now()
		if err := os.WriteFile(page, fmt.Appendf(nil, "%s\nAnother %d.\n", text, n), 0o644); err != nil {
			b.Fatal(err)
		}
		if _, err := io.ReadAll(events.Body); err != nil {
			b.Fatal(err)
		}
		least = min(least, time.Since(begin))
		events.Body.Close()
	}
	b.ReportMetric(float64(least.Milliseconds()), "least-ms")
	cancel()
	if err := <-ended; err != nil {
		b.Fatal(err)
	}
}

// lines hands on what is written.
type lines struct{ got chan string }

func (l *lines) Write(b []byte) (int, error) {
	l.got <- string(b)
	return len(b), nil
}
