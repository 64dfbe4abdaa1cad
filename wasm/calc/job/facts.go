package job

import "kerfbook/wasm/rules"

// language is what the table of rules speaks of.
func language() rules.Language { return rules.Language{Decisions: decided, Vocabulary: vocabulary} }

// decided is what is decided, in the order in which it is.
const decided = "drives dielectric roughing wire:length wire-type machine flushing passes:count polarity slug can!worst start threading after-break tension tilt order relax lead-in direction clamping pickup surface cobalt-loss shape warmth time spool inspection against!against check!all question!all caution!all note!all"

// The facts: the reader's, then those worked out, then the decisions that are
// choices, each of which is a fact once it is taken.
const (
	factAim rules.Fact = iota
	factAsks
	factRadius
	factAngle
	factSlot
	factTooth
	factHeight
	factMaterial
	factBrittle
	factCondition
	factCobalt
	factSize
	factGrows
	factTolerance
	factTenthTolerance
	factReadingShare
	factFinish
	factMeasured
	factDatum
	factTaper
	factKind
	factLength
	factOpenings
	factQuantity
	factDrawing
	factOil
	factStartHole
	factUnattended
	factNozzles
	factCard
	factCardWater
	factCardOil
	factCornerWire
	factSlotWire
	factWallRatio
	factSlotRatio
	factSlugWidth
	factCurrency
	factSlugMass
	factSlugSaid
	factHalfLength
	factLean
	factTolerancePasses
	factWeighed
	factStands
	factOtherWhy
	factWeighedWire
	factWeighedPasses
	factThickerWire
	factThickerWhy
	factFinerWire
	factFinerWhy
	factFewerWhy
	factWire
	factReaches
	factWireLeft
	factTallest
	factTallRatio
	factWireNeeds
	factSlotNeeds
	factWireSure
	factRoughKerf
	factBetterWire
	factSlugKerfs
	factFinestLeft
	factOtherCard
	factSlotTakes
	factPull
	factCardPullLeast
	factCardTakes
	factCardPlus
	factCardAlternating
	factCardPull
	factCardConducts
	factCardTaper
	factFound
	factLeastHole
	factCardName
	factPullsAlone
	factHoleLeast
	factHoleFits
	factStartDistance
	factPasses
	factRa
	factRaBest
	factBarrel
	factSkimWord
	factLeftNow
	factFailShare
	factSeveral
	factCornerShare
	factSlotShare
	factFinishShare
	factRaSure
	factSpoolHours
	factHours
	factMostHours
	factAllHours
	factNothing
	factOwnWire
	factOwnPasses
	factDrives
	factDielectric
	factRoughing
	factWireType
	factMachine
	factFlushing
	factPolarity
	factCan
	factStart
	factThreading
	factAfterBreak
	factTension
	factTilt
	factSlug
	factOrder
	factRelax
	factLeadIn
	factDirection
	factClamping
	factPickup
	factSurface
	factCobaltLoss
	factShape
	factWarmth
	factTime
	factSpool
	factInspection
	factCount // how many there are
)

