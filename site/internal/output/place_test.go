package output

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// refused checks that Open refuses dir and changes nothing.
func refused(t *testing.T, dir string, protect []string, reason Reason, want string) {
	t.Helper()
	e, err := Open(Disk(), dir, Options{Protect: protect})
	if err == nil {
		e.Abort()
	}
	says(t, err, reason, want)
}

func TestForeignFolders(t *testing.T) {
	tests := []struct {
		name  string
		files tree // a name that ends in a slash is a folder
		want  string
	}{
		{"other files", tree{"letter.txt": "", "photo.png": "", "a.txt": "", "b/": "", "c/": ""},
			"the folder holds a.txt, b, c and 2 more and was not made by kerfbook; choose an empty folder or a new name"},
		{"another record", tree{"edition.json": `{"number": 3}`},
			"the folder holds edition.json and was not made by kerfbook; choose an empty folder or a new name"},
		{"a space before the head", tree{"edition.json": ` {"kerfbook": 1}`},
			"the folder holds edition.json and was not made by kerfbook; choose an empty folder or a new name"},
		{"a broken record", tree{"edition.json": `{"kerfbook": 1, `},
			"its edition.json cannot be read (it is not one whole JSON text), so it is not certain what kerfbook wrote there; move the folder away or choose another"},
		{"a file added by hand", tree{"edition.json": `{"kerfbook": 1, "files": ["a.html"]}`, "a.html": "", "a.html.gz": "", "notes.txt": ""},
			"kerfbook did not write notes.txt, and publishing would delete it; move it out of the folder first"},
		{"a repository", tree{"edition.json": `{"kerfbook": 1, "files": ["a.html"]}`, ".git/": "", ".git/HEAD": "", "CNAME": "", "b/c/d.html": ""},
			"kerfbook did not write .git/, CNAME, b/c/d.html, and publishing would delete it; move it out of the folder first"},
		{"a compressed file of its own", tree{"edition.json": `{"kerfbook": 1, "files": ["a.html"]}`, "old.tar.gz": "", "b.html.gz": ""},
			"kerfbook did not write b.html.gz, old.tar.gz, and publishing would delete it; move it out of the folder first"},
		{"files called as the record calls something else", tree{"edition.json": `{"kerfbook": 1, "notes.txt": ["steel/0.25"], "files": ["a.html", "wire"]}`, "a.html": "", "notes.txt": "", "steel/0.25": "", "wire": ""},
			"kerfbook did not write notes.txt, steel/0.25, wire, and publishing would delete it; move it out of the folder first"},
		{"empty folders", tree{"edition.json": `{"kerfbook": 1, "files": ["b/a.html"]}`, "b/a.html": "", "b/c/d/": "", "e/": ""},
			"kerfbook did not write b/c/d/, e/, and publishing would delete it; move it out of the folder first"},
		{"a record that lists nothing", tree{"edition.json": `{"kerfbook": 1}`, "a.html": ""},
			"kerfbook did not write a.html, and publishing would delete it; move it out of the folder first"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := newPlace(t)
			for name, content := range tt.files {
				full := filepath.Join(dir, filepath.FromSlash(name))
				if strings.HasSuffix(name, "/") {
					must(t, os.MkdirAll(full, 0o755))
					continue
				}
				must(t, os.MkdirAll(filepath.Dir(full), 0o755))
				must(t, os.WriteFile(full, []byte(content), 0o644))
			}
			was := read(t, dir)
			refused(t, dir, nil, Foreign, "cannot publish to "+dir+": "+tt.want)
			holds(t, dir, was)
			alone(t, dir)
		})
	}
}

// Somebody puts a file into the folder while the new edition is being written.
func TestForeignFileBeforeCommit(t *testing.T) {
	for _, first := range []bool{true, false} {
		dir := newPlace(t)
		want := tree{"mine.txt": "mine"}
		if !first {
			must(t, publish(Disk(), dir, before(), Options{}))
			want = before()
			want["mine.txt"] = "mine"
		}
		e, err := Open(Disk(), dir, Options{})
		must(t, err)
		must(t, fill(e, after()))
		must(t, os.MkdirAll(dir, 0o755))
		must(t, os.WriteFile(filepath.Join(dir, "mine.txt"), []byte("mine"), 0o644))
		if err := e.Commit(); reason(err) != Foreign {
			t.Errorf("got %v", err)
		}
		e.Abort()
		holds(t, dir, want)
		alone(t, dir)
	}
}

