package record

import (
	"encoding/json"
	"strings"
	"testing"
	"testing/fstest"
)

// recordText writes a record as a publication does.
func recordText(t testing.TB, e *Edition) string {
	t.Helper()
	data, err := e.Encode()
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestReadEdition(t *testing.T) {
	good := recordText(t, record())
	e, err := Read([]byte(good))
	if err != nil {
		t.Fatal(err)
	}
	if again := recordText(t, e); again != good {
		t.Errorf("a record that is read and written differs:\n%s", again)
	}
	const again = "; take edition.json from the published folder anew"
	swap := func(old, new string) string {
		if !strings.Contains(good, old) {
			t.Fatalf("the record has no %s", old)
		}
		return strings.Replace(good, old, new, 1)
	}
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", `this is not the record of a handbook: edition.json of a published folder begins with {"kerfbook":`},
		{"foreign", `{"name":"x"}`, `this is not the record of a handbook: edition.json of a published folder begins with {"kerfbook":`},
		{"cut off", good[:len(good)/2], "the record is broken at byte"},
		{"not text", swap("Trial", "Tr\xffal"), "the record is not UTF-8 text" + again},
		{"newer", swap(`{"kerfbook":2`, `{"kerfbook":3`), "the record was written by a newer handbook: it has version 3, this kerfbook reads up to 2"},
		{"no version", swap(`{"kerfbook":2`, `{"kerfbook":"two"`), "the record says version \"two\"; a version is a number from 1"},
		{"version zero", swap(`{"kerfbook":2`, `{"kerfbook":0`), "the record says version 0; a version is a number from 1"},
		{"a number for a text", swap(`"title": "Trial"`, `"title": 7`), "the record is broken: title is a number where it wants a text" + again},
		{"a text for a list", swap(`"cells": [`, `"cells": "x", "odd": [`), "the record is broken: rows.cells is a string where it wants a list" + again},
		{"a text for a number", swap(`"size": 4`, `"size": "4"`), "the record is broken: files.size is a string where it wants a whole number" + again},
		{"no digest", swap(`"digest": "d1d1d1d1d1d1"`, `"digest": ""`), "the record is broken: it lacks digest, book or wasm" + again},
		{"a file outside", swap(`"name": "how/index.html"`, `"name": "../../x"`), `the record is broken: the file "../../x" does not lie in the folder`},
		{"a row twice", swap(`"key": "two"`, `"key": "one"`), "the record is broken: the row sizes one stands twice"},
		{"an answer twice", swap("worked double 2", "worked double"), "the record is broken: the answer how/index.html worked double stands twice"},
		{"a page number twice", swap(`"pages": [`, `"pages": [{"address": "x.html", "number": "010"},`), "the record is broken: the page number 010 stands twice"},
		{"an input twice", swap(`"name": "size",`, `"name": "size", "text": "9 mm"}, {"name": "size",`), "the record is broken: the input how/index.html worked double: size stands twice"},
		{"a value twice", swap(`"name": "result",`, `"name": "result", "text": "9 mm"}, {"name": "result",`), "the record is broken: the value how/index.html worked double: result stands twice"},
		{"a row of no table", swap(`"name": "sizes"`, `"name": "seizes"`), "the record is broken: the row sizes one is of no table"},
	} {
		if _, err := Read([]byte(c.text)); err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s:\n got %v\nwant %s", c.name, err, c.want)
		}
	}
}

