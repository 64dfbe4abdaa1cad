package browse

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
)

// publish makes the handbook as a stranger would, once for all tests: they only
// read it.
func publish(t testing.TB) string {
	t.Helper()
	dir, err := handbook()
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

var handbook = sync.OnceValues(func() (string, error) { return press() })

// editions is where the tests' editions lie; TestMain takes it away.
var editions = sync.OnceValues(func() (string, error) { return os.MkdirTemp("", "kerfbook-browse-") })

// press publishes into a new folder.
func press(flags ...string) (string, error) {
	base, err := editions()
	if err != nil {
		return "", err
	}
	dir, err := os.MkdirTemp(base, "")
	if err != nil {
		return "", err
	}
	dir = filepath.Join(dir, "published")
	cmd := exec.Command("go", append([]string{"run", "./cmd/kerfbook", "publish", "--to", dir}, flags...)...)
	cmd.Dir = "../.."
	if out, err := cmd.CombinedOutput(); err != nil {
		return "", fmt.Errorf("publish: %w\n%s", err, out)
	}
	return dir, nil
}

func TestMain(m *testing.M) {
	code := m.Run()
	if base, err := editions(); err == nil {
		_ = os.RemoveAll(base)
	}
	os.Exit(code)
}
