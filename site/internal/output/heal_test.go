package output

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// lay makes files below parent; a name that ends in a slash is a folder.
func lay(t *testing.T, parent string, files tree) {
	t.Helper()
	for name, content := range files {
		full := filepath.Join(parent, filepath.FromSlash(name))
		if strings.HasSuffix(name, "/") {
			must(t, os.MkdirAll(full, 0o755))
			continue
		}
		must(t, os.MkdirAll(filepath.Dir(full), 0o755))
		must(t, os.WriteFile(full, []byte(content), 0o644))
	}
}

// at puts every file of an edition under a prefix.
func at(prefix string, files tree) tree {
	moved := tree{}
	for name, content := range files {
		moved[prefix+name] = content
	}
	return moved
}

func merge(trees ...tree) tree {
	all := tree{}
	for _, one := range trees {
		for name, content := range one {
			all[name] = content
		}
	}
	return all
}

// What a folder and its neighbours become, written out.
func TestHeal(t *testing.T) {
	const stage = ".kerfbook-new-site-0123456789abcdef/"
	mark := tree{stage + markName: markText}
	written := tree{".kerfbook-swap-site.note": note{"site", strings.TrimSuffix(stage, "/")}.text()}
	half := before()
	delete(half, Record)
	tests := []struct {
		name       string
		was, after tree
		said, err  string // DIR stands for the folder, P for its parent
	}{
		{"nothing", tree{}, tree{}, "", ""},
		{"an edition", at("site/", before()), at("site/", before()), "", ""},
		{"a folder of somebody else", tree{"site/a.txt": "a"}, tree{"site/a.txt": "a"}, "", ""},
		{"a lock of the dead", tree{".kerfbook-lock-site": "process 1\n"}, tree{}, "", ""},
		{"a staging folder", merge(at("site/", before()), mark, at(stage+"edition/", half)), at("site/", before()),
			"removed what an interrupted publication had left beside DIR", ""},
		{"a complete staging folder, first publication", merge(mark, at(stage+"edition/", after())), tree{},
			"removed what an interrupted publication had left beside DIR", ""},
		{"an empty staging folder", tree{stage: ""}, tree{},
			"removed what an interrupted publication had left beside DIR", ""},
		{"half a mark", tree{stage + markName: markText[:20]}, tree{},
			"removed what an interrupted publication had left beside DIR", ""},
		{"a folder of that name without the mark", tree{stage + "letter.txt": "dear"}, tree{stage + "letter.txt": "dear"},
			"left P/.kerfbook-new-site-0123456789abcdef alone, because kerfbook did not make it", ""},
		{"another mark", tree{stage + markName: "mine", stage + "x": ""}, tree{stage + markName: "mine", stage + "x": ""},
			"left P/.kerfbook-new-site-0123456789abcdef alone, because kerfbook did not make it", ""},
		{"a staging folder of a neighbour", tree{".kerfbook-new-site-b-0123456789abcdef/" + markName: markText}, tree{".kerfbook-new-site-b-0123456789abcdef/" + markName: markText}, "", ""},
		{"other digits", tree{".kerfbook-new-site-0123456789ABCDEF/" + markName: markText, ".kerfbook-new-site-0123/" + markName: markText},
			tree{".kerfbook-new-site-0123456789ABCDEF/" + markName: markText, ".kerfbook-new-site-0123/" + markName: markText}, "", ""},
		{"a note, before the first rename", merge(at("site/", before()), mark, written, at(stage+"edition/", after())), at("site/", before()),
			"removed what an interrupted publication had left beside DIR", ""},
		{"between the renames", merge(mark, written, at(stage+"edition/", after()), at(stage+"former/", before())), at("site/", before()),
			"put back the former edition of DIR, because a publication was interrupted; removed what an interrupted publication had left beside DIR", ""},
		{"between the renames, the note lost", merge(mark, at(stage+"edition/", after()), at(stage+"former/", before())), at("site/", before()),
			"put back the former edition of DIR, because a publication was interrupted", ""},
		{"between the renames, the former one empty", merge(mark, written, at(stage+"edition/", after()), tree{stage + "former/": ""}), tree{},
			"put back the former edition of DIR, because a publication was interrupted; removed what an interrupted publication had left beside DIR", ""},
		{"between the renames, the former one damaged", merge(mark, written, at(stage+"edition/", after()), at(stage+"former/", half)), at("site/", after()),
			"finished the publication to DIR that was interrupted; removed what an interrupted publication had left beside DIR", ""},
		{"after the renames", merge(at("site/", after()), mark, written, at(stage+"former/", half)), at("site/", after()),
			"removed what an interrupted publication had left beside DIR", ""},
		{"after the renames, the new one then deleted by hand", merge(mark, at(stage+"former/", half)), tree{},
			"removed what an interrupted publication had left beside DIR", ""},
		{"a note alone", written, tree{}, "removed what an interrupted publication had left beside DIR", ""},
		{"half a note", merge(at("site/", before()), tree{".kerfbook-swap-site.note": written[".kerfbook-swap-site.note"][:200]}), at("site/", before()),
			"removed what an interrupted publication had left beside DIR", ""},
		{"an empty note", merge(at("site/", before()), tree{".kerfbook-swap-site.note": ""}), at("site/", before()),
			"removed what an interrupted publication had left beside DIR", ""},
		{"something else at the place of a missing edition", merge(tree{"site/a.txt": "a"}, mark, at(stage+"former/", before())), merge(tree{"site/a.txt": "a"}, mark, at(stage+"former/", before())), "",
			"cannot put back the edition of DIR, which an interrupted publication left in P/.kerfbook-new-site-0123456789abcdef: something else stands at its place; move that away"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := newPlace(t)
			parent := filepath.Dir(dir)
			lay(t, parent, tt.was)
			said, err := Heal(Disk(), dir)
			full := strings.NewReplacer("DIR", dir, "P/", parent+string(filepath.Separator))
			if want := full.Replace(tt.said); said != want {
				t.Errorf("said %q\nwant %q", said, want)
			}
			if want := full.Replace(tt.err); want != "" {
				says(t, err, Foreign, want)
			} else if err != nil {
				t.Error(err)
			}
			holds(t, parent, tt.after)
			again, err := Heal(Disk(), dir)
			if strings.HasPrefix(said, "left ") {
				return
			}
			if again != "" || (err != nil) != (tt.err != "") {
				t.Errorf("the second time: %q, %v", again, err)
			}
		})
	}
}

