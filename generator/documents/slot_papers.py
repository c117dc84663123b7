"""The set-ups of the slot in the plunger and of the screw hole in the body for readers."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite
from typing import Any

from generator.documents.drawing import Figure
from generator.documents.setup_figures import hole_figure, slot_figure
from generator.documents.table import Column, Section, Table
from generator.inputs.tables import CrossPin
from generator.making.lengths import (
    Lengths,
    dial_cell,
    dial_text,
    divisions_cell,
    lengths,
)
from generator.making.screw_hole import REAM_MM
from generator.making.slot_setups import (
    CLEAR_MM,
    LEAD_THREADS,
    LEVEL_MM,
    PAPER_MM,
    STROKE_MM,
    UNDER_MM,
    Feeds,
    HoleSetup,
    SlotSetup,
    Way,
    feeds,
    hole_setup,
    slot_setup,
    ways,
)
from generator.model.tool import Tool
from generator.units import number

WAYS: dict[Way, str] = {
    "mill": "on the mill",
    "vertical slide": "on the lathe, in the vertical slide",
    "tool-post": "on the lathe, in the tool-post",
    "planing": "on the lathe, planed with the saddle",
    "filing": "filed between two holes",
}


def slot_sections(tool: Tool) -> tuple[Section, ...]:
    """Return the sections of the slot, a way each, and of the screw hole."""
    say = lengths(tool.parameters)
    slot, hole = slot_setup(tool, inch=say.inch), hole_setup(tool)
    made: list[Section] = []
    if slot is not None:
        made += [_slot(tool, slot, way, say, first=not n) for n, way in enumerate(ways(tool))]
    if hole is not None:
        made.append(_hole(tool, hole, slot, say))
    if tool.parameters.pin_and_slot is not None:
        made.append(_pin_hole(tool, tool.parameters.pin_and_slot[0], slot, say))
    return tuple(made)


def _slot(tool: Tool, slot: SlotSetup, way: Way, say: Lengths, *, first: bool) -> Section:
    """Return one way of cutting the slot."""
    dials = feeds(tool)
    lines = {
        "mill": _by_mill,
        "vertical slide": _by_vertical_slide,
        "tool-post": _by_tool_post,
        "planing": _by_planing,
        "filing": _by_filing,
    }[way](slot, dials, say)
    tables = [_depths(slot, way, dials, say)] if way not in ("planing", "filing") else []
    if way in ("vertical slide", "tool-post"):
        tables.insert(0, _positions(slot, way, dials, say))
    figures: tuple[Figure, ...] = (slot_figure(slot, say),) if first else ()
    return Section(
        f"Set-up: {'flat' if slot.form == 'flat' else 'slot'}, {WAYS[way]}",
        (*lines, *_measured(slot, say)),
        tuple(tables),
        listed=True,
        figures=figures,
    )


def _measured(slot: SlotSetup, say: Lengths) -> Iterator[str]:
    """Yield how the slot is measured, whichever way it was cut."""
    if slot.form == "through":
        yield (
            f"Measure: pin Ø{say.text(slot.width_mm, 2)} goes through from both sides; the two "
            "edges of the slot stand as far from the bar's sides on either face."
        )
        return
    low, high = (slot.across_mm + sign * slot.depth_tolerance_mm for sign in (-1, 1))
    if slot.form == "flat":
        yield (
            f"Measure from the flat to the other side of the bar: {say.cell(low, 2)} to "
            f"{say.text(high, 2)}. The flat is then {say.text(slot.width_mm, 1)} wide."
        )
        return
    yield (
        f"Measure from the floor to the other side of the bar, over a pin in the slot, the pin "
        f"taken off: {say.cell(low, 2)} to {say.text(high, 2)}. Depth on the centre line "
        f"{say.text(slot.depth_mm, 2)}; the first {say.text(slot.wall_start_mm, 2)} of it has no "
        "side "
        "walls, since the bar is round."
    )


def _stop(slot: SlotSetup, say: Lengths) -> Iterator[str]:
    face = "" if slot.flat_datum else " Only the flat of a point touches it: press lightly."
    yield (
        f"Fix an end stop and leave it for the screw hole, too. {slot.datum.capitalize()} of the "
        f"plunger against it.{face}"
    )
    yield (
        f"Zero along the bar: before it is in, touch the stop's face with the cutter, paper of "
        f"{say.both(PAPER_MM)} between. Its axis is then {say.text(slot.face_mm, 2)} from the "
        "face: set the scale to that."
    )


def _by_mill(slot: SlotSetup, _: Feeds, say: Lengths) -> Iterator[str]:
    yield (
        "Bar in V-block or collet block, level and along the table to "
        f"{say.both(LEVEL_MM)} by the indicator."
    )
    yield from _stop(slot, say)
    if slot.form == "flat":
        yield from _milled_flat(slot, say)
        return
    yield from _middle(slot, say)
    yield from _through(slot, say)
    yield (
        f"Slot drill Ø{say.text(slot.width_mm)}, two flutes, to cut downward. Spindle clockwise "
        "seen from above. Come to every position from the stop's side, or the table's play is in "
        "it."
    )
    yield (
        f"At {say.text(slot.first_mm, 2)} plunge the first depth; cut along to "
        f"{say.text(slot.last_mm, 2)}, that is {say.text(slot.move_mm, 2)}. Raise the cutter, go "
        "back "
        "past the first hole, come up to it again, and take the next depth."
    )
    yield (
        f"Zero the depth on top of the bar, paper between: go down {say.both(PAPER_MM)} and "
        "zero. Then by the table. Full width is cut only below "
        f"{say.text(slot.wall_start_mm, 2)}."
    )
    yield (
        "A worn slot drill leans and cuts a wide slot: if a gauge pin of the cutter's size falls "
        "through in scrap, take a smaller one and open each side."
    )


def _milled_flat(slot: SlotSetup, say: Lengths) -> Iterator[str]:
    yield (
        f"End mill Ø{say.text(slot.cutter_mm)}. At {say.text(slot.first_mm, 2)} feed across the "
        f"bar and clear of it; then beside it, pass by pass, to {say.text(slot.last_mm, 2)}. Feed "
        "against the turn of the cutter."
    )
    yield (
        f"Zero the depth on top of the bar, paper between: go down {say.both(PAPER_MM)} and zero. "
        "The ends must be square at the foot: a cutter without corner radius, sharp."
    )


def _through(slot: SlotSetup, say: Lengths) -> Iterator[str]:
    """Yield what a slot right through asks for besides."""
    if slot.form == "through":
        yield (
            "Bar on parallels or in a V with a gap below, so that the cutter comes out free. Its "
            f"flutes must reach {say.text(slot.depth_mm, 1)}; a shorter one cuts half, then turn "
            "the bar half round against the same stop and cut the other half."
        )


def _middle(slot: SlotSetup, say: Lengths) -> Iterator[str]:
    across_mm = 2 * slot.side_mm
    yield (
        "Middle of the bar: paper on its side, touch with the cutter, raise it, move across by "
        f"{say.text(slot.side_mm, 2)}: half the bar, half the cutter, the paper. From the other "
        "side "
        f"the two touches must be {say.text(across_mm, 2)} apart; take the middle."
    )


def _by_vertical_slide(slot: SlotSetup, dials: Feeds, say: Lengths) -> Iterator[str]:
    yield (
        "Vertical slide on the cross-slide, the plunger across the bed in a V, level and square to "
        f"the lathe's axis by the indicator. {_drill(slot)} Ø{say.text(slot.cutter_mm)} in "
        f"{dials.held_in}."
    )
    yield from _stop(slot, say)
    if slot.form != "flat":
        yield from _middle(slot, say)
    yield from _through(slot, say)
    yield from _across(slot, dials, say)
    yield (
        "Depth by the compound set along the bed, or by the saddle against a stop; lock the saddle "
        "while you cut. Lock the vertical slide."
    )


def _by_tool_post(slot: SlotSetup, dials: Feeds, say: Lengths) -> Iterator[str]:
    yield (
        "Plunger in the tool-post in a split block, across the bed, square to the lathe's axis by "
        f"the indicator. {_drill(slot)} Ø{say.text(slot.cutter_mm)} in {dials.held_in}."
    )
    yield (
        "Centre height is the middle of the bar: pack until the bar's top is "
        f"{say.text(slot.diameter_mm / 2, 2)} above the axis; prove it with a point in the spindle."
    )
    yield from _stop(slot, say)
    yield from _through(slot, say)
    yield from _across(slot, dials, say)
    yield "Depth by the compound set along the bed. Lock the saddle."


def _drill(slot: SlotSetup) -> str:
    return "End mill" if slot.form == "flat" else "Slot drill"


def _across(slot: SlotSetup, dials: Feeds, say: Lengths) -> Iterator[str]:
    cross = dials.cross
    twice = " It counts double: the table has that in it." if cross.reads == "diameter" else ""
    yield (
        f"Length by the cross-slide, {say.text(slot.move_mm, 2)} from hole to hole, "
        f"{dial_text(cross, slot.move_mm)} on its dial.{twice} Come to both holes from the stop's "
        "side."
    )
    yield (
        "Spindle forward. Light cuts, from hole to hole and back; the cutter pulls the slide where "
        "it climbs, so keep the gib tight."
    )


def _by_planing(slot: SlotSetup, dials: Feeds, say: Lengths) -> Iterator[str]:
    cross = dials.cross
    yield (
        f"Drill both end holes first, at {say.text(slot.first_mm, 2)} and "
        f"{say.text(slot.last_mm, 2)} "
        f"from the {slot.datum}, full to {say.text(slot.depth_mm, 2)}: the tool runs out in them."
    )
    yield (
        f"Plunger in {dials.held_in}, spindle locked. Tool {say.text(slot.width_mm)} wide, ground "
        "as a "
        "parting tool with clearance on both sides, on its side at centre height, edge along the "
        "bed's cross-line."
    )
    yield (
        f"Stop the saddle at both holes, {say.text(slot.move_mm, 2)} apart. Touch the bar, zero "
        "the "
        f"cross-slide, feed {dial_text(cross, STROKE_MM)} a stroke: {slot.strokes} strokes to "
        f"{dial_text(cross, slot.depth_mm)}."
    )
    yield "Cut toward the chuck; draw the tool out before every way back."


def _by_filing(slot: SlotSetup, _: Feeds, say: Lengths) -> Iterator[str]:
    if slot.form == "flat":
        yield (
            f"Saw down at {say.text(slot.near_mm, 2)} and {say.text(slot.far_mm, 2)} from the "
            f"{slot.datum}, square, to just short of the depth; file away between, then the ends "
            "square with a safe-edged file."
        )
        return
    drill_mm = slot.width_mm - UNDER_MM
    if slot.form == "through":
        yield (
            f"Scribe the middle on both sides; drill Ø{say.text(drill_mm)} right through, square, "
            f"at {say.text(slot.first_mm, 2)} and {say.text(slot.last_mm, 2)} from the "
            f"{slot.datum}. Open both to Ø{say.text(slot.width_mm)}. Chain-drill between and file "
            "through from both sides with a pillar file."
        )
        return
    yield (
        f"Scribe the middle; centre-punch and drill Ø{say.text(drill_mm)} at "
        f"{say.text(slot.first_mm, 2)} and {say.text(slot.last_mm, 2)} from the {slot.datum}, "
        "flat at "
        f"the bottom, {say.text(slot.depth_mm, 2)} deep. Open both to Ø{say.text(slot.width_mm)}."
    )
    yield (
        "Chain-drill or grind out between, then file with a pillar file, safe edges to the side "
        "walls."
    )
    yield (
        f"Gauge: a plate {say.text(slot.width_mm)} thick must slide from hole to hole without "
        f"shake; the ends {say.text(slot.far_mm - slot.near_mm, 2)} apart over two pins."
    )


def _positions(slot: SlotSetup, way: Way, dials: Feeds, say: Lengths) -> Table:
    """Return what the cross-slide's dial shows along the plunger."""
    cross = dials.cross
    columns = (
        Column("cutter's axis at"),
        Column(f"from the stop, {say.unit}", "number"),
        Column(f"cross-slide dial, {cross.unit}", "number"),
        Column("divisions", "number"),
    )
    rows = tuple(
        (name, say.column(at_mm, 2), dial_cell(cross, at_mm), divisions_cell(cross, at_mm))
        for name, at_mm in (
            ("touching the stop, paper between", slot.face_mm),
            ("hole 1", slot.first_mm),
            ("hole 2", slot.last_mm),
        )
    )
    return Table("Along the plunger", columns, rows)


