package main

import (
	"context"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"

	"kerfbook/testdata/sweep"
)

// machine is a false machine.
type machine struct {
	programs []string
	admin    bool
	ran      []string
	envs     map[string][]string // of each line that ran
	fail     string
	output   map[string]string
}

func (m *machine) run(_ context.Context, out io.Writer, env []string, name string, args ...string) error {
	line := name + " " + strings.Join(args, " ")
	m.ran = append(m.ran, line)
	if m.envs == nil {
		m.envs = map[string][]string{}
	}
	m.envs[line] = env
	for prefix, text := range m.output {
		if strings.HasPrefix(line, prefix) {
			_, _ = io.WriteString(out, text)
		}
	}
	if m.fail != "" && strings.HasPrefix(line, m.fail) {
		return errors.New("exit status 1")
	}
	return nil
}

func (m *machine) has(program string) bool {
	for _, p := range m.programs {
		if p == program {
			return true
		}
	}
	return false
}

func (m *machine) root() bool { return m.admin }

func all() []string {
	return []string{"chromium", "WebKitWebDriver", "Xvfb", "fc-match", "/usr/lib/python3/dist-packages/shapely/__init__.py", "/usr/lib/python3/dist-packages/pyclipper*.so", "/usr/lib/python3/dist-packages/scipy/__init__.py", "apt-get"}
}

func TestInstall(t *testing.T) {
	const packages = "chromium webkit2gtk-driver xvfb fontconfig python3-shapely python3-pyclipper python3-scipy fonts-liberation fonts-dejavu-core"
	for _, c := range []struct {
		name string
		m    machine
		said string
		apt  bool
	}{
		{"root on Debian installs", machine{programs: []string{"apt-get"}, admin: true}, "installing for the tests: " + packages + "\n", true},
		{"anyone else is told the command", machine{programs: []string{"apt-get"}}, "the tests need Debian packages; this installs them:\n  sudo apt-get install -y --no-install-recommends " + packages + "\n", false},
		{"nothing is missing", machine{programs: all(), admin: true, output: map[string]string{"fc-list": "Liberation Serif"}}, "", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			var said strings.Builder
			s := &session{ctx: context.Background(), out: &said, r: &c.m}
			s.install()
			if said.String() != c.said {
				t.Errorf("said %q, want %q", said.String(), c.said)
			}
			if got := strings.Contains(strings.Join(c.m.ran, "\n"), "apt-get install"); got != c.apt {
				t.Errorf("ran %v", c.m.ran)
			}
		})
	}
}

// TestLackingIsNamed: what cannot run is named and makes the exit 1.
func TestLackingIsNamed(t *testing.T) {
	var said strings.Builder
	code := verify(context.Background(), &said, &machine{}, options{Only: []string{"browsers"}, NoInstall: true})
	want := "did not run: browsers (lacks chromium, webkit2gtk-driver, xvfb, fontconfig)\n0 passed, 0 failed\n"
	if code != 1 || said.String() != want {
		t.Errorf("exit %d, said %q", code, said.String())
	}
}

func TestCounting(t *testing.T) {
	for _, c := range []struct {
		name, events   string
		passed, failed int
		code           int
		says           string
	}{
		{"all pass", `{"Action":"pass","Package":"p","Test":"A"}` + "\n" + `{"Action":"pass","Package":"p","Test":"A/b"}` + "\n" + `{"Action":"pass","Package":"p"}`, 2, 0, 0, "2 passed, 0 failed\n"},
		{"one fails", `{"Action":"output","Package":"p","Test":"A","Output":"it is wrong\n"}` + "\n" + `{"Action":"fail","Package":"p","Test":"A"}`, 0, 1, 1, "FAIL p A\nit is wrong\n"},
		{"one is skipped", `{"Action":"skip","Package":"p","Test":"A"}`, 0, 1, 1, "SKIPPED IN SILENCE p A\n"},
		{"a build error", "x.go:1:1: expected package\n", 0, 0, 0, "x.go:1:1: expected package\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var said strings.Builder
			m := &machine{programs: all(), output: map[string]string{"go test": c.events + "\n"}}
			code := verify(context.Background(), &said, m, options{Only: []string{"tests"}, NoInstall: true})
			if code != c.code || !strings.Contains(said.String(), c.says) {
				t.Errorf("exit %d, said %q", code, said.String())
			}
		})
	}
}

// TestAsPacked: the flags of the machine stay.
func TestAsPacked(t *testing.T) {
	for flags, want := range map[string]string{
		"":                   "CGO_ENABLED=0 GOFLAGS=-trimpath",
		"-buildvcs=false -v": "CGO_ENABLED=0 GOFLAGS=-trimpath -buildvcs=false -v",
	} {
		if got := strings.Join(asPacked(flags), " "); got != want {
			t.Errorf("%q: %s", flags, got)
		}
	}
}

// TestAll: --all gives every run of the tests the variable that makes sweeps whole,
// and without it none has it.
func TestAll(t *testing.T) {
	for _, whole := range []bool{false, true} {
		m := &machine{programs: all()}
		var said strings.Builder
		verify(context.Background(), &said, m, options{Only: []string{"tests", "packed", "oracles", "browsers"}, NoInstall: true, All: whole})
		runs := 0
		for line, env := range m.envs {
			if !strings.HasPrefix(line, "go test ") {
				continue
			}
			runs++
			if got := slices.Contains(env, sweep.Whole+"=all"); got != whole {
				t.Errorf("--all %v: %s runs with %v", whole, line, env)
			}
		}
		if runs != 4 {
			t.Errorf("--all %v: %d runs of tests, 4 are wanted: %v", whole, runs, m.ran)
		}
	}
	// The variable does what it says.
	for value, want := range map[string]int{"": 100, "all": 1000, "some": 100} {
		t.Setenv(sweep.Whole, value)
		if got := sweep.Part(1000); got != want {
			t.Errorf("%s=%q: %d of 1000 cases", sweep.Whole, value, got)
		}
	}
}

func TestFailingStep(t *testing.T) {
	var said strings.Builder
	code := verify(context.Background(), &said, &machine{fail: "go vet"}, options{Only: []string{"vet"}, NoInstall: true})
	if code != 1 || !strings.Contains(said.String(), "failed: vet\n") {
		t.Errorf("exit %d, said %q", code, said.String())
	}
	if code := verify(context.Background(), &said, &machine{}, options{Only: []string{"dance"}}); code != 2 {
		t.Errorf("an unknown step: exit %d", code)
	}
}
