package main

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// goList runs the toolchain's own view of the imports.
func goList(t *testing.T, env []string, args ...string) []string {
	t.Helper()
	return goRun(t, env, append([]string{"list"}, args...)...)
}

// goRun runs the toolchain and returns the words that it prints.
func goRun(t *testing.T, env []string, args ...string) []string {
	t.Helper()
	cmd := exec.Command("go", args...)
	cmd.Dir = "../.."
	cmd.Env = append(cmd.Environ(), env...)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go %v: %v", args, err)
	}
	return strings.Fields(string(out))
}

func wasip1() []string { return []string{"GOOS=wasip1", "GOARCH=wasm"} }

// TestBrowserImports: what runs in the browser stays small and knows no file,
// no clock and no network.
func TestBrowserImports(t *testing.T) {
	deps := goList(t, wasip1(), "-deps", "./wasm")
	for _, banned := range []string{"os", "net", "time", "reflect", "fmt", "math/big", "math/rand", "encoding/json", "html/template"} {
		if slices.Contains(deps, banned) {
			t.Errorf("wasm reaches %s", banned)
		}
	}
	for _, d := range deps {
		if first, _, _ := strings.Cut(d, "/"); strings.Contains(first, ".") || first == "kerfbook" && !strings.HasPrefix(d, "kerfbook/wasm") {
			t.Errorf("wasm reaches %s, which is neither the standard library nor wasm", d)
		}
	}
}

// TestWhoImportsWhom: the import table of DEVELOPERS.md.
func TestWhoImportsWhom(t *testing.T) {
	table := []struct {
		who  string // package or, with a trailing slash, everything below it
		may  []string
		only []string // the only ones of ours that may import "who"
	}{
		{who: "kerfbook/wasm/unit", may: []string{"kerfbook/wasm/spell"}},
		{who: "kerfbook/wasm/spell", may: []string{}},
		{who: "kerfbook/wasm/laws", may: []string{"kerfbook/wasm/book", "kerfbook/wasm/unit"}},
		{who: "kerfbook/wasm/rules", may: []string{"kerfbook/wasm/book", "kerfbook/wasm/spell", "kerfbook/wasm/unit"}},
		{who: "kerfbook/wasm/figure", may: []string{}},
		{who: "kerfbook/wasm/geom", may: []string{}},
		{who: "kerfbook/wasm/fit", may: []string{}},
		{who: "kerfbook/wasm/drawing", may: []string{"kerfbook/wasm/geom", "kerfbook/wasm/spell"}},
		{who: "kerfbook/wasm/process", may: []string{"kerfbook/wasm/fit", "kerfbook/wasm/unit"}},
		{who: "kerfbook/wasm/offset", may: []string{"kerfbook/wasm/geom"}},
		{who: "kerfbook/wasm/book", may: []string{"kerfbook/wasm/spell", "kerfbook/wasm/unit"}},
		{who: "kerfbook/wasm/calc", may: []string{"kerfbook/wasm/book", "kerfbook/wasm/figure", "kerfbook/wasm/process", "kerfbook/wasm/spell", "kerfbook/wasm/unit"}},
		{who: "kerfbook/wasm/panel", may: []string{"kerfbook/wasm/book", "kerfbook/wasm/calc", "kerfbook/wasm/figure", "kerfbook/wasm/unit"}},
		{who: "kerfbook/wasm/calc/job", only: []string{"kerfbook/wasm/catalog", "kerfbook/cmd/"}},
		{who: "kerfbook/wasm/catalog", only: []string{"kerfbook/wasm", "kerfbook/cmd/"}},
		{who: "kerfbook/testdata/near", may: []string{}, only: []string{}}, // in tests alone, which are not listed here
		{who: "kerfbook/content", may: []string{}, only: []string{"kerfbook/cmd/kerfbook"}},
		{who: "kerfbook/testdata", may: []string{}, only: []string{"kerfbook/cmd/kerfbook"}},
		{who: "kerfbook/site/diag", may: []string{"kerfbook/wasm/spell"}},
		{who: "kerfbook/site/record", may: []string{"kerfbook/wasm/spell"}, only: []string{"kerfbook/site", "kerfbook/cmd/"}},
		{who: "kerfbook/site/internal/picture", may: []string{"kerfbook/wasm/figure"}, only: []string{"kerfbook/site/internal/check"}},
		{who: "kerfbook/site/internal/output", may: []string{}, only: []string{"kerfbook/site"}},
		{who: "github.com/evanw/esbuild/pkg/api", only: []string{"kerfbook/site/internal/bundle"}},
		{who: "github.com/alecthomas/chroma/v2", only: []string{"kerfbook/site/internal/words"}},
		{who: "github.com/yuin/goldmark", only: []string{"kerfbook/site/internal/source", "kerfbook/site/internal/check", "kerfbook/site/internal/render"}},
		{who: "github.com/yuin/goldmark/ast", only: []string{"kerfbook/site/internal/source", "kerfbook/site/internal/check", "kerfbook/site/internal/render"}},
		{who: "github.com/goccy/go-yaml", only: []string{"kerfbook/site/internal/source"}},
	}
	imports := map[string][]string{}
	lines := goList(t, nil, "-f", `{{.ImportPath}}={{join .Imports ","}}`, "./...")
	lines = append(lines, goList(t, wasip1(), "-f", `{{.ImportPath}}={{join .Imports ","}}`, "./wasm")...)
	// A packed program imports more; -e, since its calculators are laid there by `kerfbook pack` only.
	lines = append(lines, goList(t, nil, "-e", "-tags", "packed", "-f", `{{.ImportPath}}={{join .Imports ","}}`, "./cmd/kerfbook", "./testdata")...)
	for _, line := range lines {
		who, what, _ := strings.Cut(line, "=")
		imports[who] = strings.Split(what, ",")
	}
	matches := func(pattern, name string) bool {
		return pattern == name || strings.HasSuffix(pattern, "/") && strings.HasPrefix(name, pattern)
	}
	ours := func(name string) bool { return strings.HasPrefix(name, "kerfbook/") }
	for _, rule := range table {
		for who, what := range imports {
			for _, imp := range what {
				if rule.may != nil && who == rule.who && ours(imp) && !slices.Contains(rule.may, imp) {
					t.Errorf("%s may not import %s", who, imp)
				}
				if rule.only != nil && imp == rule.who && !slices.ContainsFunc(rule.only, func(p string) bool { return matches(p, who) }) {
					t.Errorf("%s may not import %s", who, imp)
				}
			}
		}
	}
	for who, what := range imports {
		for _, imp := range what {
			switch {
			case strings.HasPrefix(who, "kerfbook/wasm") && ours(imp) && !strings.HasPrefix(imp, "kerfbook/wasm"):
				t.Errorf("%s may not import %s: wasm knows only itself", who, imp)
			case strings.HasPrefix(who, "kerfbook/wasm/calc/") && strings.HasPrefix(imp, "kerfbook/wasm/panel"):
				t.Errorf("%s may not import %s: a topic says nothing about markup", who, imp)
			case strings.HasPrefix(who, "kerfbook/site") && strings.HasPrefix(imp, "kerfbook/cmd"):
				t.Errorf("%s may not import %s", who, imp)
			}
		}
	}
}

