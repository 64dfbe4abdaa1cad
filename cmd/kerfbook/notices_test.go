package main

import (
	"bytes"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"kerfbook/site"
)

// TestNotices: every module that the command links has its licence text, Go's
// own stands first, and a packed program prints what it carries.
func TestNotices(t *testing.T) {
	text, err := site.Notices(t.Context(), "../..")
	if err != nil {
		t.Fatal(err)
	}
	license, err := os.ReadFile(strings.TrimSpace(strings.Join(goEnv(t, "GOROOT"), " ")) + "/LICENSE")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(text, "==== Go, its runtime and its library\n\n"+strings.TrimSpace(string(license))) {
		t.Error("Go's own licence does not stand first")
	}
	parts := map[string]string{}
	for part := range strings.SplitSeq(text, "==== ") {
		name, rest, _ := strings.Cut(part, "\n")
		parts[name] = rest
	}
	for _, goos := range []string{"linux", "windows", "darwin"} {
		// The wasm links none (TestBrowserImports).
		for _, m := range goList(t, []string{"GOOS=" + goos}, "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}@{{.Version}}{{end}}{{end}}", "./cmd/kerfbook") {
			if got := parts[strings.Replace(m, "@", " ", 1)]; !strings.Contains(got, "opyright") {
				t.Errorf("%s on %s has no licence text: %q", m, goos, got)
			}
		}
	}
	var out bytes.Buffer
	if err := new(noticesCmd).Run(t.Context(), &streams{out: &out, inside: &carried{notices: "what is inside"}}); err != nil || out.String() != "what is inside" {
		t.Errorf("a packed program prints %q, %v", out.String(), err)
	}
}

func goEnv(t *testing.T, name string) []string {
	t.Helper()
	return goRun(t, nil, "env", name)
}

// TestModuleList: what a built program is linked of has the digests of go.sum.
func TestModuleList(t *testing.T) {
	name := filepath.Join(t.TempDir(), "kerfbook")
	goRun(t, nil, "build", "-o", name, "./cmd/kerfbook")
	list, err := moduleList(name)
	if err != nil {
		t.Fatal(err)
	}
	sums, err := os.ReadFile("../../go.sum")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(list), "\n")
	if want := "go " + strings.TrimPrefix(runtime.Version(), "go"); lines[0] != want {
		t.Errorf("first line %q, want %q", lines[0], want)
	}
	want := goList(t, nil, "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}{{end}}{{end}}", "./cmd/kerfbook")
	slices.Sort(want)
	want = slices.Compact(want)
	var have []string
	for _, line := range lines[1:] {
		line = strings.TrimSpace(line)
		have = append(have, strings.Fields(line)[0])
		if !strings.Contains("\n"+string(sums), "\n"+line+"\n") {
			t.Errorf("%q is no line of go.sum", line)
		}
	}
	if !slices.Equal(have, want) {
		t.Errorf("modules %v, want %v", have, want)
	}
	if _, err := moduleList("../../go.sum"); err == nil {
		t.Error("a file that is no program has modules")
	}
}
