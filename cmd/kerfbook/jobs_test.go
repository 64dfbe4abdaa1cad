package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"kerfbook/site"
	"kerfbook/wasm/border"
)

const jobFolder = "../../testdata/jobs"

func TestMain(m *testing.M) {
	flag.Bool("update", false, "rewrite the words of expected sheets, never their numbers; put new names on the list of public names")
	flag.Parse()
	// Commands remember answers in a folder of the tests' own.
	dir, err := os.MkdirTemp("", "kerfbook-memory-")
	if err == nil {
		err = os.Setenv("KERFBOOK_MEMORY", dir)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	code := m.Run()
	_ = os.RemoveAll(dir)
	os.Exit(code)
}

var digits = regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)

// numbersOf are the numbers of a text, in order of size as words, so that words
// may change places.
func numbersOf(text string) []string {
	n := digits.FindAllString(text, -1)
	slices.Sort(n)
	return n
}

// TestJobSheets: every saved job of testdata/jobs gives the whole text that stands
// beside it. With -update the words are written anew; a number is not: a sheet
// whose numbers changed has to be read, and its file removed, before a new one is
// written. What cannot be cut as printed is an answer, exit 0.
func TestJobSheets(t *testing.T) {
	names, err := filepath.Glob(jobFolder + "/*.json")
	if err != nil || len(names) < 12 {
		t.Fatalf("%d jobs: %v", len(names), err)
	}
	rewrite := flag.Lookup("update").Value.String() == "true"
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			code, got, errs := work("job", "--from", name)
			if code != 0 || errs != "" {
				t.Fatalf("exit %d: %s", code, errs)
			}
			golden := strings.TrimSuffix(name, ".json") + ".txt"
			want, err := os.ReadFile(golden)
			if rewrite && (os.IsNotExist(err) || err == nil && slices.Equal(numbersOf(got), numbersOf(string(want)))) {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("%s", difference(got, string(want)))
			}
		})
	}
}

func difference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range g {
		if i >= len(w) || g[i] != w[i] {
			return "says  " + g[i] + "\nwants " + w[min(i, len(w)-1)]
		}
	}
	return "lines are missing at the end: " + w[len(g)]
}

// handIn runs work with a text on standard input, through a pipe or from a file.
func handIn(t *testing.T, text string, pipe bool, args ...string) (int, string, string) {
	t.Helper()
	var in *os.File
	if pipe {
		r, w, err := os.Pipe()
		if err != nil {
			t.Fatal(err)
		}
		go func() {
			_, _ = io.WriteString(w, text)
			_ = w.Close()
		}()
		in = r
	} else {
		name := filepath.Join(t.TempDir(), "job")
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		in = f
	}
	defer in.Close()
	var out, errs bytes.Buffer
	code := runWith(append([]string{"work", "--content", "../../content"}, args...), in, &out, &errs)
	return code, out.String(), errs.String()
}

// TestWorkHanded: a saved job on standard input is answered; what it holds that is
// not known is told, and nothing handed in is no job.
func TestWorkHanded(t *testing.T) {
	_, plain, _ := work("job")
	_, sharp, _ := work("job", "asks=sharp")
	const job = `{"kerfbook-job":"1","calculator":"job","in.asks":"sharp"`
	for _, c := range []struct {
		text, id  string
		pipe      bool
		code      int
		out, errs string
	}{
		{job + "}", "job", true, 0, sharp, ""},
		{job + "}", "job", false, 0, sharp, ""},
		{"kerfbook-job\t1\ncalculator\tjob\nin.asks\tsharp\n", "job", true, 0, sharp, ""},
		{"", "job", true, 0, plain, ""},
		{"", "job", false, 1, "", "kerfbook: standard input: the file is empty; a saved job is JSON or lines of name, tab, value\n"},
		{job + `,"in.raduis":"1 mm","note":"x"}`, "job", true, 0, sharp, "standard input: The line \"note\" is not known here; it is kept and not used.\nstandard input: There is no field \"raduis\" here; its value \"1 mm\" is kept and not used; did you mean \"radius\"?\n"},
		{job, "job", true, 1, "", "kerfbook: standard input: the JSON ends too early; the file was cut off\n"},
		{job + "}", "corner", true, 1, "", "kerfbook: standard input: this job is of the calculator job, not of corner\n"},
		{`{"kerfbook-job":"1","calculator":"job","in.radius":"3"}`, "job", true, 1, "", "radius: “3” has no unit; write a number and mm, µm, thou, tenths or in, for example 3 thou\n"},
	} {
		code, out, errs := handIn(t, c.text, c.pipe, c.id)
		if code != c.code || out != c.out || errs != c.errs {
			t.Errorf("%q to %s: exit %d, %q, want %d, %q\n%s", c.text, c.id, code, errs, c.code, c.errs, difference(out, c.out))
		}
	}
	// Inputs typed leave standard input alone.
	if _, out, _ := handIn(t, job, true, "job", "asks=sharp"); out != sharp {
		t.Error(difference(out, sharp))
	}
}

