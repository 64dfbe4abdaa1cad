package main

import (
	"kerfbook/wasm/calc"
	"kerfbook/wasm/process"
	"kerfbook/wasm/unit"
)

// jsonProcess is the process of a job sheet as numbers, units in the names.
type jsonProcess struct {
	jsonWay
	Passes  []jsonPass   `json:"passTable"`
	Limits  []jsonLimit  `json:"limits"`
	Lost    []jsonWay    `json:"lost"`
	Front   []jsonWay    `json:"front"`
	Demands []jsonDemand `json:"demands"`
}

// jsonWay is one process that was weighed.
type jsonWay struct {
	Verdict string    `json:"verdict"` // by the limits alone
	Wire    float64   `json:"wireMm"`
	Fluid   string    `json:"fluid"`
	Passes  int       `json:"passes"`
	Left    jsonRange `json:"radiusLeftMm"`
	Ra      jsonRange `json:"raUm"`
	Hours   number    `json:"hours"` // likely, of one piece
	Good    number    `json:"goodPieceCost"`
	Fail    number    `json:"mayFail"`
}

type jsonRange struct {
	Likely number `json:"likely"`
	Low    number `json:"low"`
	High   number `json:"high"`
}

type jsonPass struct {
	Pass     int        `json:"pass"`
	Offset   jsonRange  `json:"offsetMm"`
	Takes    *jsonRange `json:"takesMm,omitempty"` // not of the roughing pass
	Leaves   jsonRange  `json:"leavesMm"`
	Ra       jsonRange  `json:"raUm"`
	Feed     *jsonRange `json:"feedMmMin,omitempty"`
	Polarity string     `json:"polarity"`
}

type jsonLimit struct {
	Name   string     `json:"name"`
	Unit   string     `json:"unit,omitempty"`
	State  string     `json:"state"`
	Asks   *number    `json:"asks,omitempty"`
	Gets   *jsonRange `json:"gets,omitempty"`
	Margin *number    `json:"margin,omitempty"`
	Fail   number     `json:"mayFail"`
}

type jsonDemand struct {
	Demand string   `json:"demand"`
	Asks   number   `json:"asks"`
	Best   *jsonWay `json:"best,omitempty"`
}

// limitWords and the others are the public words of what is counted in the package.
var (
	limitWords   = [process.Limits]string{"inside-radius", "even-stock", "slot-roughing", "slot-skims", "finish", "wall-shape", "reading", "height", "start-hole-room", "spool", "machine"}
	stateWords   = [...]string{"holds", "may-fail", "ask", "fails"}
	verdictWords = [...]string{"yes", "only-if", "no"}
	demandWords  = [process.Demands]string{"inside-radius-mm", "slot-mm", "ra-um", "tolerance-width-mm"}
	fluidWords   = [...]string{"water", "oil"}
)

func rangeData(r unit.Range) jsonRange {
	return jsonRange{number(r.Likely), number(r.Low), number(r.High)}
}

func wayData(w process.Weighed) jsonWay {
	return jsonWay{Verdict: verdictWords[w.Verdict], Wire: float64(w.Wire), Fluid: fluidWords[w.Fluid], Passes: w.Passes,
		Left: rangeData(w.Left), Ra: rangeData(w.Ra), Hours: number(w.Hours.Likely), Good: number(w.Good), Fail: number(w.Share)}
}

func limitData(b process.Bound) jsonLimit {
	l := jsonLimit{Name: limitWords[b.Limit], State: stateWords[b.State], Fail: number(b.Share), Unit: "mm"}
	switch b.Limit {
	case process.Finish:
		l.Unit = "µm"
	case process.Spool:
		l.Unit = "h"
	case process.Card:
		l.Unit = ""
	}
	if b.Asks > 0 {
		gets := rangeData(b.Gets)
		asks, margin := number(b.Asks), number(b.Margin())
		l.Asks, l.Gets, l.Margin = &asks, &gets, &margin
	}
	return l
}

// processData is a process as data; nil where the sheet has none.
func processData(p *calc.Process) *jsonProcess {
	if p == nil {
		return nil
	}
	out := &jsonProcess{jsonWay: wayData(p.Decided), Passes: []jsonPass{}, Limits: []jsonLimit{}, Lost: []jsonWay{}, Front: []jsonWay{}, Demands: []jsonDemand{}}
	for i, line := range p.Passes {
		pass := jsonPass{Pass: i + 1, Offset: rangeData(line.Offset), Leaves: rangeData(line.Leaves), Ra: rangeData(line.Ra), Polarity: line.Polarity}
		if i > 0 {
			takes, feed := rangeData(line.Takes), rangeData(line.Feed)
			pass.Takes, pass.Feed = &takes, &feed
		}
		out.Passes = append(out.Passes, pass)
	}
	for _, b := range p.Decided.Bounds {
		if b.Asks > 0 || b.State > process.Holds {
			out.Limits = append(out.Limits, limitData(b))
		}
	}
	for _, w := range p.Lost {
		out.Lost = append(out.Lost, wayData(w))
	}
	for _, w := range p.Front {
		out.Front = append(out.Front, wayData(w))
	}
	for _, d := range p.Demands {
		one := jsonDemand{Demand: demandWords[d.Demand], Asks: number(d.Asks)}
		if d.OK {
			best := wayData(d.Best)
			one.Best = &best
		}
		out.Demands = append(out.Demands, one)
	}
	return out
}