def _depths(slot: SlotSetup, way: Way, dials: Feeds, say: Lengths) -> Table:
    """Return the depth of each pass; on the lathe with the reading of the compound's dial."""
    lathe = way != "mill"
    columns = [Column("pass", "number"), Column(f"depth from the top, {say.unit}", "number")]
    if lathe:
        columns += [
            Column(f"compound dial, {dials.compound.unit}", "number"),
            Column("divisions", "number"),
        ]
    rows = tuple(
        (
            str(n),
            say.column(depth_mm, 2),
            *(
                (dial_cell(dials.compound, depth_mm), divisions_cell(dials.compound, depth_mm))
                if lathe
                else ()
            ),
        )
        for n, depth_mm in enumerate(slot.depths_mm, 1)
    )
    return Table("Depth, pass by pass", tuple(columns), rows)


def _hole(tool: Tool, hole: HoleSetup, slot: SlotSetup | None, say: Lengths) -> Section:
    """Return the screw hole."""
    lathe = tool.parameters.workshop.machines == "lathe"
    where = (
        "Body in V-blocks under the drill or on the cross-slide, the drill in the spindle"
        if lathe
        else "Body in V-blocks on the mill, along the table"
    )
    lines = [
        f"{where}; nose face against the same end stop as the plunger, the zero unchanged.",
        f"Middle of the body as for the slot: from the paper on its side "
        f"{say.text(hole.outside_mm / 2 + PAPER_MM, 2)} and half the cutter or edge finder.",
        f"Screw hole at {say.text(hole.at_mm, 2)} from the stop. Spot it, then drill "
        f"Ø{say.text(hole.drill_mm)} for {hole.thread}.",
        *_drilling(hole, say),
        "The burr stands into the bore: put the reamer through once more by hand, before any "
        "plunger goes in.",
    ]
    if slot is not None:
        lines.insert(
            1,
            f"Both count from that face: {say.text(hole.at_mm, 2)} in the body, "
            f"{say.text(slot.first_mm, 2)} and {say.text(slot.last_mm, 2)} in the plunger.",
        )
    figures = (hole_figure(hole, say),) if isfinite(hole.set_mm) else ()
    return Section("Set-up: screw hole in the body", tuple(lines), listed=True, figures=figures)


