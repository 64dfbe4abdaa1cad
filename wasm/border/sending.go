package border

import "kerfbook/wasm/panel"

// sending is what one place of a page, a calculator's form, was last sent: the
// slots of a turn. The page numbers its questions; no number comes twice, not even
// when the calculators are made anew. With each question it says whose reply it
// holds. Only if that is the reply remembered here, the slots that are the same are
// left out, and "gone" names those that are no more, a line each. In every other case all
// are sent: a reply may have come too late to be taken, and a desk may be new.
type sending struct {
	turn  string
	slots []panel.Slot
}

// changed are the slots as they are sent to the place that asked.
func (d *Desk) changed(asked []Pair, slots []panel.Slot) []Pair {
	var place, turn, have string
	for _, p := range asked {
		switch p.Name {
		case "place":
			place = p.Value
		case "turn":
			turn = p.Value
		case "have":
			have = p.Value
		}
	}
	last := d.sent[place]
	if place != "" && turn != "" {
		if d.sent == nil {
			d.sent = map[string]sending{}
		}
		d.sent[place] = sending{turn, slots}
	}
	known := place != "" && turn != "" && have != "" && last.turn == have
	if !known {
		last.slots = nil
	}
	out := make([]Pair, 0, len(slots)+2)
	if known {
		out = append(out, Pair{"since", have})
	}
	// Both lists are in the order of the form: a slot is looked for where the
	// search for the one before it ended.
	at := 0
	held := func(name string) (text string, ok bool) {
		for range last.slots {
			s := last.slots[at]
			if at++; at == len(last.slots) {
				at = 0
			}
			if s.Name == name {
				return s.Value, true
			}
		}
		return "", false
	}
	met := 0
	for _, s := range slots {
		text, ok := held(s.Name)
		if ok {
			met++
		}
		if !ok || text != s.Value {
			out = append(out, Pair{s.Name, s.Value})
		}
	}
	if met == len(last.slots) {
		return out
	}
	gone := ""
	for _, s := range last.slots {
		if !has(slots, s.Name) {
			gone += s.Name + "\n"
		}
	}
	return append(out, Pair{"gone", gone})
}

func has(slots []panel.Slot, name string) bool {
	for _, s := range slots {
		if s.Name == name {
			return true
		}
	}
	return false
}
