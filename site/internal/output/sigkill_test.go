package output

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"kerfbook/testdata/sweep"
)

const (
	// helperVariable makes the test binary publish for ever instead of testing, until it is killed.
	helperVariable = "KERFBOOK_TEST_PUBLISH_TO"
	// wayVariable says how: "exchange", "two renames", "and wait" to wait for the disk as well, or "hold"
	// to open an edition and keep it open.
	wayVariable = "KERFBOOK_TEST_PUBLISH_BY"
	// diskVariable names the folder for the tests that want a real disk.
	diskVariable = "KERFBOOK_TEST_DISK"
)

func TestMain(m *testing.M) {
	if dir := os.Getenv(helperVariable); dir != "" {
		fmt.Println(help(dir, os.Getenv(wayVariable)))
		os.Exit(1)
	}
	// Tens of thousands of small files are written to a disk in memory, where there is one.
	os.Setenv(diskVariable, os.TempDir())
	if probe, err := os.MkdirTemp("/dev/shm", "kerfbook"); err == nil {
		os.Remove(probe)
		os.Setenv("TMPDIR", "/dev/shm")
	}
	os.Exit(m.Run())
}

// help publishes by turns, and ends with an error only. Busy is none: others may be at work.
func help(dir, way string) error {
	if way == "hold" {
		if _, err := Open(Disk(), dir, Options{}); err != nil {
			return err
		}
		fmt.Println("ready")
		_, err := io.ReadAll(os.Stdin)
		return err
	}
	content, other := after(), before()
	if word, _ := seen(dir); word == "new" {
		content, other = other, content
	}
	told := 0 // no more than a pipe holds unread
	tell := func() {
		if told < longestWait {
			fmt.Print(".")
			told++
		}
	}
	fmt.Println("ready")
	for ; ; content, other = other, content {
		files := &script{on: Disk(), twoWay: way == "two renames", waits: way == "and wait", look: tell}
		if err := publish(files, dir, content, Options{}); err != nil && reason(err) != Busy {
			return err
		}
	}
}

// longestWait is how many changes of the disk a helper tells of, a dot each.
const longestWait = 300

// process is another process that publishes; it says a dot after every change
// that it makes on the disk.
type process struct {
	*exec.Cmd
	said *bufio.Reader
}

// changes waits until the process has changed the disk n times since it was ready.
func (p process) changes(t *testing.T, n int) {
	t.Helper()
	if _, err := io.ReadFull(p.said, make([]byte, n)); err != nil {
		t.Fatalf("the helper ended by itself: %v", err)
	}
}

// helper starts the test binary as another process that publishes to dir.
func helper(t *testing.T, dir, way string) process {
	t.Helper()
	other := exec.Command(os.Args[0])
	other.Env = append(os.Environ(), helperVariable+"="+dir, wayVariable+"="+way)
	_, err := other.StdinPipe() // stays open until the process ends
	must(t, err)
	out, err := other.StdoutPipe()
	must(t, err)
	must(t, other.Start())
	said := bufio.NewReader(out)
	if line, _ := said.ReadString('\n'); line != "ready\n" {
		t.Fatalf("the helper says %q", line)
	}
	return process{other, said}
}

// kill kills a process and fails when it had ended by itself.
func kill(t *testing.T, other process) {
	t.Helper()
	must(t, other.Process.Kill())
	if err := other.Wait(); err == nil || other.ProcessState.Exited() {
		t.Fatalf("the helper ended by itself: %v", err)
	}
}

// diskPlace is a place on a real disk where the former edition stands.
func diskPlace(t *testing.T) string {
	t.Helper()
	parent, err := os.MkdirTemp(os.Getenv(diskVariable), "kerfbook-output")
	must(t, err)
	t.Cleanup(func() { os.RemoveAll(parent) })
	parent, err = filepath.EvalSymlinks(parent)
	must(t, err)
	dir := filepath.Join(parent, "site")
	must(t, publish(Disk(), dir, before(), Options{}))
	return dir
}

