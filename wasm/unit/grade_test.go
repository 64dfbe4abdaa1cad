package unit

import "testing"

// TestNominal: the microinches printed beside a grade are that grade (ISO 1302,
// table of N numbers, place not seen); what stands beside none is left alone.
func TestNominal(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{"16 µin", 0.4}, {"32 µin", 0.8}, {"63 µin", 1.6}, {"125 µin", 3.2}, {"250 µin", 6.3}, {"500 µin", 12.5},
		{"33 µin", 33 * 0.0254}, {"0.81 µm", 0.81}, {"0.4 µm", 0.4}, {"20 µin", 20 * 0.0254},
	} {
		rd, err := Read(c.text, RoughnessKind, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got := float64(Nominal(Roughness(rd.Range.Likely))); got < c.want-1e-12 || got > c.want+1e-12 {
			t.Errorf("%s on a print is %v µm, %v is wanted", c.text, got, c.want)
		}
	}
}
