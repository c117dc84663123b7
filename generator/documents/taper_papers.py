"""The set-ups of the mount for readers: how the taper is turned, angle, in-feed, steps, blue."""

from __future__ import annotations

from math import isfinite

from generator.documents.setup_figures import slide_figure, stand_off_figure
from generator.documents.table import Column, Section, Table
from generator.documents.taper_way_papers import (
    attachment_section,
    set_over_section,
    shank_section,
    two_passes_section,
    ways_section,
)
from generator.formulas import taper_errors
from generator.making import setups
from generator.making.dials import Dial
from generator.making.lengths import (
    Lengths,
    degrees_text,
    dial_cell,
    divisions_cell,
    lengths,
)
from generator.making.setups import TaperSetup
from generator.making.sine_bar import sine_bars
from generator.making.taper_methods import methods, proposed
from generator.making.taper_ways import set_over, two_bites
from generator.model.tool import Tool
from generator.units import number

DASH = "\N{EN DASH}"
BOUGHT = "blank-end arbor, bought"
BY_SLIDE = ("compound slide, one pass", "compound slide, two passes")


def taper_sections(tool: Tool) -> tuple[Section, ...]:
    """Return the sections of a Morse taper; of a straight shank, the one that tells of it."""
    setup, shank = setups.taper_setup(tool), setups.shank_setup(tool)
    say, workshop = lengths(tool.parameters), tool.parameters.workshop
    if setup is None:
        return () if shank is None else (shank_section(workshop, shank, say),)
    over = set_over(tool, setup, inch=say.inch)
    found = methods(workshop, setup, over, say)
    made = [ways_section(setup, found, say)]
    way = proposed(found).name
    if way == BOUGHT:
        return tuple(made)
    if workshop.machines != "cnc lathe":
        made.append(_steps(setup, say))
    if way in BY_SLIDE:
        made.append(_angle(setup, say))
    if way == BY_SLIDE[1] and (bites := two_bites(setup)) is not None:
        made.append(two_passes_section(setup, bites, say))
    if "tailstock set-over" in workshop.kit and over is not None:
        made.append(set_over_section(setup, over, say))
    if "taper attachment" in workshop.kit:
        made.append(attachment_section(setup, say))
    return (*made, _fit(setup, way, say), _sine_bar(tool, setup, say))


def _angle(setup: TaperSetup, say: Lengths) -> Section:
    """Return how the slide is set, and what its errors make."""
    rows = setups.rises(setup, inch=say.inch)
    scale_mm = taper_errors.by_angle_mm(
        error_deg=setups.SCALE_DEG, length_mm=setup.whole_mm, taper=setup.rate
    )
    read_mm = setup.tolerance_mm / rows[0].wrong_mm * setups.INDICATOR_MM
    copy_mm = 50.8 if say.inch else 50.0
    lines = (
        f"Set the slide to {degrees_text(setup.half_deg)} from the lathe's axis: half of the "
        f"included {number(2 * setup.half_deg, 4)}°.",
        f"Not by its scale: {number(setups.SCALE_DEG, 2)}° wrong makes {say.text(scale_mm, 2)} on "
        "the diameter over this taper.",
        f"Hold a parallel test bar true to {say.both(setups.INDICATOR_MM)}. Put a plunger "
        "indicator on the slide, at centre height, square to the bar. Wind one way only, so that "
        "the play is out.",
        f"Wind {say.text(rows[0].travel_mm)} toward the chuck: the indicator must change by "
        f"{say.text(rows[0].rise_mm)}. Lock the slide's swivel, and read again.",
        f"Read it to {say.text(read_mm)}: that is {say.text(setup.tolerance_mm)} over the taper, "
        f"what {number(setups.TOLERANCE_IN_PER_FT, 3)} in a foot allows a shank, steeper only "
        "(from a chart of ASME B5.10; unverified).",
        "Or copy a known-good taper held true: the indicator along it must not move. "
        f"{say.both(setups.INDICATOR_MM)} over {say.text(copy_mm)} of it makes "
        f"{say.text(setup.wrong_by_indicator_mm(copy_mm))} over yours. Turn it half round, read "
        "again, take the mean.",
        "Set the tool on centre height; on this taper its error matters little, as the table says.",
    )
    return Section(
        "Set-up: angle of the compound slide",
        lines,
        (_rise_table(setup, say), _height_table(setup, say)),
        listed=True,
        figures=(slide_figure(setup, rows[0], say),),
    )


