package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// event is one line of `go test -json`.
type event struct {
	Action, Package, Test, Output string
	Elapsed                       float64
}

// tests runs packages and counts tests and subtests. A skipped test counts as
// failed: nothing is skipped in silence.
func (s *session) tests(args ...string) error {
	r, w := io.Pipe()
	done := make(chan error, 1)
	go func() {
		err := s.r.run(s.ctx, w, s.env, "go", append([]string{"test", "-json", "-p", "2", "-timeout", "40m"}, args...)...)
		_ = w.Close()
		done <- err
	}()
	bad := s.count(r)
	err := <-done
	if bad > 0 {
		return fmt.Errorf("%d tests failed", bad)
	}
	return err
}

// count reads the events and prints the output of what failed.
func (s *session) count(r io.Reader) (bad int) {
	said := map[string]*strings.Builder{}
	lines := bufio.NewScanner(r)
	lines.Buffer(make([]byte, 1<<20), 1<<26)
	for lines.Scan() {
		var e event
		if json.Unmarshal(lines.Bytes(), &e) != nil {
			fmt.Fprintln(s.out, lines.Text()) // a build error is plain text
			continue
		}
		key := e.Package + " " + e.Test
		switch e.Action {
		case "output", "build-output":
			if said[key] == nil {
				said[key] = &strings.Builder{}
			}
			said[key].WriteString(e.Output)
		case "pass", "fail", "skip":
			bad += s.ended(e, said[key])
			delete(said, key)
		}
	}
	return bad
}

func (s *session) ended(e event, said *strings.Builder) int {
	if e.Test == "" {
		if e.Action == "fail" {
			fmt.Fprintf(s.out, "FAIL %s\n", e.Package)
			if said != nil {
				fmt.Fprint(s.out, tail(said.String(), 40)+"\n")
			}
		} else if e.Action == "pass" {
			fmt.Fprintf(s.out, "ok   %s, %.1f s\n", e.Package, e.Elapsed)
		}
		return 0
	}
	if e.Action == "pass" {
		s.passed++
		return 0
	}
	s.failed++
	word := "FAIL"
	if e.Action == "skip" {
		word = "SKIPPED IN SILENCE"
	}
	fmt.Fprintf(s.out, "%s %s %s\n", word, e.Package, e.Test)
	if said != nil {
		fmt.Fprint(s.out, said.String())
	}
	return 1
}