def _pin_hole(tool: Tool, pin: CrossPin, slot: SlotSetup | None, say: Lengths) -> Section:
    """Return the hole for the cross pin."""
    p = tool.parameters
    both = pin.support == "both walls"
    lines = [
        "Body in V-blocks, nose face against the same end stop as the plunger, the zero unchanged.",
        f"Middle of the body from the paper on its side: "
        f"{say.text(p.body.nose_diameter_mm / 2 + PAPER_MM, 2)} and half the cutter or edge "
        "finder. Off the middle the pin binds in the slot.",
        f"Hole at {say.text(pin.position_mm, 2)} from the stop: spot it, drill "
        f"{say.text(REAM_MM)} under size, ream Ø{say.text(pin.diameter_mm, 2)}.",
        "Right through both walls in one go: the far hole follows the near one."
        if both
        else "Through one wall only: set the depth stop, so that the far one stays whole.",
        "The burrs stand into the bore: put the bore's reamer through once more by hand.",
        HELD[pin.locking],
    ]
    if slot is not None:
        lines.insert(
            1,
            f"Both count from that face: {say.text(pin.position_mm, 2)} in the body, "
            f"{say.text(slot.first_mm, 2)} and {say.text(slot.last_mm, 2)} in the plunger.",
        )
    return Section("Set-up: pin hole in the body", tuple(lines), listed=True)