// TestWorkFolder: a folder of saved jobs is one line a job; what cannot be
// answered is named at the end and the others are answered.
func TestWorkFolder(t *testing.T) {
	dir := t.TempDir()
	put := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put("a.json", `{"kerfbook-job":"1","calculator":"job","in.part":"<b>comb</b> & die"}`)
	put("b.job", "kerfbook-job\t1\ncalculator\tjob\nin.asks\tsharp\nin.use-passes\t1\nshape\tround\n")
	put("c.json", `{"kerfbook-job":"1","calculator":"corner"}`)
	put("notes.txt", "no job")
	want := "a.json  yes  0.25 mm  water  4 passes  Ra 0.44 µm  0.94 h  49.85\n" +
		"b.job   no   0.25 mm  water  1 pass    Ra 2.82 µm  0.44 h  22.85\n" +
		"c.json  Yes, with ⌀ 0.25 mm\n"
	code, out, errs := work("--from", dir)
	want += "\n3 jobs: 2 can be cut, 0 only if something is changed, 1 not as printed.\n\nRead in part:\n- b.job: The line \"shape\" is not known here; it is kept and not used.\n"
	if code != 0 || errs != "" || out != want {
		t.Errorf("exit %d %s\n%s", code, errs, difference(out, want))
	}
	put("d.json", "{")
	put("e.json", `{"kerfbook-job":"1","calculator":"job","in.radius":"3"}`)
	code, out, _ = work("--from", dir)
	if want := "\nNot answered:\n- d.json: the JSON ends too early; the file was cut off\n- e.json: radius: “3” has no unit; write a number and mm, µm, thou, tenths or in, for example 3 thou\n"; code != 1 || !strings.HasSuffix(out, want) {
		t.Errorf("exit %d, says\n%s\nwants at its end\n%s", code, out, want)
	}
	code, out, _ = work("--from", dir, "--json")
	var list []struct {
		Name, Error, Verdict string
		Told                 []string
	}
	if err := json.Unmarshal([]byte(out), &list); err != nil || code != 1 || len(list) != 5 || list[1].Verdict != "No" || list[1].Told == nil || list[3].Error == "" {
		t.Errorf("exit %d, %v, %+v", code, err, list)
	}
	pages := filepath.Join(dir, "pages")
	code, out, errs = work("--from", dir, "--html", "--save", pages)
	if code != 1 || out != "2 pages written to "+pages+"\n" || !strings.HasPrefix(errs, "c.json: corner gives no sheet, so it has no page\nd.json: ") {
		t.Errorf("exit %d, %q, %q", code, out, errs)
	}
	page, err := os.ReadFile(filepath.Join(pages, "a.html"))
	if err != nil {
		t.Fatal(err)
	}
	code, alone, _ := work("--from", filepath.Join(dir, "a.json"), "--html")
	if code != 0 || alone != string(page) {
		t.Errorf("exit %d: the page alone is another", code)
	}
	for _, want := range []string{"<h1>Job sheet: &lt;b&gt;comb&lt;/b&gt; &amp; die</h1>", "<h2>Decisions</h2>", "<h2>Passes</h2>", "<h2>To check</h2>", "<dt>Check code of the tables</dt>"} {
		if !strings.Contains(alone, want) {
			t.Errorf("the page does not hold %s", want)
		}
	}
	for _, not := range []string{"<script", "<b>comb", "src=", "http"} {
		if strings.Contains(alone, not) {
			t.Errorf("the page holds %s", not)
		}
	}
}

