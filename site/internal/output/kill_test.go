package output

import (
	"errors"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// clean is a place where the former edition stands.
func clean(t *testing.T) string {
	t.Helper()
	dir := newPlace(t)
	must(t, publish(&script{on: Disk()}, dir, before(), Options{}))
	return dir
}

// drop removes a place, so that thousands of runs do not fill the disk.
func drop(t *testing.T, dir string) {
	t.Helper()
	must(t, os.RemoveAll(dir))
}

// calls lists the calls of one publication to dir.
func calls(t *testing.T, dir string, twoWay bool) []string {
	t.Helper()
	count := &script{on: Disk(), twoWay: twoWay}
	must(t, publish(count, dir, after(), Options{}))
	if len(count.calls) < 40 {
		t.Fatalf("only %d calls", len(count.calls))
	}
	return count.calls
}

// steps counts the calls of one publication over another.
func steps(t *testing.T, twoWay bool) int {
	t.Helper()
	return len(calls(t, clean(t), twoWay))
}

// healed runs Heal and checks that a whole edition stands alone.
func healed(t *testing.T, dir string) tree {
	t.Helper()
	if _, err := Heal(&script{on: Disk()}, dir); err != nil {
		t.Errorf("heal: %v", err)
	}
	alone(t, dir)
	got := read(t, dir)
	if !maps.Equal(got, before()) && !maps.Equal(got, after()) {
		t.Errorf("after heal:\n%v", got)
	}
	return got
}

// With two renames the folder may be missing for a moment, but is never mixed, and Heal brings a whole
// edition back, also when Heal itself is killed before each of its calls, one after the other.
func TestKillTwoRenames(t *testing.T) {
	missing, published, healings := 0, 0, 0
	all := points(calls(t, clean(t), true))
	for _, p := range all {
		dir := clean(t)
		publish(&script{on: Disk(), twoWay: true, at: p.n, die: p.when}, dir, after(), Options{})
		got, err := seen(dir)
		if err != nil {
			t.Errorf("killed %s call %d, %s: %v", p.when, p.n, p.call, err)
		}
		switch got {
		case "":
			missing++
		case "new":
			published++
		}
		for m := 1; ; m++ {
			again := &script{on: Disk(), twoWay: true, at: m, die: ahead}
			Heal(again, dir)
			healings++
			now, err := seen(dir)
			if err != nil || got != "" && now != got {
				t.Errorf("killed %s call %d, %s, heal before its call %d: %q, %v", p.when, p.n, p.call, m, now, err)
			}
			if !again.dead {
				break
			}
		}
		healed(t, dir)
		if now, err := seen(dir); err != nil || now == "" || got != "" && now != got {
			t.Errorf("killed %s call %d, %s: %q became %q, %v", p.when, p.n, p.call, got, now, err)
		}
		drop(t, dir)
	}
	if missing == 0 || published == 0 {
		t.Errorf("%d times missing, %d times published: the moments that matter were not met", missing, published)
	}
	t.Logf("%d calls, killed at %d moments; folder missing after %d, new edition after %d; heal killed %d times", all[len(all)-1].n, len(all), missing, published, healings)
}

// The first publication: nothing, or the edition.
func TestKillFirst(t *testing.T) {
	for _, twoWay := range []bool{false, true} {
		published := 0
		all := points(calls(t, newPlace(t), twoWay))
		for _, p := range all {
			dir := newPlace(t)
			publish(&script{on: Disk(), twoWay: twoWay, at: p.n, die: p.when}, dir, after(), Options{})
			got := read(t, dir)
			word, err := seen(dir)
			if err != nil || got != nil && word != "new" {
				t.Errorf("killed %s call %d, %s: %q, %v", p.when, p.n, p.call, word, err)
			}
			if got != nil {
				published++
			}
			if _, err := Heal(Disk(), dir); err != nil {
				t.Error(err)
			}
			holds(t, dir, got)
			alone(t, dir)
			// And the next publication simply works.
			must(t, publish(&script{on: Disk()}, dir, before(), Options{}))
			holds(t, dir, before())
			drop(t, dir)
		}
		if published == 0 {
			t.Error("never published")
		}
		t.Logf("%d calls, killed at %d moments; the edition after %d", all[len(all)-1].n, len(all), published)
	}
}

// An error at any one call: Commit's answer tells which edition stands.
func TestFailOnce(t *testing.T) {
	for _, twoWay := range []bool{false, true} {
		failed := 0
		for n := 1; n <= steps(t, twoWay); n++ {
			dir := clean(t)
			files := &script{on: Disk(), twoWay: twoWay, at: n, err: syscall.EIO}
			err := publish(files, dir, after(), Options{})
			if err != nil {
				failed++
				holds(t, dir, before())
				if known := (*Error)(nil); !errors.As(err, &known) || !errors.Is(err, syscall.EIO) {
					t.Errorf("%s: %v", files.calls[n-1], err)
				}
			} else {
				holds(t, dir, after())
			}
			got := read(t, dir)
			if whole := healed(t, dir); !maps.Equal(whole, got) {
				t.Errorf("%s: heal changed a whole edition", files.calls[n-1])
			}
			if t.Failed() {
				t.Fatalf("at call %d, %s: %v", n, files.calls[n-1], err)
			}
			drop(t, dir)
		}
		if failed < 30 {
			t.Errorf("only %d calls matter", failed)
		}
	}
}

// When neither the new edition can be put in place nor the former one put back, both stay on the disk,
// the message says where, and the next command ends it.
func TestFailBothWays(t *testing.T) {
	dir := clean(t)
	files := &script{on: Disk(), twoWay: true, err: syscall.EIO}
	files.fails = func(call string) bool {
		return strings.HasPrefix(call, "rename ") && strings.HasSuffix(call, " "+dir)
	}
	e, err := Open(files, dir, Options{})
	must(t, err)
	must(t, fill(e, after()))
	err = e.Commit()
	says(t, err, Other, "the new edition could not be put in place at "+dir+" (input/output error), nor the former one put back (input/output error); it is whole at "+
		e.former()+", and any kerfbook command for the folder tries again")
	holds(t, dir, nil)
	e.Abort()
	holds(t, dir, nil)
	said, err := Heal(Disk(), dir)
	must(t, err)
	if want := "put back the former edition of " + dir + ", because a publication was interrupted"; said != want+"; removed what an interrupted publication had left beside "+dir {
		t.Errorf("said %q", said)
	}
	holds(t, dir, before())
	alone(t, dir)
}

// A former edition that is removed in part is never put back, even when somebody deletes the new one
// before the next command.
func TestHalfRemovedIsNotPutBack(t *testing.T) {
	count := &script{on: Disk(), twoWay: true}
	must(t, publish(count, clean(t), after(), Options{}))
	halves := 0
	for n := 1; n <= len(count.calls); n++ {
		dir := clean(t)
		killed := &script{on: Disk(), twoWay: true, at: n, die: ahead}
		publish(killed, dir, after(), Options{})
		if maps.Equal(read(t, dir), after()) {
			halves++
			must(t, os.RemoveAll(dir))
			if _, err := Heal(&script{on: Disk()}, dir); err != nil {
				t.Error(err)
			}
			if got := read(t, dir); len(got) > 0 && !maps.Equal(got, before()) {
				t.Errorf("killed before %s:\n%v", killed.calls[n-1], got)
			}
		}
		drop(t, dir)
	}
	if halves < 8 {
		t.Errorf("only %d moments after the renames", halves)
	}
}

// What must be on the disk before the next step, should the machine lose power: the edition before it is
// moved, the note and its name before the former edition is moved.
func TestOrderOnDisk(t *testing.T) {
	dir := clean(t)
	parent := filepath.Dir(dir)
	files := &script{on: Disk(), twoWay: true}
	e, err := Open(files, dir, Options{})
	must(t, err)
	must(t, fill(e, after()))
	from := len(files.calls)
	must(t, e.Commit())
	var got []string
	for _, call := range files.calls[from:] {
		switch op, _, _ := strings.Cut(call, " "); op {
		case "synctree", "syncdir", "sync", "rename", "exchange", "create", "remove", "release":
			call = strings.NewReplacer(e.stage, "STAGE", dir, "DIR", parent, "P").Replace(call)
			got = append(got, filepath.ToSlash(call))
		}
	}
	const want = `synctree STAGE
exchange STAGE/edition DIR
create P/.kerfbook-swap-site.note
sync P/.kerfbook-swap-site.note
syncdir P
rename DIR STAGE/former
rename STAGE/edition DIR
syncdir P
remove STAGE/former/edition.json`
	if s := strings.Join(got, "\n"); !strings.HasPrefix(s, want) {
		t.Errorf("got\n%s\nwant\n%s", s, want)
	}
}
