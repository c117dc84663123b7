"""Ways of turning the mount for readers: which is proposed, and how the others are set up."""

from __future__ import annotations

from collections.abc import Iterator

from generator.documents.table import Column, Section, Table
from generator.inputs.workshop import Workshop
from generator.making import setups
from generator.making.dials import Dial
from generator.making.lengths import Lengths, degrees_text, dial_text, division_text
from generator.making.setups import TaperSetup
from generator.making.taper_methods import Method, proposed
from generator.making.taper_ways import CENTRES_DOUBT_MM, SetOver, TwoBites
from generator.units import number


def ways_section(setup: TaperSetup, found: tuple[Method, ...], say: Lengths) -> Section:
    """Return which way is proposed, and why the others are not."""
    first = proposed(found)
    rows = tuple(
        (
            method.name,
            "proposed" if method.proposed else "possible" if method.possible else "no",
            method.why,
            say.column(method.wrong_mm),
        )
        for method in found
    )
    columns = (
        Column("way"),
        Column("for you"),
        Column("why"),
        Column(f"error, {say.unit}", "number"),
    )
    return Section(
        "Set-up: how the taper is turned",
        (
            f"{setup.name}, {say.text(setup.whole_mm)} from shoulder to small end. Turn it by: "
            f"{first.name}.",
            _dial_line(setup.dial),
            "Error: on the diameter over the whole taper, from an indicator that is "
            f"{say.both(setups.INDICATOR_MM)} wrong. The blue takes it out.",
        ),
        (Table("", columns, rows),),
    )


def _dial_line(dial: Dial) -> str:
    """Return what his dial counts and how a trial cut proves it."""
    off = "the diameter" if dial.reads == "diameter" else "a side, twice that off the diameter"
    return (
        f"Your cross-slide dial reads {dial.reads}: a division is {division_text(dial)} off {off}. "
        "Prove it by a trial cut before you trust a table."
    )


def two_passes_section(setup: TaperSetup, bites: TwoBites, say: Lengths) -> Section:
    """Return how two passes are joined."""
    mismatch_mm = setups.INDICATOR_MM
    return Section(
        "Set-up: the taper in two passes",
        (
            f"Turn {say.text(bites.first_mm, 1)} from the small end first, by the compound, to "
            "size.",
            f"Do not touch the compound's angle. Move the saddle {say.text(bites.saddle_mm, 2)} "
            "toward the headstock, against a stop or gauge blocks, and lock it.",
            f"Wind the cross-slide out by {dial_text(setup.dial, bites.radial_mm)}; come in from "
            "outside, so that its play is taken up.",
            f"Before cutting, run an indicator on the slide over the {say.text(setups.OVERLAP_MM)} "
            "that overlap: it must not move along, and its reading must be that at the end of the "
            "first pass.",
            f"Cut the {say.text(bites.second_mm, 1)} from the shoulder down to the first pass.",
            f"They meet {say.text(bites.blend_mm, 1)} behind the gauge plane. A step of "
            f"{say.both(mismatch_mm)} on the radius there holds the taper out of its socket by "
            f"{say.text(2 * mismatch_mm / setup.rate, 2)}, and only one half bears.",
            f"So relieve {say.text(6.0 if not say.inch else 6.35)} there by "
            f"{say.both(0.1)} on the radius when both halves are done: a step in the relief "
            "cannot bear. Blue both halves.",
        ),
        listed=True,
    )


