package wire

import (
	"testing"

	"kerfbook/testdata/near"
	"kerfbook/wasm/unit"
)

// TestLaws holds the formulas against identities and scalings.
func TestLaws(t *testing.T) {
	for _, d := range []unit.Length{0.02, 0.1, 0.25, 0.33} {
		near.Share(t, "pull of the breaking load", float64(Pull(Breaking(900, d), d)), 900, 1e-12)
		near.Share(t, "twice the diameter, four times the load", float64(Breaking(900, 2*d)), 4*float64(Breaking(900, d)), 1e-12)
		near.Share(t, "stiffness against itself", float64(Stiffer(105000, d, 105000, d)), 1, 1e-12)
		near.Share(t, "there and back", float64(Stiffer(105000, d, 200000, 0.1)*Stiffer(200000, 0.1, 105000, d)), 1, 1e-12)
		near.Share(t, "twice the feed, half the time", float64(Lasts(5000, PerMetre(8.44, d), 20000)), float64(Lasts(5000, PerMetre(8.44, d), 10000))/2, 1e-12)
	}
	// Half the diameter keeps a quarter of the section and a sixteenth of the
	// stiffness; no tension pulls nothing.
	near.Share(t, "section", float64(Section(0.1)/Section(0.2)), 0.25, 1e-12)
	near.Share(t, "stiffness", float64(Stiffer(1, 0.1, 1, 0.2)), 1.0/16, 1e-12)
	if Pull(0, 0.1) != 0 {
		t.Error("no tension pulls something")
	}
}