// A real process on a real disk, really killed at 200 random moments, and at 50 with two renames, while
// a reader looks all the time; a moment is a counted number of changes on the disk. The reader always
// finds a whole edition; with two renames perhaps none, and then after Heal. The lock of the dead keeps
// nobody out, and nothing is left behind. With two renames at least 20 are wanted: only at some moments
// is the folder missing.
func TestSIGKILL(t *testing.T) {
	if !exchanges(t) {
		t.Log("this system has two renames only")
	}
	for _, c := range []struct {
		way           string
		places, kills int // kills for each place
	}{{"exchange", sweep.Part(10), 20}, {"two renames", 1, max(20, sweep.Part(50))}} {
		for place := range c.places {
			if c.way == "exchange" && !exchanges(t) {
				continue
			}
			t.Run(fmt.Sprint(c.way, " ", place), func(t *testing.T) {
				t.Parallel()
				killed(t, c.way, c.kills, rand.New(rand.NewPCG(20, uint64(place)))) // the same moments each time
			})
		}
	}
}

func killed(t *testing.T, way string, kills int, random *rand.Rand) {
	mayMiss := way == "two renames"
	dir := diskPlace(t)
	reader := look(t, dir, mayMiss)
	atWork, missing := 0, 0
	for round := range kills {
		how := way
		if round%4 == 1 && !mayMiss {
			how = "and wait" // few: the whole machine waits for the disk
		}
		other := helper(t, dir, how)
		other.changes(t, random.IntN(longestWait))
		kill(t, other)
		got, err := seen(dir)
		if err != nil || got == "" && !mayMiss {
			t.Errorf("round %d: %q, %v", round, got, err)
		}
		if got == "" {
			missing++
		}
		// Every third time the next publication heals, by itself.
		if round%3 == 0 {
			must(t, publish(&script{on: Disk()}, dir, after(), Options{}))
			got = "new"
		} else if said, err := Heal(Disk(), dir); err != nil {
			t.Errorf("round %d: %v", round, err)
		} else if said != "" {
			atWork++
		}
		alone(t, dir)
		if now, err := seen(dir); err != nil || now == "" || got != "" && now != got {
			t.Errorf("round %d: %q became %q, %v", round, got, now, err)
		}
		reader.again()
		if t.Failed() {
			break
		}
	}
	reader.end(t, 1)
	t.Logf("%d kills; of those that Heal followed, %d left something to heal; folder missing after %d", kills, atWork, missing)
	if atWork < kills/10 {
		t.Errorf("only %d kills came while a publication was at work", atWork)
	}
}

// Another process is at work: it is named, and nothing changes. When it dies the next command goes on.
func TestTwoProcesses(t *testing.T) {
	dir := diskPlace(t)
	other := helper(t, dir, "hold")
	busy := fmt.Sprintf("cannot use %s: another kerfbook command (process %d) is writing there; wait until it is done", dir, other.Process.Pid)
	says(t, publish(Disk(), dir, after(), Options{}), Busy, busy)
	_, err := Heal(Disk(), dir)
	says(t, err, Busy, busy)
	holds(t, dir, before())
	kill(t, other)
	holds(t, dir, before())
	must(t, publish(Disk(), dir, after(), Options{}))
	holds(t, dir, after())
	alone(t, dir)
}

// Four processes publish to one folder as fast as they can: the reader finds one whole edition.
func TestManyProcesses(t *testing.T) {
	way := "exchange"
	if !exchanges(t) {
		way = "two renames"
	}
	dir := diskPlace(t)
	reader := look(t, dir, way == "two renames")
	var others []process
	for range 4 {
		others = append(others, helper(t, dir, way))
	}
	reader.met(20)
	for _, other := range others {
		kill(t, other)
	}
	reader.end(t, 20)
	if _, err := Heal(Disk(), dir); err != nil {
		t.Error(err)
	}
	alone(t, dir)
	if word, err := seen(dir); err != nil || word == "" {
		t.Errorf("%q, %v", word, err)
	}
}