HELD: dict[str, str] = {
    "pressed": "The pin is pressed: ream so that it enters by light taps; try in the bar's rest.",
    "retaining compound": "The pin slides in and is held by retaining compound, both degreased.",
    "staked": "The pin slides in; three punch marks at each end of the hole hold it.",
    "none": "Nothing holds the pin: it wanders out.",
}


def _drilling(hole: HoleSetup, say: Lengths) -> Iterator[str]:
    """Yield how deep drill and tap go."""
    if isfinite(hole.set_mm):
        yield (
            f"Touch the top with the drill's tip and set the depth stop to "
            f"{say.text(hole.set_mm, 2)}. The wall is {say.text(hole.wall_mm, 2)}; the hole is "
            "full "
            f"right through at {say.text(hole.least_mm, 2)}, its point and the bore's round "
            f"counted; deeper than {say.text(hole.most_mm, 2)} the point comes within "
            f"{say.both(CLEAR_MM)} of the far wall."
        )
    else:
        yield (
            f"No depth of the stop is right: full through at {say.text(hole.least_mm, 2)}, and the "
            f"far wall is too near beyond {say.text(hole.most_mm, 2)}. Plug the bore with a brass "
            "rod, drill into it, drive it out."
        )
    kind = "second" if hole.lead_threads == LEAD_THREADS else "bottoming"
    start = f"A {kind} tap, {number(hole.lead_threads, 0)} threads of lead, cuts full thread "
    if hole.tap_least_mm <= hole.tap_most_mm:
        yield (
            f"{start}right through with its front end {say.text(hole.tap_least_mm, 1)} deep; not "
            f"beyond {say.text(hole.tap_most_mm, 1)}."
        )
    else:
        yield (
            f"{start}only {say.text(hole.tap_least_mm, 1)} deep, and the far wall is too near "
            f"beyond {say.text(hole.tap_most_mm, 1)}: grind its front end off."
        )


def slot_data(tool: Tool) -> dict[str, Any]:
    """Return the numbers of slot and screw hole as plain data; None where there is none."""
    inch = lengths(tool.parameters).inch
    slot, hole = slot_setup(tool, inch=inch), hole_setup(tool)
    dials = feeds(tool)
    return {
        "slot": None
        if slot is None
        else {
            "ways": list(ways(tool)),
            "datum": slot.datum,
            "hole_1_mm": slot.first_mm,
            "hole_2_mm": slot.last_mm,
            "near_mm": slot.near_mm,
            "far_mm": slot.far_mm,
            "side_mm": slot.side_mm,
            "depths_mm": list(slot.depths_mm),
            "side_wall_start_mm": slot.wall_start_mm,
            "floor_to_far_side_mm": slot.across_mm,
            "cross_slide_travel_mm": dials.cross.reading_mm(slot.move_mm),
        },
        "screw_hole": None
        if hole is None
        else {
            "position_mm": hole.at_mm,
            "drill_mm": hole.drill_mm,
            "wall_mm": hole.wall_mm,
            "full_through_mm": hole.least_mm,
            "depth_stop_mm": hole.set_mm if isfinite(hole.set_mm) else None,
            "deepest_mm": hole.most_mm,
        },
    }
