package job

import "strings"

// inputs says what each calculator is asked: "field=fact", "field:text" for a
// word of its own, or "field!" for one that stays empty: only the time of the
// whole piece was asked, not that of a pass. A fact that is not known leaves the
// field at its default.
const inputs = `corner wire=wire radius:radius asks=asks angle=angle pass:last-pass dielectric=dielectric slot=slot material=material thickness=height finish=finish machine:machine
slot wire=wire width=slot depth=height thickness=height dielectric=dielectric material=material machine:machine
ladder wire=wire dielectric=dielectric passes=passes material=material thickness=height radius=radius angle=angle machine:machine
finish ra=finish wire=wire dielectric=dielectric material=material thickness=height machine:machine
rate material=material thickness=height wire=wire kind=wire-type dielectric=dielectric flushing=flushing path:path passes=passes starts:starts tabs:tabs machine:machine
wire wire=wire kind=wire-type taper=taper machine:machine
thread wire=wire kind=wire-type thickness=height hole:hole led:led machine:machine
start from:from wire=wire distance:distance thickness=height led:led machine:machine
slug material=material width=slug-width length:slug-length thickness=height wire=wire dielectric=dielectric skims:skims machine:machine
recast pair:pair stock:stock wire=wire dielectric=dielectric material=material thickness=height machine:machine
leach wire=wire thickness=height cobalt=cobalt conductivity:low-water gap:gap
bow thickness=height wire=wire kind=wire-type tension:pull other:pull-skim pass:skim-pass
pickup datum:from-datum tolerance:half-tolerance thickness=height material=material wire=wire
inspect what:what width=slot radius=radius angle=angle depth=height tolerance:half-tolerance ra=finish
size size:size material=material
taper taper=taper thickness=height radius=radius angle=angle wire=wire kind=wire-type
trial cut:cut-name what:trial size:nominal measured:found slot:test-slot wire=wire pass=passes passes=passes offsets:offsets gaps:gaps ra:got-ra time! length=length thickness=height material=material dielectric=dielectric flushing=flushing machine:machine
`

// line is what a calculator is asked.
func line(id string) string {
	_, rest, _ := strings.Cut("\n"+inputs, "\n"+id+" ")
	rest, _, _ = strings.Cut(rest, "\n")
	return rest
}

// usualDistance is from the contour to the start in mm where there is room, as
// the calculator of starts has it. Common practice, no source.
const usualDistance = 3
