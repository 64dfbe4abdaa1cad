package bundle

import (
	"context"
	"os"
	"testing"
)

func TestZZ(t *testing.T) {
	s, err := Wasm(context.Background(), "../../..")
	if err != nil {
		t.Fatal(err)
	}
	os.WriteFile("/tmp/zz/d.wasm", s, 0o644)
}
