package border

import (
	"strconv"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/spell"
	"kerfbook/wasm/unit"
)

// SavedVersion is the version of saved jobs that is read and written.
const SavedVersion = 1

// Saved is a job as a reader kept it: a calculator and what was typed. It is
// written as lines of the border, or as one JSON object with the same names.
type Saved struct {
	Calculator string
	System     unit.System
	Edition    string // digest of the edition it was saved with; "" when not said
	Inputs     []Pair // field and what was typed, with its unit
	// Unknown holds the lines that this handbook does not know, as they stood.
	Unknown []Pair
}

// SavedError says why a text is not a saved job.
type SavedError struct{ Text string }

func (e *SavedError) Error() string { return e.Text }

// ReadSaved reads a saved job. The names:
//
//	kerfbook-job  "1", the version
//	calculator    which one
//	units         metric or inch; metric when it is not said
//	edition       digest of the edition it was saved with
//	in.FIELD      what was typed, with its unit
//
// It is strict: a name twice or a wrong version is refused with a *SavedError.
// Names it does not know are kept in Unknown.
func ReadSaved(pairs []Pair) (Saved, error) {
	var s Saved
	fail := func(text string) (Saved, error) { return s, &SavedError{text} }
	version := ""
	seen := map[string]bool{}
	for _, p := range pairs {
		if seen[p.Name] {
			return fail("the name " + quoted(p.Name) + " stands twice")
		}
		seen[p.Name] = true
		switch field, isInput := strings.CutPrefix(p.Name, "in."); {
		case p.Name == "":
			return fail("a value has no name")
		case p.Name == "kerfbook-job":
			version = p.Value
		case p.Name == "calculator":
			s.Calculator = p.Value
		case p.Name == "edition":
			s.Edition = p.Value
		case p.Name == "units" && p.Value == "inch":
			s.System = unit.Inch
		case p.Name == "units" && p.Value != "metric":
			return fail("units is " + quoted(p.Value) + "; it is metric or inch")
		case p.Name == "units":
		case isInput && field == "":
			return fail("the name \"in.\" names no field; an input is in.radius, for example")
		case isInput:
			s.Inputs = append(s.Inputs, Pair{field, p.Value})
		default:
			s.Unknown = append(s.Unknown, p)
		}
	}
	own := strconv.Itoa(SavedVersion)
	switch n, err := strconv.Atoi(version); {
	case !seen["kerfbook-job"]:
		return fail("this is no saved job: the name kerfbook-job with its version is missing")
	case err == nil && n > SavedVersion:
		return fail("it was written by a newer handbook: it has version " + strconv.Itoa(n) + ", this kerfbook reads version " + own)
	case err != nil || n != SavedVersion:
		return fail("kerfbook-job is " + quoted(version) + "; it is the version, \"" + own + "\"")
	case s.Calculator == "":
		return fail("it names no calculator: the name calculator is missing or empty")
	}
	return s, nil
}

// quoted puts a value between quotation marks, shortened where it is long.
func quoted(s string) string {
	return spell.Straight(strings.ReplaceAll(spell.Short(s, 60), "\n", " "))
}

// Pairs writes the job back, unknown names included.
func (s Saved) Pairs() []Pair {
	units := "metric"
	if s.System == unit.Inch {
		units = "inch"
	}
	out := []Pair{{"kerfbook-job", strconv.Itoa(SavedVersion)}, {"calculator", s.Calculator}, {"units", units}}
	if s.Edition != "" {
		out = append(out, Pair{"edition", s.Edition})
	}
	for _, p := range s.Inputs {
		out = append(out, Pair{"in." + p.Name, p.Value})
	}
	return append(out, s.Unknown...)
}

// Input is the job as a calculator takes it. A number without its unit is
// refused, as everywhere where nobody is there to be asked.
func (s Saved) Input() calc.Input {
	in := calc.Input{Values: map[string]string{}, System: s.System, Strict: true}
	for _, p := range s.Inputs {
		in.Values[p.Name] = p.Value
	}
	return in
}

// Fit gives the inputs the names that the calculator has today, and moves those
// it does not have to Unknown, where they stay. What was done is in told, one
// sentence each.
func (s Saved) Fit(k *calc.Calculator, b *book.Book) (fitted Saved, told []string) {
	fields, _ := k.Describe(b)
	fitted = s
	fitted.Calculator, fitted.Inputs, fitted.Unknown = k.ID, nil, append([]Pair(nil), s.Unknown...)
	for _, p := range s.Unknown {
		told = append(told, "The line "+quoted(p.Name)+" is not known here; it is kept and not used.")
	}
next:
	for _, p := range s.Inputs {
		for i := range fields {
			f := &fields[i]
			if f.Name == p.Name {
				fitted.Inputs = append(fitted.Inputs, p)
				continue next
			}
			for _, old := range f.Aliases {
				if old == p.Name {
					fitted.Inputs = append(fitted.Inputs, Pair{f.Name, p.Value})
					told = append(told, "The field "+quoted(old)+" is called "+f.Name+" today.")
					continue next
				}
			}
		}
		fitted.Unknown = append(fitted.Unknown, Pair{"in." + p.Name, p.Value})
		end := k.Meant(b, p.Name)
		if end == "" {
			end = "."
		}
		told = append(told, "There is no field "+quoted(p.Name)+" here; its value "+quoted(p.Value)+" is kept and not used"+end)
	}
	return fitted, told
}

// Keep is a reply as a saved job: every field that was set or differs from its
// default, written with its unit.
func Keep(rep *calc.Reply, sys unit.System) Saved {
	s := Saved{Calculator: rep.Calculator.ID, System: sys}
	for _, f := range rep.Fields {
		if f.Text != "" && f.Text != f.Default && f.Problem == "" {
			s.Inputs = append(s.Inputs, Pair{f.Name, f.Text})
		}
	}
	return s
}
