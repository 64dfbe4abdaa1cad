package site

import (
	"strings"
	"testing"
	"testing/fstest"

	"kerfbook/site/diag"
)

// TestStaleCut: a cut older than its rebuilt machine is named, until it is withdrawn or holds
// again; a day that cannot be read is refused at its place.
func TestStaleCut(t *testing.T) {
	for _, c := range []struct{ columns, row, says string }{
		{"withdrawn", "1.5.2026", "shop/data/cuts.csv:2:3: error: the column “withdrawn” wants a day written as 2026-02-11, this is “1.5.2026”"},
		{"remark", "odd", "shop/data/cuts.csv:2:1: warning: the cut “A” counts no more: older than the rebuild of quay on 2026-03-01"},
		{"withdrawn", "2026-05-01", ""},
		{"valid_from", "2026-03-02", ""},
	} {
		files := handbookFiles()
		files["data/machines.csv"] = &fstest.MapFile{Data: []byte("# title: Cards\n# key: machine\nmachine,name,rebuilt,source,place,provenance\nquay,Quay,2026-03-01,,,invented\nloft,Loft,,,,invented\n")}
		files["data/cuts.csv"] = &fstest.MapFile{Data: []byte("# title: Cuts\n# key: cut\ncut,machine,on,withdrawn,valid_from,remark,source,place,provenance\nA,quay,2026-01-05,,,,,,measured\n")}
		o := withShop(shopFolder("data/cuts.csv", "cut,"+c.columns+"\nA,"+c.row+"\n"))
		o.Content = files
		res, _ := Check(o)
		var told strings.Builder
		if err := diag.Render(&told, res.Messages, res.Texts, res.Pages); err != nil {
			t.Fatal(err)
		}
		if said := told.String(); !strings.Contains(said, c.says) || c.says == "" && strings.Contains(said, "cuts.csv") {
			t.Errorf("%s %q:\n%s", c.columns, c.row, said)
		}
	}
}