// TestReadOldRecord: a record of version 1 is read, and says what it lacks.
func TestReadOldRecord(t *testing.T) {
	const text = `{"kerfbook":1,"title":"Trial","owner":"Nobody","revision":"A","date":"2026-01-01","digest":"d1","book":"b1","wasm":"c1","toolchain":"go0",
"pages":[{"address":"a.html","number":"1","title":"A","check":"0123456789"}],"rows":[{"table":"sizes","key":"one","digest":"x","provenance":"cited"}],"answers":[],"counts":[],"files":[]}`
	e, err := Read([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if len(e.Tables) != 1 || e.Tables[0] != (Table{Name: "sizes", Count: 1}) || e.Rows[0].Cells != nil {
		t.Errorf("%+v", e)
	}
	if got := Compare(e, e).Text(); got != "nothing changed: Trial, revision A of 2026-01-01 (d1)\n" {
		t.Error(got)
	}
	if got, err := e.Current("0123456789"); err != nil || got != "sheet 1 “A”, revision A of 2026-01-01: current" {
		t.Error(got, err)
	}
}

func TestReadFolder(t *testing.T) {
	folder := func(change func(fstest.MapFS)) fstest.MapFS {
		out := fstest.MapFS{}
		e := record()
		e.Files = nil
		for _, name := range []string{"a.html", "b.html", "c.html", "d.html", "e/f.html"} {
			out[name] = &fstest.MapFile{Data: []byte("page")}
			e.Files = append(e.Files, File{name, Sum([]byte("page")), 4})
		}
		out["edition.json"] = &fstest.MapFile{Data: []byte(recordText(t, e))}
		out["a.html.gz"] = &fstest.MapFile{Data: []byte("a copy for a server")}
		change(out)
		return out
	}
	for _, c := range []struct {
		name   string
		change func(fstest.MapFS)
		want   string
	}{
		{"whole", func(fstest.MapFS) {}, ""},
		{"no record", func(f fstest.MapFS) { delete(f, "edition.json") }, "there is no edition.json in it; name a folder made by kerfbook publish, or the edition.json of one"},
		{"a file is missing", func(f fstest.MapFS) { delete(f, "b.html") }, "it is not whole: b.html is missing; publish it again or take a whole copy"},
		{"a file has changed", func(f fstest.MapFS) { f["e/f.html"].Data = []byte("pagf") }, "it is not whole: e/f.html was changed after it was published; publish it again or take a whole copy"},
		{"a file is cut off", func(f fstest.MapFS) { f["a.html"].Data = []byte("pa") }, "it is not whole: a.html has 2 bytes, the record says 4; publish it again or take a whole copy"},
		{"all gone", func(f fstest.MapFS) {
			for name := range f {
				if strings.HasSuffix(name, ".html") {
					delete(f, name)
				}
			}
		}, "it is not whole: a.html is missing; b.html is missing; c.html is missing; and 2 more; publish it again or take a whole copy"},
		{"a broken record", func(f fstest.MapFS) { f["edition.json"].Data = []byte("{}") }, `edition.json: this is not the record of a handbook: edition.json of a published folder begins with {"kerfbook":`},
	} {
		_, err := ReadFolder(folder(c.change))
		got := ""
		if err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

func TestCurrent(t *testing.T) {
	e := record()
	e.Pages = append(e.Pages, Page{"b.html", "020", "B", "11111-99999", "", ""}, Page{"c.html", "030", "C", "01234-abcde", "", ""})
	e.Tables = append(e.Tables, Table{"combs", "Combs", "2468ace024", 3})
	half := Sum([]byte("table combs"))[:codePart]
	for _, c := range []struct{ code, want string }{
		{"01234-abcde", "sheet T-030 “C”, revision A of 2026-01-01: current"},
		{" OI234 ABCDE", "sheet T-030 “C”, revision A of 2026-01-01: current"},
		{"01234abcde", "sheet T-030 “C”, revision A of 2026-01-01: current"},
		{"01234-00000", "sheet T-030 “C” has changed since that print; that of revision A of 2026-01-01 is the current one"},
		{"11111-00000", "sheet T-010 “How?” or sheet T-020 “B” has changed since that print; that of revision A of 2026-01-01 is the current one"},
		{"d1d1d1d1d1", "the code is that of the whole handbook, revision A of 2026-01-01: current"},
		{half + "-2468a", "table “Combs”, revision A of 2026-01-01: current"},
		{half + "-00000", "table “Combs” has changed since that print; that of revision A of 2026-01-01 is the current one"},
		{"54321-00000", "no sheet of this edition (revision A of 2026-01-01) has the code 54321-00000: the print is from another edition or another handbook"},
		{"12345", `"12345" is no check code: it has 5 letters and digits; a check code is ten letters and digits from the title block, for example 3f0a2-9c41e`},
		{"1234567890123", `"1234567890123" is no check code: it has 13 letters and digits; a check code is ten letters and digits from the title block, for example 3f0a2-9c41e`},
		{"wire", `"wire" is no check code: “w” never stands in one; a check code is ten letters and digits from the title block, for example 3f0a2-9c41e`},
	} {
		got, err := e.Current(c.code)
		if err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("%q:\n got %s\nwant %s", c.code, got, c.want)
		}
	}
}

// FuzzReadEdition: no bytes make it panic, and what is read can be compared,
// printed and asked.
func FuzzReadEdition(f *testing.F) {
	f.Add(recordText(f, record()), "01234-abcde")
	f.Add(`{"kerfbook":1,"digest":"d","book":"b","wasm":"c","rows":[{"table":"a","key":"b"}]}`, "x")
	f.Add(`{"kerfbook":2,"digest":"é","book":"b","wasm":"c","answers":[{"id":"#"},{"id":"a","rows":[" ","a"]}],"pages":[{"address":"a","check":"-"}]}`, "")
	good := record()
	f.Fuzz(func(t *testing.T, text, code string) {
		_, _ = good.Current(code)
		e, err := Read([]byte(text))
		if err != nil {
			return
		}
		_, _ = e.Current(code)
		if got := Compare(e, e); !got.Same {
			t.Errorf("an edition differs from itself: %s", got.Text())
		}
		for _, c := range []*Changes{Compare(e, good), Compare(good, e)} {
			if _, err := json.Marshal(c); err != nil {
				t.Error(err)
			}
			c.Text()
			c.Sections()
		}
	})
}