def _rise_table(setup: TaperSetup, say: Lengths) -> Table:
    columns = (
        Column(f"travel of the slide, {say.unit}", "number"),
        Column(f"indicator must change by, {say.unit}", "number"),
        Column(f"{say.both(setups.INDICATOR_MM)} wrong makes over the taper, {say.unit}", "number"),
    )
    rows = tuple(
        (say.cell(one.travel_mm), say.column(one.rise_mm), say.column(one.wrong_mm))
        for one in setups.rises(setup, inch=say.inch)
    )
    return Table("Indicator along the slide, on a parallel bar", columns, rows)


def _sine_bar(tool: Tool, setup: TaperSetup, say: Lengths) -> Section:
    """Return the blocks of the sine bar and how they are used."""
    columns = (
        Column("for"),
        Column(f"height, {say.unit}", "number"),
        Column("set"),
        Column("blocks"),
        Column(f"stack, {say.unit}", "number"),
        Column(f"off over the taper, {say.unit}", "number"),
    )
    rows = tuple(
        (
            "the half angle" if one.angle_deg < 1.5 * setup.half_deg else "the included angle",
            say.column(one.height_mm, 4 if not say.inch else 3),
            one.set_name,
            " + ".join(number(block, 4) for block in one.stack) or "none near: take a longer bar",
            say.column(one.stack_mm, 4 if not say.inch else 3),
            say.column(one.wrong_mm),
        )
        for one in sine_bars(tool, setup, inch=say.inch)
    )
    bar = say.text(tool.parameters.workshop.sine_bar_mm)
    return Section(
        "Set-up: the taper on the sine bar",
        (
            f"For a bar with {bar} between its rollers."
            + ("" if say.inch else " The sets are listed from memory, unverified: look in yours."),
            "Included angle: lay the taper on the bar, along it. Its upper flank is level when it "
            "is right; what the indicator climbs toward the large end is the diameter that the "
            "taper is too steep by over that length.",
            "Half angle: stack the bar against a straight-edge that the saddle shows parallel "
            "to the axis; the slide is right when an indicator on it does not move along the bar.",
        ),
        (Table("", columns, rows),),
    )


def _height_table(setup: TaperSetup, say: Lengths) -> Table:
    columns = (
        Column(f"tool off centre height, {say.unit}", "number"),
        Column(f"small end too large, {say.unit}", "number"),
        Column(f"hollow between, on the radius, {say.unit}", "number"),
    )
    rows = tuple(
        (say.column(height, 2), say.column(wrong, 4), say.column(bow, 4))
        for height, wrong, bow in setups.tool_heights(setup)
    )
    return Table("Height of the tool", columns, rows)


def _steps(setup: TaperSetup, say: Lengths) -> Section:
    """Return the taper in steps."""
    dial = setup.dial
    step_mm, rows = setups.steps(setup, inch=say.inch)
    first_mm = rows[0].rough_mm
    columns = (
        Column(f"z, {say.unit}", "number"),
        Column(f"finish, {say.unit}", "number"),
        Column(f"rough, {say.unit}", "number"),
        Column(f"dial in, {dial.unit}", "number"),
        Column("divisions", "number"),
    )
    cells = tuple(
        (
            say.cell(row.z_mm, 2),
            say.column(row.finish_mm),
            say.column(row.rough_mm, 2),
            dial_cell(dial, (first_mm - row.rough_mm) / 2),
            divisions_cell(dial, (first_mm - row.rough_mm) / 2),
        )
        for row in rows
    )
    loss_mm = setups.step_slope_mm(setup, step_mm)
    return Section(
        "Set-up: taper turned in steps",
        (
            f"z counts from the gauge plane toward the small end; the shoulder is at "
            f"{say.text(rows[0].z_mm, 2)}. Turn each rough diameter from the small end as far as "
            "its z.",
            f"Zero the dial at the first row. A step leaves {say.text(setups.ROUGH_MM)} on the "
            f"diameter at its large end and {say.text(loss_mm, 2)} more at its small one.",
        ),
        (Table("", columns, cells),),
    )


