package record

// Job is a saved job answered with the tables of both editions. The command
// answers it: site knows no calculator.
type Job struct {
	Name, Calculator string
	Old, New         Answer
	// OldRefused and NewRefused say why there is no answer; "" when there is one.
	OldRefused, NewRefused string
}

// Unanswered is the state of a job that neither edition answers.
const Unanswered State = "unanswered"

// JobChange is a saved job whose answer changed, or that is not answered.
type JobChange struct {
	State      State   `json:"state"`
	Name       string  `json:"name"`
	Calculator string  `json:"calculator"`
	Values     []Moved `json:"values"`
	Causes     []Cause `json:"causes"`
	Said       string  `json:"said,omitempty"`
}

// Rerun adds saved jobs to a comparison, and notes on those that could not be
// read as they stand. Both answers come from one program, so
// the calculators are no cause here; where they differ between the editions it
// says that this was not tried.
func (c *Changes) Rerun(old, now *Edition, jobs []Job, notes []string) {
	d := newDiff(old, now)
	c.JobsRead += len(jobs)
	for _, j := range jobs {
		ch := JobChange{State: Changed, Name: j.Name, Calculator: j.Calculator, Values: []Moved{}, Causes: []Cause{}}
		switch {
		case j.OldRefused != "" && j.NewRefused != "":
			ch.State, ch.Said = Unanswered, "refused by both: "+j.NewRefused
		case j.NewRefused != "":
			ch.Said = "answered before, now refused: " + j.NewRefused
		case j.OldRefused != "":
			ch.Said = "refused before (" + j.OldRefused + "), now answered"
		default:
			ch.Values = valuesMoved(j.Old, j.New, true)
			if len(ch.Values) == 0 {
				continue
			}
		}
		if ch.State == Changed {
			ch.Causes = d.causes(j.Old, j.New, false)
		}
		c.Jobs = append(c.Jobs, ch)
	}
	if len(jobs) > 0 && old.Wasm != now.Wasm {
		c.Notes = append(c.Notes, "the calculators differ between the editions; the saved jobs were answered by those of this kerfbook for both")
	}
	c.Notes = append(c.Notes, notes...)
	c.settle()
}