// TestTopics: a topic imports no other topic. What several topics use stands in a
// package below them.
func TestTopics(t *testing.T) {
	const calc = "kerfbook/wasm/calc/"
	below := strings.Fields("book calc drawing figure fit geom laws offset process rules spell unit")
	// still are topics that import others all the same. The list may only shrink.
	still := []struct{ who, what, why string }{
		{"job", "bow corner rate slot slug start taper wire", "the job sheet decides by the formulas of its topics, so that it says what their calculators say"},
	}
	needed := map[string]bool{}
	for _, line := range goList(t, nil, "-f", `{{.ImportPath}}={{join .Imports ","}}`, "./wasm/calc/...") {
		who, what, _ := strings.Cut(line, "=")
		topic, is := strings.CutPrefix(who, calc)
		if !is {
			continue
		}
		for _, imp := range strings.Split(what, ",") {
			name, ours := strings.CutPrefix(imp, "kerfbook/wasm/")
			if !ours || slices.Contains(below, name) {
				continue
			}
			other, _ := strings.CutPrefix(imp, calc)
			allowed := false
			for _, s := range still {
				allowed = allowed || s.who == topic && slices.Contains(strings.Fields(s.what), other)
			}
			if needed[topic+" "+other] = true; !allowed {
				t.Errorf("the topic %s may not import %s", topic, imp)
			}
		}
	}
	for _, s := range still {
		if s.why == "" {
			t.Errorf("%s imports topics without a reason", s.who)
		}
		for _, other := range strings.Fields(s.what) {
			if !needed[s.who+" "+other] {
				t.Errorf("%s no longer imports %s: take it off the list", s.who, other)
			}
		}
	}
}

// TestModules: every direct dependency has its reason in DEVELOPERS.md.
func TestModules(t *testing.T) {
	allowed := []string{
		"github.com/alecthomas/chroma/v2", "github.com/alecthomas/kong", "github.com/andybalholm/brotli", "github.com/evanw/esbuild",
		"github.com/fsnotify/fsnotify", "github.com/goccy/go-yaml", "github.com/yuin/goldmark", "golang.org/x/sys",
		// for tests only
		"github.com/chromedp/cdproto", "github.com/chromedp/chromedp", "github.com/tetratelabs/wazero", "golang.org/x/net",
	}
	for _, m := range goList(t, nil, "-m", "-f", `{{if not (or .Main .Indirect)}}{{.Path}}{{end}}`, "all") {
		if !slices.Contains(allowed, m) {
			t.Errorf("the module %s is not on the list", m)
		}
	}
	shipped := goList(t, nil, "-e", "-tags", "packed", "-deps", "-f", "{{if not .Standard}}{{.ImportPath}}{{end}}", "./cmd/kerfbook")
	if !slices.Contains(shipped, "kerfbook/content") || !slices.Contains(shipped, "kerfbook/testdata") {
		t.Error("a packed kerfbook carries no handbook or no evidence")
	}
	for _, p := range shipped {
		for _, test := range []string{"github.com/chromedp", "github.com/tetratelabs/wazero", "golang.org/x/net"} {
			if strings.HasPrefix(p, test) {
				t.Errorf("kerfbook ships %s, which is for tests only", p)
			}
		}
	}
}