def _fit(setup: TaperSetup, way: str, say: Lengths) -> Section:
    """Return the in-feed table and how the blue is read."""
    dial = setup.dial
    other = Dial("other", dial.division_mm, "radius" if dial.reads == "diameter" else "diameter")
    columns = (
        Column(f"shoulder to socket, {say.unit}", "number"),
        Column(f"to go in, {say.unit}", "number"),
        Column(f"your dial ({dial.reads}), {dial.unit}", "number"),
        Column("divisions", "number"),
        Column(f"a {other.reads} dial, {dial.unit}", "number"),
    )
    rows = tuple(
        (
            say.column(row.stand_off_mm, 2),
            say.column(row.to_go_mm, 2),
            dial_cell(dial, row.radial_mm),
            divisions_cell(dial, row.radial_mm),
            dial_cell(other, row.radial_mm),
        )
        for row in setups.in_feed(setup, inch=say.inch)
    )
    usual_mm = 50.8 if say.inch else 50.0
    travel_mm, slide = (setup.travel_mm, "slide") if way in BY_SLIDE else (usual_mm, "saddle")
    turn_mm = setups.INDICATOR_MM * travel_mm / (2 * setup.whole_mm)
    lines = (
        "Clean socket and taper, seat by hand, measure from the socket's face to the shoulder "
        "with gauge blocks or depth gauge. A worn socket takes the taper deeper: use the one it "
        "is for.",
        f"Finished, the shoulder stands {say.text(setup.stand_out_mm)} off: the gauge plane, "
        f"{say.text(setup.gauge_mm)} in diameter, lies in the socket's face.",
        f"{say.both(0.01)} off the radius lets it in by "
        f"{say.text(setups.INDICATOR_MM * 2 / setup.rate, 2)}. Feed in by the dial, always from "
        "outside; take the last cut twice.",
        "Blue: a thin smear along three lines, push in, turn back and forth an eighth of a turn at "
        "most, draw out straight.",
        "Good: blue taken over three quarters or more of the length, most at the large end.",
        "Only at the large end: too steep. Only at the small end: too slack; never leave it so, "
        "the tool rocks.",
        f"For each {say.both(0.01)} of gap in the diameter at the other end change the "
        f"indicator's reading over {say.text(travel_mm)} of the {slide} by {say.text(turn_mm, 4)}.",
        "Blue before the last row: from there no angle can be mended.",
    )
    return Section(
        "Set-up: in-feed by stand-off, and the fit",
        lines,
        (Table("How much is still to come off", columns, rows),),
        listed=True,
        figures=(stand_off_figure(setup, say),),
    )


def taper_data(tool: Tool) -> dict[str, object] | None:
    """Return the numbers of the taper as plain data; None for a straight shank."""
    setup = setups.taper_setup(tool)
    if setup is None:
        return None
    say = lengths(tool.parameters)
    inch = say.inch
    over = set_over(tool, setup, inch=inch)
    bites = two_bites(setup)
    step_mm, steps = setups.steps(setup, inch=inch)
    return {
        "name": setup.name,
        "half_angle_deg": setup.half_deg,
        "travel_needed_mm": setup.needed_mm,
        "methods": [
            {
                "name": method.name,
                "possible": method.possible,
                "proposed": method.proposed,
                "why": method.why,
                "error_mm": method.wrong_mm if isfinite(method.wrong_mm) else None,
            }
            for method in methods(tool.parameters.workshop, setup, over, say)
        ],
        "indicator": [
            {"travel_mm": one.travel_mm, "rise_mm": one.rise_mm, "error_mm": one.wrong_mm}
            for one in setups.rises(setup, inch=inch)
        ],
        "in_feed": [
            {
                "stand_off_mm": row.stand_off_mm,
                "radial_mm": row.radial_mm,
                "dial_mm": setup.dial.reading_mm(row.radial_mm),
                "divisions": setup.dial.divisions(row.radial_mm),
            }
            for row in setups.in_feed(setup, inch=inch)
        ],
        "step_mm": step_mm,
        "steps": [
            {"z_mm": row.z_mm, "finish_mm": row.finish_mm, "rough_mm": row.rough_mm}
            for row in steps
        ],
        "sine_bar": [
            {
                "angle_deg": one.angle_deg,
                "height_mm": one.height_mm,
                "set": one.set_name,
                "unit": one.unit,
                "blocks": list(one.stack),
            }
            for one in sine_bars(tool, setup, inch=inch)
        ],
        "set_over_mm": None if over is None else over.over_mm,
        "between_centres_mm": None if over is None else over.between_mm,
        "two_passes": None
        if bites is None
        else {
            "blend_mm": bites.blend_mm,
            "saddle_mm": bites.saddle_mm,
            "radial_mm": bites.radial_mm,
        },
    }
