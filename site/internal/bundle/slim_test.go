package bundle

import (
	"bytes"
	"context"
	"strings"
	"testing"
)

// TestSlim proves that what only names things is gone from the shipped bytes
// and that slimming again changes nothing; what else changed, TestSegments says. That the calculators still run is the parity suite's matter, which runs
// these very bytes.
func TestSlim(t *testing.T) {
	wasm, err := Wasm(context.Background(), "../../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"kerfbook/wasm/panel.Slots", "runtime/mgc.go", "wasm/main.go"} {
		if bytes.Contains(wasm, []byte(name)) {
			t.Errorf("the shipped bytes still name %s", name)
		}
	}
	again, err := Slim(wasm)
	if err != nil || !bytes.Equal(again, wasm) {
		t.Errorf("slimming what is slim changes it, or fails: %v", err)
	}
	for name, bad := range map[string][]byte{
		"not WebAssembly":  []byte("GIF89a"),
		"cut off":          wasm[:len(wasm)/2],
		"program table":    []byte("\x00asm\x01\x00\x00\x00"),
		"not of the known": {0, 'a', 's', 'm', 1, 0, 0, 0, 11, 3, 1, 1, 0},
	} {
		if _, err := Slim(bad); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: the error is %v", name, err)
		}
	}
}