// vocabulary is what rules may speak of, one fact a line in the order of the
// constants (a test holds them together).
const vocabulary = `aim of as-decided soonest finest surest safest |
asks of maximum plus-minus minimum sharp none | asks
radius length | radius asks drawing
angle angle | angle drawing
slot length | slot drawing
tooth length | tooth
height length | thickness
material in materials | material
brittle of yes no | material
condition of hardened annealed sintered ground | condition
cobalt share | cobalt material
size length | size
grows length | size material
tolerance length | size
tenth-tolerance length | size
reading-share share | size
finish roughness | finish
measured of not-said along across | measured
datum of not-said edges hole | datum
taper angle | taper
kind of opening punch | kind
length length | length drawing
openings count | openings
quantity count | quantity
drawing of yes no | drawing
oil of allowed no | oil
start-hole of allowed no | start-hole
unattended of no yes | unattended
nozzles of both one-off both-off stepped | nozzles
card of chosen any | machine
card-water of yes no | machine
card-oil of yes no | machine
corner-wire length | radius asks machine drawing
slot-wire length | slot machine drawing
wall-ratio number | tooth thickness
slot-ratio number | slot thickness drawing
slug-width length | slug-width length drawing
currency word |
slug-mass mass | slug-width length thickness material drawing
slug-said of yes no | slug-width
half-length length | length drawing
lean length | taper thickness
tolerance-passes count | size
weighed-dielectric of water oil | radius asks slot finish size thickness material machine drawing oil length openings
weighed-stands of yes only-if no | radius asks slot finish size thickness material machine drawing oil length openings
other-why word | radius asks slot finish size thickness material machine drawing oil length openings
weighed-wire length @roughing | radius asks slot finish size thickness material machine drawing oil length openings
weighed-passes count @roughing | radius asks slot finish size thickness material machine drawing oil length openings
thicker-wire length @roughing | radius asks slot finish size thickness material machine drawing oil length openings
thicker-why word @roughing | radius asks slot finish size thickness material machine drawing oil length openings
finer-wire length @roughing | radius asks slot finish size thickness material machine drawing oil length openings
finer-why word @roughing | radius asks slot finish size thickness material machine drawing oil length openings
fewer-why word @roughing | radius asks slot finish size thickness material machine drawing oil length openings
wire length @wire |
reaches of even last no @wire | radius asks slot machine drawing
wire-left length @wire |
tallest length @wire |
tall-ratio number @wire | thickness
wire-needs length @wire |
slot-needs length @wire |
wire-sure length @wire |
rough-kerf length @wire |
better-wire length @wire | radius asks angle slot machine drawing dielectric
slug-kerfs number @wire | slug-width length drawing
finest-left length @wire | machine oil
other-card word @wire | radius asks angle slot machine thickness drawing oil
slot-takes of skims one-pass no unknown @wire | slot drawing
pull number @machine | wire wire-type
card-pull-least number @machine | machine
card-takes of yes dielectric wire height taper @machine | machine thickness taper
card-plus of yes no @machine |
card-alternating of yes no @machine |
card-pull word @machine |
card-conducts number @machine |
card-taper angle @machine | thickness
found of yes no @machine | thickness
least-hole length @machine |
card-name word @machine | machine thickness
pulls-alone of yes no @machine |
hole-least length @machine | wire thickness
hole-fits of yes tight no @machine | wire kind slug-width length thickness drawing
start-distance length @machine | wire kind slug-width length thickness drawing
passes count @passes |
ra roughness @passes | machine material thickness
ra-best roughness @passes | machine material thickness
barrel length @passes | thickness wire wire-type
skim-word word @passes |
left-now length @passes | wire dielectric
fail-share share @passes | radius asks slot finish size thickness material machine drawing
several of yes no @passes | radius asks slot finish size thickness material machine drawing
corner-share share @passes | radius asks material thickness machine drawing
slot-share share @passes | slot material thickness machine drawing
finish-share share @passes | finish material thickness machine
ra-sure roughness @passes | material thickness machine
spool-hours number @passes | wire wire-type
hours number @passes | machine material thickness length nozzles openings
most-hours number @passes | machine material thickness length nozzles openings
all-hours number @passes | machine material thickness length nozzles openings quantity
nothing word @slug | openings
own-wire of yes no @inspection |
own-passes of yes no @inspection |
drives decision |
dielectric decision |
roughing decision |
wire-type decision |
machine decision |
flushing decision |
polarity decision |
can decision |
start decision |
threading decision |
after-break decision |
tension decision |
tilt decision |
slug decision |
order decision |
relax decision |
lead-in decision |
direction decision |
clamping decision |
pickup decision |
surface decision |
cobalt-loss decision |
shape decision |
warmth decision |
time decision |
spool decision |
inspection decision |`
