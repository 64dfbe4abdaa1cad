package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestWorkProfile: a drawing from a file, its answers by name, and what can be
// carried away. The leftover of the notch is a closed form.
func TestWorkProfile(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "notch.txt")
	if err := os.WriteFile(file, []byte("M0 0V10H7.1132486540518708L10 5L12.886751345948129 10H20V0Z"), 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, said := work("profile", "drawing="+file, "unit=mm", "side=punch", "reach=0.15 mm", "--json", "--save", filepath.Join(dir, "out"))
	if code != 0 {
		t.Fatalf("exit %d: %s", code, said)
	}
	var got struct {
		Values map[string]struct{ Likely any }
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]float64{"leftover-area": 0.0154091982684, "leftover-pieces": 1, "path-length": 66.5105245111, "path-parts": 1, "smallest-included-angle": 60} {
		if v, _ := got.Values[name].Likely.(float64); v < want*(1-1e-5) || v > want*(1+1e-5) {
			t.Errorf("%s is %.12g, %.12g is wanted", name, v, want)
		}
	}
	for _, name := range []string{"contours.svg", "contours.dxf", "paths.txt", "findings.csv", "findings.json"} {
		text, err := os.ReadFile(filepath.Join(dir, "out", name))
		if err != nil || len(text) < 20 {
			t.Errorf("%s: %d bytes, %v", name, len(text), err)
		}
	}
	// A drawing without a unit is asked about, never guessed.
	code, _, said = work("profile", "drawing="+file, "side=punch")
	if code != 1 || !strings.Contains(said, "does not say its unit: choose mm or in. It is 20 by 10 units wide and high") {
		t.Errorf("exit %d: %q", code, said)
	}
	if code, _, _ := work("profile", "drawing="+filepath.Join(dir, "none")); code == 0 {
		t.Error("a file that is not there is read")
	}
}

// TestWorkInline: a drawing on the command line is read as text when it is one; a
// name that is no file is said once and short.
func TestWorkInline(t *testing.T) {
	dxf := "0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n10\n0\n20\n0\n40\n1\n0\nENDSEC\n0\nEOF\n"
	for name, text := range map[string]string{
		"DXF":                    dxf,
		"DXF without a last end": strings.TrimSuffix(dxf, "\n"),
		"SVG":                    `<svg><circle r="1"/></svg>`,
		"path data":              "M1 0A1 1 0 0 1 -1 0A1 1 0 0 1 1 0Z",
	} {
		code, out, said := work("profile", "drawing="+text, "unit=mm", "side=opening", "reach=0.1 mm", "--json")
		var got struct {
			Values map[string]struct{ Likely any }
		}
		if code != 0 {
			t.Errorf("%s: exit %d: %s", name, code, said)
			continue
		}
		if err := json.Unmarshal([]byte(out), &got); err != nil {
			t.Fatal(err)
		}
		if v, _ := got.Values["slug-area"].Likely.(float64); v < 3.14159 || v > 3.1416 {
			t.Errorf("%s: the slug has %g mm², π is wanted", name, v)
		}
	}
	for _, value := range []string{"nowhere/part.dxf", strings.Repeat("0 SECTION 2 ENTITIES ", 5_000), "Mould.dxf", "M0"} {
		code, _, said := work("profile", "drawing="+value)
		if code != 1 || len(said) > 400 || !strings.Contains(said, "Write drawing=FILE, or the text itself") {
			t.Errorf("exit %d: %.300q", code, said)
		}
	}
}