func TestHealWhereThereIsNothing(t *testing.T) {
	if said, err := Heal(Disk(), filepath.Join(newPlace(t), "deep")); said != "" || err != nil {
		t.Errorf("%q, %v", said, err)
	}
}

// The publication that finds what another one left says so.
func TestOpenHeals(t *testing.T) {
	dir := clean(t)
	lay(t, filepath.Dir(dir), tree{".kerfbook-new-site-0123456789abcdef/" + markName: markText})
	e, err := Open(Disk(), dir, Options{})
	must(t, err)
	defer e.Abort()
	if got, want := fmt.Sprint(e.Notes()), "[removed what an interrupted publication had left beside "+dir+"]"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// The note is read by people too.
func TestNoteText(t *testing.T) {
	got := note{"site", ".kerfbook-new-site-0123456789abcdef"}.text()
	want := `kerfbook is replacing a folder in two steps. Any kerfbook command for the folder ends this and removes the note.
By hand: if the folder is missing, move the new or the former edition to its place.
folder: "site"
staging: ".kerfbook-new-site-0123456789abcdef"
new: ".kerfbook-new-site-0123456789abcdef/edition"
former: ".kerfbook-new-site-0123456789abcdef/former"
end
`
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// A folder's name may hold anything that the system allows.
func TestStrangeFolderNames(t *testing.T) {
	for _, name := range []string{"with space", "with\nbreak", `with"quote`, "Größe", "-", ".hidden", strings.Repeat("ä", 100)} {
		dir := filepath.Join(filepath.Dir(newPlace(t)), name)
		for _, content := range []tree{before(), after()} {
			must(t, publish(&script{on: Disk(), twoWay: true}, dir, content, Options{}))
			holds(t, dir, content)
			alone(t, dir)
		}
	}
}
