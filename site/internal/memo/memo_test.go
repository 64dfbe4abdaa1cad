package memo

import (
	"bytes"
	"reflect"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
)

// TestKeepsAll: everything that an answer holds is a value that a file can keep. A
// field that could not be would be lost in silence, and a page would come out
// otherwise than when the answer is computed.
func TestKeepsAll(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var walk func(path string, x reflect.Type)
	walk = func(path string, x reflect.Type) {
		if seen[x] {
			return
		}
		seen[x] = true
		switch x.Kind() {
		case reflect.Func, reflect.Chan, reflect.Interface, reflect.Map, reflect.UnsafePointer:
			t.Errorf("%s is a %s: the memory cannot keep it", path, x.Kind())
		case reflect.Pointer, reflect.Slice, reflect.Array:
			walk(path, x.Elem())
		case reflect.Struct:
			for i := range x.NumField() {
				f := x.Field(i)
				if f.Name == "_" {
					continue // a mark for the compiler, in which nothing stands
				}
				if x == reflect.TypeFor[calc.State]() && f.Type == reflect.TypeFor[calc.Field]() || x == reflect.TypeFor[calc.Answer]() && f.Type == reflect.TypeFor[[]book.Row]() {
					continue // put back from the declarations and the tables
				}
				if !f.IsExported() {
					t.Errorf("%s.%s is not exported: the memory cannot keep it", path, f.Name)
				}
				walk(path+"."+f.Name, f.Type)
			}
		}
	}
	walk("kept", reflect.TypeFor[kept]())
	for _, want := range []string{"Calculator", "Fields", "Answer", "Problems"} {
		if _, ok := reflect.TypeFor[calc.Reply]().FieldByName(want); !ok {
			t.Errorf("a reply has no %s any more", want)
		}
	}
	if n := reflect.TypeFor[calc.Reply]().NumField(); n != 4 {
		t.Errorf("a reply has %d fields: the memory keeps four", n)
	}
}

// TestDamaged: a file that is foreign, cut off or changed adds nothing.
func TestDamaged(t *testing.T) {
	r := New().Begin()
	r.memory.kept[key{1}] = &kept{Answer: calc.Answer{Headline: "Yes"}}
	r.used[key{1}] = true
	good, err := r.Write()
	if err != nil {
		t.Fatal(err)
	}
	if m := New(); m.Read(good) != nil || m.kept[key{1}] == nil || m.kept[key{1}].Answer.Headline != "Yes" {
		t.Fatal("what was written does not read")
	}
	for i := range good {
		bad := bytes.Clone(good)
		bad[i] ^= 0x40
		if m := New(); m.Read(bad) == nil || len(m.kept) > 0 {
			t.Errorf("byte %d changed: read all the same", i)
		}
		if m := New(); m.Read(good[:i]) == nil || len(m.kept) > 0 {
			t.Errorf("cut off at byte %d: read all the same", i)
		}
	}
	if m := New(); m.Read([]byte("PK\x03\x04")) == nil {
		t.Error("a foreign file is read")
	}
}