// TestWorkWrite: a job made at the command line is read back as the same sheet.
func TestWorkWrite(t *testing.T) {
	name := filepath.Join(t.TempDir(), "new.json")
	code, out, errs := work("job", "material=carbide", "radius=0.1 mm", "part=a \"b\" <c>", "--write", name)
	if code != 0 || errs != "the job is written to "+name+"\n" {
		t.Fatalf("exit %d: %s", code, errs)
	}
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if want := "{\n  \"kerfbook-job\": \"1\",\n  \"calculator\": \"job\",\n  \"units\": \"metric\",\n  \"in.radius\": \"0.1 mm\",\n  \"in.material\": \"carbide\",\n  \"in.part\": \"a \\\"b\\\" <c>\"\n}\n"; string(text) != want {
		t.Errorf("writes\n%s\nwants\n%s", text, want)
	}
	if code, again, errs := work("--from", name); code != 0 || again != out || errs != "" {
		t.Errorf("exit %d %s: %s", code, errs, difference(again, out))
	}
	// A choice goes into the file by its own name, what a print says as it was typed.
	if code, out, errs := work("job", "material=1.2379", "radius=R0.1 mm max", "--write", name); code != 0 || !strings.Contains(out, `Material: "1.2379" is read as tool steel D2 (1.2379).`) {
		t.Errorf("exit %d, %s: %s", code, errs, out)
	}
	if text, err := os.ReadFile(name); err != nil || !strings.Contains(string(text), `"in.radius": "R0.1 mm max",`) || !strings.Contains(string(text), `"in.material": "steel"`) {
		t.Errorf("writes %s %v", text, err)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"job", "radius=3", "--write", name + "2"}, "radius: “3” has no unit; write a number and mm, µm, thou, tenths or in, for example 3 thou\n"},
		{[]string{"job", "radius=1 mm", "--from", name}, "kerfbook: --from takes the inputs from " + name + "; leave out radius=1 mm\n"},
		{[]string{"--from", name + "3"}, "kerfbook: there is no saved job " + name + "3\n"},
		{[]string{"--from", filepath.Dir(name), "--html"}, "kerfbook: a page for each job wants a folder: name it with --save\n"},
		{[]string{"--from", filepath.Dir(name), "--write", "x"}, "kerfbook: --write writes one job; --from names a folder of them\n"},
		{[]string{"--from", t.TempDir()}, "kerfbook: there are no saved jobs in "},
	} {
		if code, _, errs := work(c.args...); code != 1 || !strings.HasPrefix(errs, c.want) {
			t.Errorf("%v: exit %d, %q, want %q", c.args, code, errs, c.want)
		}
	}
	if _, err := os.Stat(name + "2"); err == nil {
		t.Error("a job that was refused is written all the same")
	}
}

// TestJobSchema: the published schema names every field of every calculator and
// no other, and the jobs of testdata keep what it asks for.
func TestJobSchema(t *testing.T) {
	o := options("../../content")
	o.Wasm = []byte("wasm")
	sink := &lockedFiles{files: site.Files{}}
	if _, err := site.Publish(t.Context(), o, sink); err != nil {
		t.Fatal(err)
	}
	type node struct {
		Schema     string `json:"$schema"`
		Type       string
		Const      string
		Enum       []string
		Required   []string
		Properties map[string]node
		OneOf      []node
	}
	var root node
	if err := json.Unmarshal(sink.files["job-schema.json"], &root); err != nil {
		t.Fatal(err)
	}
	if root.Schema != "https://json-schema.org/draft/2020-12/schema" || !strings.Contains(string(sink.files["contents.html"]), `href="job-schema.json"`) {
		t.Error("the schema does not say its draft, or the contents do not name it")
	}
	b, _ := canonicalBook(t)
	set, err := o.Calculators(b)
	if err != nil {
		t.Fatal(err)
	}
	cases := map[string]node{}
	for _, c := range root.OneOf {
		cases[c.Properties["calculator"].Const] = c
	}
	for _, k := range set.All() {
		c := cases[k.ID]
		fields, _ := k.Describe(b)
		for _, f := range fields {
			if c.Properties["in."+f.Name].Type != "string" {
				t.Errorf("%s: the schema does not name %s", k.ID, f.Name)
			}
		}
		if len(c.Properties) != len(fields)+1 {
			t.Errorf("%s: the schema has %d names, the calculator %d fields", k.ID, len(c.Properties), len(fields))
		}
	}
	known := (border.Saved{Calculator: "x", Edition: "x"}).Pairs()
	for _, p := range known {
		if _, ok := root.Properties[p.Name]; !ok && p.Name != "calculator" {
			t.Errorf("the schema does not name %s", p.Name)
		}
	}
	for name := range root.Properties {
		if !slices.ContainsFunc(known, func(p border.Pair) bool { return p.Name == name }) {
			t.Errorf("a saved job has no name %s", name)
		}
	}
	names, _ := filepath.Glob(jobFolder + "/*.json")
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var job map[string]string
		if err := json.Unmarshal(text, &job); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, r := range root.Required {
			if job[r] == "" {
				t.Errorf("%s has no %s", name, r)
			}
		}
		c, ok := cases[job["calculator"]]
		if !ok {
			t.Errorf("%s is of no calculator: %s", name, job["calculator"])
		}
		for n, v := range job {
			p, is := root.Properties[n]
			if !is {
				if p, is = c.Properties[n]; !is {
					t.Errorf("%s: the schema does not name %s", name, n)
				}
			}
			if p.Const != "" && v != p.Const || len(p.Enum) > 0 && !slices.Contains(p.Enum, v) {
				t.Errorf("%s: %s is %q", name, n, v)
			}
		}
	}
}