def set_over_section(setup: TaperSetup, over: SetOver, say: Lengths) -> Section:
    """Return how the tailstock is set over."""
    enough = over.over_mm <= over.most_mm + 1e-6
    verdict = "within" if enough else "beyond"
    per_mm = over.wrong_mm / CENTRES_DOUBT_MM
    unit_mm = 25.4 / 32 if say.inch else 1.0
    balls = (
        f"Put balls between centres and bevels: {say.text(over.front_ball_mm)} at the nose, "
        f"{say.text(over.rear_ball_mm)} at the rear end. Plain centres bear on one edge of the "
        "tilted bevels and wear them."
        if over.front_ball_mm and over.rear_ball_mm
        else "No usual ball rests in both bevels: plain centres bear on one edge and wear it."
    )
    return Section(
        "Set-up: tailstock set over",
        (
            "Between centres on the two bevels, the dog on the nose over copper.",
            balls,
            f"The work then swings about {say.text(over.between_mm, 2)}. Measure your own length "
            f"L; the set-over is L times {number(over.over_mm / over.between_mm, 5)}.",
            f"Set the tailstock over by {say.text(over.over_mm)}, toward you for the small end at "
            f"the tailstock; {verdict} the {say.text(over.most_mm)} that yours goes.",
            f"Check with the indicator on the saddle along the blank, still parallel: "
            f"{_per_travel(setup, say)}. After a cut it reads nothing: flank and bed are parallel.",
            f"{say.text(unit_mm)} more or less of L makes {say.text(per_mm * unit_mm)} on the "
            "diameter over the taper.",
            "Set the tailstock back afterwards: a test bar between centres must read the same at "
            "both ends.",
        ),
        listed=True,
    )


def attachment_section(setup: TaperSetup, say: Lengths) -> Section:
    """Return how the taper attachment is set."""
    per_foot = number(12 * setup.rate, 5)
    return Section(
        "Set-up: taper attachment",
        (
            f"Set the guide bar to {degrees_text(setup.half_deg)}, or by its other scale to "
            f"{per_foot} in per foot on the diameter, {number(1000 * setup.rate, 2)} mm per metre.",
            f"Prove it with the indicator on the tool-post: {_per_travel(setup, say)} on a "
            "parallel bar.",
            f"Start every cut {say.text(12.7 if say.inch else 12.0)} beyond the end of the work, "
            "so that the slide's play is taken up before the tool bites.",
            "Feed for depth with the compound set square, or with the cross-slide where the "
            "attachment leaves it free.",
        ),
        listed=True,
    )


def _per_travel(setup: TaperSetup, say: Lengths) -> str:
    travel_mm = 50.8 if say.inch else 50.0
    return (
        f"{say.text(travel_mm * setup.rate / 2, 4)} over {say.text(travel_mm)} of the saddle's "
        "travel"
    )


def shank_section(workshop: Workshop, shank: setups.ShankSetup, say: Lengths) -> Section:
    """Return how a straight shank is turned true."""
    lines = [
        f"No taper to turn. The shank is {say.text(shank.diameter_mm)} by "
        f"{say.text(shank.length_mm)}; {say.text(shank.grip_mm)} of it are held in use and must "
        "be round, parallel and true to the bore.",
        *_shank_ways(workshop, shank, say),
        f"Parallel: a tailstock {say.both(setups.INDICATOR_MM)} off the axis makes "
        f"{say.text(shank.wrong_mm)} on the diameter over the shank. Measure both ends, move the "
        "tailstock by half the difference times body length over shank length.",
        "Measure at three places round and three along; a collet closes on the largest.",
    ]
    return Section("Set-up: straight shank", tuple(lines), listed=True)


def _shank_ways(workshop: Workshop, shank: setups.ShankSetup, say: Lengths) -> Iterator[str]:
    """Yield what his kit holds the shank true in, the best first."""
    if "centres" in workshop.kit:
        yield (
            f"Between centres on the two bevels, {say.text(shank.body_mm)} apart, with the nose in "
            "the dog: nose and shank in one setting are true to the bore as far as its bevels are. "
            "Best."
        )
    if "mandrel" in workshop.kit:
        yield "On a mandrel in the reamed bore: true to the bore by the mandrel's own run-out."
    passes = shank.diameter_mm <= workshop.spindle_bore_mm
    through = "it passes" if passes else "it does not pass"
    if "collets" in workshop.kit:
        yield (
            f"From finished bar in a collet, off the axis by up to {say.both(workshop.collet_mm)}: "
            f"bore it there, and leave the shank as it is. {through.capitalize()} the spindle, "
            f"{say.text(workshop.spindle_bore_mm)}."
        )
    if "4-jaw chuck" in workshop.kit:
        yield (
            "In the 4-jaw chuck, clocked at two places a shank's length apart to "
            f"{say.both(workshop.clocked_mm)}."
        )
    if "3-jaw chuck" in workshop.kit:
        yield (
            f"Never re-chucked in the 3-jaw: {say.both(workshop.three_jaw_mm)} off the axis. In "
            "one setting with the bore it is as good as any."
        )
