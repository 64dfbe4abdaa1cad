package output

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// around returns the folder that holds a place, with all in it: folders end in a slash, the random part
// of a staging folder's name is replaced, and what a lock says is left out.
func around(t *testing.T, parent string) tree {
	t.Helper()
	digits := regexp.MustCompile(`(\.kerfbook-new-site-)[0-9a-f]{16}`)
	same := func(s string) string { return digits.ReplaceAllString(s, "${1}0123456789abcdef") }
	all := tree{}
	err := filepath.WalkDir(parent, func(name string, d fs.DirEntry, err error) error {
		if err != nil || name == parent {
			return err
		}
		rel, err := filepath.Rel(parent, name)
		if err != nil {
			return err
		}
		rel = same(filepath.ToSlash(rel))
		if _, there := all[rel]; there {
			return fmt.Errorf("two of %s", rel)
		}
		if d.IsDir() {
			all[rel+"/"] = ""
			return nil
		}
		if strings.HasPrefix(rel, ".kerfbook-lock-") {
			all[rel] = ""
			return nil
		}
		data, err := os.ReadFile(name)
		all[rel] = same(string(data))
		return err
	})
	must(t, err)
	return all
}

// key tells trees apart.
func key(files tree) string {
	var b strings.Builder
	for _, name := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(&b, "%q %q\n", name, files[name])
	}
	return b.String()
}

// However often and wherever commands are killed, one after the other: every state of the disk that can
// be reached by killing publications and healings, the ones after them, and so on until no new state
// appears, shows a whole edition, and one command that is left alone brings a whole edition back.
func TestEveryReachableState(t *testing.T) {
	former := made("former", "index.html", "old/gone.html")
	fresh := made("new", "index.html", "new/added.html")
	starts := map[string]tree{"an edition": at("site/", former), "nothing": {}, "an empty folder": {"site/": ""}}
	for _, way := range []string{"exchange", "two renames"} {
		if way == "exchange" && !exchanges(t) {
			continue // this system has two renames only
		}
		for name, start := range starts {
			t.Run(way+" over "+name, func(t *testing.T) {
				e := &explorer{t: t, twoWay: way == "two renames", mayMiss: name != "an edition", content: fresh,
					known: map[string]bool{}, words: map[string]int{}}
				base := t.TempDir()
				lay(t, base, start)
				e.meet(around(t, base))
				for len(e.todo) > 0 && !t.Failed() {
					state := e.todo[0]
					e.todo = e.todo[1:]
					e.run(state, "heal")
					e.run(state, "publish")
				}
				t.Logf("%d states after %d moments; seen %v", len(e.known), e.moments, e.words)
				if len(e.known) < 30 || e.words["new"] == 0 || (e.words[""] > 0) == (name == "an edition" && !e.twoWay) {
					t.Error("the moments that matter were not met")
				}
			})
		}
	}
}

// exchanges reports whether two folders can be exchanged here.
func exchanges(t *testing.T) bool {
	t.Helper()
	parent := t.TempDir()
	lay(t, parent, tree{"a/": "", "b/": ""})
	return Disk().Exchange(filepath.Join(parent, "a"), filepath.Join(parent, "b")) == nil
}

// explorer meets states of the disk.
type explorer struct {
	t       *testing.T
	twoWay  bool
	mayMiss bool // there was no edition at first
	content tree // what is published
	known   map[string]bool
	todo    []tree
	words   map[string]int // what a reader found, by state
	moments int
}

// meet keeps a state that was not met before.
func (e *explorer) meet(state tree) {
	if k := key(state); !e.known[k] {
		e.known[k] = true
		e.todo = append(e.todo, state)
	}
}

// run starts from a state, lets one command go on to its end, and meets every state on its way: each
// would stay if the command were killed there.
func (e *explorer) run(state tree, command string) {
	parent, err := filepath.EvalSymlinks(e.t.TempDir())
	must(e.t, err)
	defer os.RemoveAll(parent)
	lay(e.t, parent, state)
	dir := filepath.Join(parent, "site")
	was, err := seen(dir)
	if err != nil || was == "" && !e.mayMiss && !e.twoWay {
		e.t.Errorf("a reader finds %q, %v in\n%s", was, err, key(state))
		return
	}
	e.words[was]++
	files := &script{on: Disk(), twoWay: e.twoWay}
	last := ""
	files.look = func() {
		e.moments++
		if now := around(e.t, parent); key(now) != last {
			last = key(now)
			e.meet(now)
		}
	}
	if command == "heal" {
		_, err = Heal(files, dir)
	} else {
		err = publish(files, dir, e.content, Options{})
	}
	now, odd := seen(dir)
	switch {
	case err != nil || odd != nil:
		e.t.Errorf("%s: %v, %v in\n%s", command, err, odd, key(state))
	case command == "publish" && now != "new", was != "" && command == "heal" && now != was, now == "" && !e.mayMiss:
		e.t.Errorf("%s made %q of %q in\n%s", command, now, was, key(state))
	}
	alone(e.t, dir)
}
