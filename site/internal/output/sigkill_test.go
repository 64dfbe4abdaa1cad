package output

import (
	"bufio"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// helperVariable makes the test binary publish for ever instead of testing, until it is killed.
const helperVariable = "KERFBOOK_TEST_PUBLISH_TO"

func TestMain(m *testing.M) {
	if dir := os.Getenv(helperVariable); dir != "" {
		files := Disk()
		if strings.HasPrefix(os.Getenv(helperVariable+"_BY"), "two renames") {
			files = &script{on: Disk(), twoWay: true}
		}
		fmt.Println("ready")
		for i := 0; ; i++ {
			content := after()
			if i%2 == 1 {
				content = before()
			}
			if err := publish(files, dir, content, Options{}); err != nil {
				fmt.Println(err)
				os.Exit(1)
			}
			if s, ok := files.(*script); ok {
				s.calls, s.locks = nil, nil
			}
		}
	}
	os.Exit(m.Run())
}

// A real process, really killed, at 40 random moments for each way. After the kill a whole edition stands
// (with two renames: after Heal), the lock of the dead keeps nobody out, and nothing is left behind.
func TestSIGKILL(t *testing.T) {
	for _, way := range []string{"exchange", "two renames"} {
		t.Run(way, func(t *testing.T) {
			dir := clean(t)
			healedOnce := 0
			for round := range 40 {
				helper := exec.Command(os.Args[0])
				helper.Env = append(os.Environ(), helperVariable+"="+dir, helperVariable+"_BY="+way)
				out, err := helper.StdoutPipe()
				must(t, err)
				must(t, helper.Start())
				line, _ := bufio.NewReader(out).ReadString('\n')
				if line != "ready\n" {
					t.Fatalf("the helper says %q", line)
				}
				time.Sleep(time.Duration(rand.IntN(25_000)) * time.Microsecond)
				if err := helper.Process.Kill(); err != nil {
					t.Fatal(err)
				}
				if err := helper.Wait(); err == nil || helper.ProcessState.Exited() {
					t.Fatalf("round %d: the helper ended by itself: %v", round, err)
				}

				got := read(t, dir)
				wholly := maps.Equal(got, before()) || maps.Equal(got, after())
				if !wholly && (got != nil || way == "exchange") {
					t.Errorf("round %d:\n%v", round, got)
				}
				said, err := Heal(Disk(), dir)
				if err != nil {
					t.Fatalf("round %d: %v", round, err)
				}
				if said != "" {
					healedOnce++
				}
				whole := healed(t, dir)
				if got != nil && !maps.Equal(whole, got) {
					t.Errorf("round %d: heal changed a whole edition", round)
				}
			}
			if healedOnce == 0 {
				t.Error("no kill came while a publication was at work")
			}
		})
	}
}
