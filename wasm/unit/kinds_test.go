package unit

import (
	"bytes"
	"os"
	"os/exec"
	"testing"
)

// TestKindsCurrent: zkinds.go is what the generator makes of kinds.txt.
func TestKindsCurrent(t *testing.T) {
	want, err := exec.Command("go", "run", "generate.go", "-print").Output()
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("zkinds.go")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("zkinds.go is not what generate.go makes of kinds.txt: go generate ./wasm/unit")
	}
}