func TestNotAFolder(t *testing.T) {
	dir := newPlace(t)
	must(t, os.WriteFile(dir, nil, 0o644))
	refused(t, dir, nil, Foreign, "cannot publish to "+dir+": it is not a folder; choose another name")
	below := filepath.Join(dir, "deep", "site")
	refused(t, below, nil, Foreign, "cannot find "+below+": a part of the path is a file, not a folder; choose another path")
	alone(t, dir)
	holds(t, filepath.Dir(dir), tree{"site": ""})
	refused(t, "", nil, Protected, "no folder is named; name the folder that the edition goes to")
}

func TestLinks(t *testing.T) {
	real := clean(t)
	link := newPlace(t)
	must(t, os.Symlink(real, link))
	refused(t, link, nil, Foreign, "cannot publish to "+link+": it is a link to "+real+"; publish to that folder itself")
	if said, err := Heal(Disk(), link); said != "" || err != nil {
		t.Errorf("heal through a link: %q, %v", said, err)
	}

	nowhere := newPlace(t)
	must(t, os.Symlink(filepath.Join(filepath.Dir(nowhere), "gone"), nowhere))
	refused(t, nowhere, nil, Foreign, "cannot publish to "+nowhere+": it is a link that leads nowhere; remove it or choose another folder")

	parent := newPlace(t)
	must(t, os.Symlink(filepath.Dir(real), parent))
	e, err := Open(Disk(), filepath.Join(parent, "site"), Options{})
	must(t, err)
	defer e.Abort()
	if e.Dir() != real {
		t.Errorf("goes to %s", e.Dir())
	}
	if got, want := strings.Join(e.Notes(), "\n"), parent+" leads through a link: the edition is at "+real; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	must(t, fill(e, after()))
	must(t, e.Commit())
	holds(t, real, after())

	// A link that somebody put into the edition is not followed when the edition is replaced.
	treasure := filepath.Join(t.TempDir(), "treasure")
	must(t, os.WriteFile(treasure, []byte("kept"), 0o644))
	must(t, os.Remove(filepath.Join(real, "index.html")))
	must(t, os.Symlink(treasure, filepath.Join(real, "index.html")))
	refused(t, real, nil, Foreign, "cannot publish to "+real+": kerfbook did not write index.html, and publishing would delete it; move it out of the folder first")
}

func TestProtected(t *testing.T) {
	parent, err := filepath.EvalSymlinks(t.TempDir())
	must(t, err)
	at := func(parts ...string) string { return filepath.Join(append([]string{parent}, parts...)...) }
	for _, name := range []string{"project/content/handbook", "project/overlay", "home/me", "here/deep"} {
		must(t, os.MkdirAll(at(filepath.FromSlash(name)), 0o755))
	}
	must(t, os.Symlink(at("project", "content"), at("by-link")))
	t.Setenv("HOME", at("home", "me"))
	t.Setenv("USERPROFILE", at("home", "me"))
	t.Chdir(at("here", "deep"))

	content, missing, byLink := at("project", "content"), at("project", "not-yet"), at("by-link")
	own := "; choose a folder of its own for the edition"
	tests := []struct {
		dir, protect, want string
	}{
		{content, content, ": it is " + content + ", which is read to make the edition" + own},
		{content, byLink, ": it is " + byLink + ", which is read to make the edition" + own},
		{at("project"), content, ": it holds " + content + ", which is read to make the edition" + own},
		{at("project"), byLink, ": it holds " + byLink + ", which is read to make the edition" + own},
		{at("project"), missing, ": it holds " + missing + ", which is read to make the edition" + own},
		{at("project", "content", "site"), content, ": it lies in " + content + ", which is read to make the edition; choose a folder outside it"},
		{at("project", "content", "new", "site"), byLink, ": it lies in " + byLink + ", which is read to make the edition; choose a folder outside it"},
		{at("home", "me"), content, ": it is your home folder" + own},
		{at("home"), content, ": it holds your home folder" + own},
		{at("here", "deep"), content, ": it is the folder where the command was started" + own},
		{at("here"), content, ": it holds the folder where the command was started" + own},
	}
	for _, tt := range tests {
		refused(t, tt.dir, []string{tt.protect}, Protected, "cannot publish to "+tt.dir+tt.want)
	}
	root := filepath.VolumeName(parent) + string(filepath.Separator)
	refused(t, root, nil, Protected, "cannot publish to "+root+": it is the root of a disk"+own)

	// Beside them is right, also below home and below the folder of the command.
	for _, dir := range []string{at("project", "site"), at("project", "content-site"), at("home", "me", "site"), "site"} {
		must(t, publish(Disk(), dir, before(), Options{Protect: []string{content, at("project", "overlay"), missing}}))
	}
	holds(t, at("here", "deep", "site"), before())
}
