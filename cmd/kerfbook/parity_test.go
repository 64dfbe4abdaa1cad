package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"sync"
	"testing"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/imports/wasi_snapshot_preview1"

	"kerfbook/site"
	sweeps "kerfbook/testdata/sweep"
	"kerfbook/wasm/book"
	"kerfbook/wasm/border"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/catalog"
	"kerfbook/wasm/unit"
)

// wasmBytes compiles the calculators; the toolchain's cache makes the second
// call cheap.
func wasmBytes(t testing.TB) []byte {
	t.Helper()
	data, err := site.BuildWasm(context.Background(), "../..")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// reactor is one running instance of the shipped bytes.
type reactor struct {
	mod      api.Module
	buf, ask api.Function
}

// start begins an instance; env are names and values of its environment.
func start(t testing.TB, env ...string) *reactor {
	t.Helper()
	ctx := context.Background()
	r := wazero.NewRuntime(ctx)
	t.Cleanup(func() { _ = r.Close(ctx) })
	wasi_snapshot_preview1.MustInstantiate(ctx, r)
	config := wazero.NewModuleConfig().WithStartFunctions("_initialize").WithStderr(os.Stderr)
	for i := 0; i+1 < len(env); i += 2 {
		config = config.WithEnv(env[i], env[i+1])
	}
	mod, err := r.InstantiateWithConfig(ctx, wasmBytes(t), config)
	if err != nil {
		t.Fatal(err)
	}
	return &reactor{mod, mod.ExportedFunction("buf"), mod.ExportedFunction("ask")}
}

func (r *reactor) say(t testing.TB, request string) string {
	t.Helper()
	ctx := context.Background()
	at, err := r.buf.Call(ctx, uint64(len(request)))
	if err != nil {
		t.Fatal(err)
	}
	if !r.mod.Memory().Write(uint32(at[0]), []byte(request)) {
		t.Fatalf("the buffer of %d bytes does not lie in memory", len(request))
	}
	n, err := r.ask.Call(ctx, uint64(len(request)))
	if err != nil {
		t.Fatal(err)
	}
	if at, err = r.buf.Call(ctx, 0); err != nil {
		t.Fatal(err)
	}
	out, ok := r.mod.Memory().Read(uint32(at[0]), uint32(n[0]))
	if !ok {
		t.Fatal("the reply does not lie in memory")
	}
	return string(out)
}

func canonicalBook(t testing.TB) (*book.Book, string) {
	t.Helper()
	b, err := loadBook("../../content")
	if err != nil {
		t.Fatal(err)
	}
	return b, b.Canonical()
}

// TestParity: random inputs, sound and broken, 10,000 in the whole sweep, are
// answered by the shipped wasm and natively with the same bytes. One instance collects its
// heap ten times as often as a program does: what the runtime needs for that, on a stack
// however deep, is in the bytes that were slimmed.
func TestParity(t *testing.T) {
	b, text := canonicalBook(t)
	native := &border.Desk{Calculators: catalog.New}
	r := start(t)
	give := border.Encode([]border.Pair{{Name: "book"}, {Name: "book", Value: text}})
	if got := r.say(t, give); got != "ok\t\n" {
		t.Fatalf("the wasm refused the book: %s", got)
	}
	if got := native.Ask(give); got != "ok\t\n" {
		t.Fatalf("native refused the book: %s", got)
	}
	set, err := catalog.New(b)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	parityRequests := sweeps.Part(10_000)
	requests := make(chan string, parityRequests)
	for i := range parityRequests {
		k, turn := set.All()[i%len(set.All())], i/len(set.All())
		if k.ID == "profile" && turn%16 > 0 { // it cuts a contour a dozen times: some tens of requests do
			k = set.All()[0]
		}
		if k.ID == "job" && turn%3 > 0 { // it asks most of the others: a hundred requests do
			k = set.All()[0]
		}
		requests <- border.Encode(randomRequest(rng, k, b))
	}
	close(requests)
	second := start(t, "GOGC", "10")
	second.say(t, give)
	var wg sync.WaitGroup
	for _, instance := range []*reactor{r, second} { // one for each core
		wg.Go(func() {
			desk := &border.Desk{Calculators: catalog.New}
			desk.Ask(give)
			for request := range requests {
				if got, want := instance.say(t, request), desk.Ask(request); got != want {
					t.Errorf("differs\n%s\nwasm:   %s\nnative: %s", request, firstDifference(got, want), firstDifference(want, got))
					return
				}
			}
		})
	}
	wg.Wait()
	for _, instance := range []*reactor{r, second} {
		if size := instance.mod.Memory().Size() >> 20; size > 192 {
			t.Errorf("after %d answers the wasm keeps %d MB: answers stay in memory", parityRequests/2, size)
		}
	}
}

// TestParityOfExamples: every recorded answer of the handbook (worked examples,
// figures, calculators as they stand) is the same in the shipped wasm.
func TestParityOfExamples(t *testing.T) {
	_, text := canonicalBook(t)
	o := options("../../content")
	o.Wasm = wasmBytes(t)
	res, err := site.Publish(context.Background(), o, &lockedFiles{files: site.Files{}})
	if err != nil {
		t.Fatal(err)
	}
	native, r := &border.Desk{Calculators: catalog.New}, start(t)
	give := border.Encode([]border.Pair{{Name: "book"}, {Name: "book", Value: text}})
	native.Ask(give)
	r.say(t, give)
	for _, a := range res.Edition.Answers {
		request := []border.Pair{{Name: "answer"}, {Name: "calculator", Value: a.Calculator}}
		for _, in := range a.Inputs {
			request = append(request, border.Pair{Name: "in." + in.Name, Value: in.Text})
		}
		q := border.Encode(request)
		got, want := r.say(t, q), native.Ask(q)
		if got != want {
			t.Errorf("%s differs\nwasm:   %s\nnative: %s", a.ID, firstDifference(got, want), firstDifference(want, got))
		}
		for _, v := range a.Values {
			if !strings.Contains(v.Text, " or ") && strings.ContainsAny(v.Text, "0123456789") && len(v.Text) > 3 && !strings.Contains(got, v.Text) {
				t.Errorf("%s: the wasm does not print %s = %s", a.ID, v.Name, v.Text)
			}
		}
	}
	if len(res.Edition.Answers) < 20 {
		t.Errorf("only %d recorded answers", len(res.Edition.Answers))
	}
}

// randomRequest types something into about half of the fields, in a random
// unit, sometimes as a range, sometimes nonsense.
func randomRequest(rng *rand.Rand, c *calc.Calculator, b *book.Book) []border.Pair {
	fields, _ := c.Describe(b)
	out := []border.Pair{{Name: "answer"}, {Name: "calculator", Value: c.ID}, {Name: "units", Value: []string{"metric", "inch"}[rng.IntN(2)]}}
	ranges := 0
	for _, f := range fields {
		if rng.IntN(2) == 0 {
			continue
		}
		value := ""
		switch {
		case f.Shape == calc.ChoiceShape:
			value = f.Options[rng.IntN(len(f.Options))].Value
		case rng.IntN(60) == 0:
			value = []string{"", "abc", "1,250", "-3 mm", "5 to", "1e400 mm", "NaN", "3 thou 4"}[rng.IntN(8)]
		default:
			lo, hi := 0.01, 10.0
			if f.Usual[0] != "" {
				if x, err := unit.Read(f.Usual[0], f.Kind, unit.Options{Unit: f.Kind.Base()}); err == nil {
					lo = x.Range.Likely
				}
				if x, err := unit.Read(f.Usual[1], f.Kind, unit.Options{Unit: f.Kind.Base()}); err == nil {
					hi = x.Range.Likely
				}
			}
			v := lo + (hi-lo)*rng.Float64()
			u := f.Kind.Base()
			if len(f.Keys) > 0 && f.Kind == unit.LengthKind {
				u = f.Keys[rng.IntN(len(f.Keys))]
			}
			value = fmt.Sprintf("%.*f %s", rng.IntN(6), unit.In(f.Kind, v, u), u)
			if f.Ranges && ranges < 3 && rng.IntN(14) == 0 {
				ranges++
				value = fmt.Sprintf("%.4f to %.4f %s", unit.In(f.Kind, v, u), unit.In(f.Kind, v+(hi-v)*rng.Float64(), u), u)
			}
		}
		out = append(out, border.Pair{Name: "in." + f.Name, Value: value})
	}
	return out
}

func firstDifference(a, b string) string {
	la, lb := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range la {
		if i >= len(lb) || la[i] != lb[i] {
			return la[i]
		}
	}
	return "(shorter)"
}
