"""The set-ups of the plunger's ends for readers."""

from __future__ import annotations

from typing import Any

from generator.documents.drawing import Figure
from generator.documents.setup_figures import countersink_figure, point_figure
from generator.documents.table import Column, Section, Table
from generator.making.dials import Dial, compound_slide, cross_slide
from generator.making.lengths import (
    Lengths,
    degrees_text,
    dial_cell,
    dial_text,
    divisions_cell,
    lengths,
)
from generator.making.tip_setups import (
    MOUTH_MM,
    CountersinkSetup,
    PointSetup,
    TipSetup,
    tip_setups,
)
from generator.model.tool import Tool
from generator.units import number

FLAT_OFF_MM = 0.1


def tip_sections(tool: Tool) -> tuple[Section, ...]:
    """Return a section for each end of the plunger that has a cone."""
    say = lengths(tool.parameters)
    workshop = tool.parameters.workshop
    dials = (cross_slide(workshop), compound_slide(workshop))
    return tuple(
        _point(tool, made, dials, say)
        if isinstance(made, PointSetup)
        else _countersink(tool, made, dials, say)
        for made in tip_setups(tool, inch=say.inch)
    )


def _held(tool: Tool, say: Lengths) -> str:
    """Return what holds the bar of the plunger: as the plan holds it."""
    workshop = tool.parameters.workshop
    if "collets" in workshop.kit:
        return "in a collet"
    if "4-jaw chuck" in workshop.kit:
        return (
            f"in the 4-jaw chuck, copper under the jaws, clocked to {say.both(workshop.clocked_mm)}"
        )
    return "in the 3-jaw chuck, copper under the jaws, better in a split bush bored in place"


def _hold(tool: Tool, say: Lengths, how: str) -> str:
    """Return how the bar is held, or a tip that is screwed into its plunger."""
    if not tool.tips:
        return f"Hold the bar {_held(tool, say)}, {how}"
    return f"Screw the tip home in its plunger and hold that by the stem {_held(tool, say)}, short."


def _called(end: str) -> str:
    """Return what an end is called in a heading."""
    return end if end.startswith("tip") else f"{end} end of the plunger"


def _wide_mm(tool: Tool) -> float:
    """Return the diameter at the working end."""
    tips = tool.parameters.screwed_tips
    return tool.parameters.plunger.diameter_mm if tips is None else tips.diameter_mm


def _slide_line(angle_deg: float) -> str:
    """Return how the compound slide is set for a cone."""
    half = angle_deg / 2
    return (
        f"Set the compound to {degrees_text(half)} from the lathe's axis. A scale that counts from "
        f"the cross-slide reads {degrees_text(90 - half)} there: look which yours is."
    )


def _point(tool: Tool, point: PointSetup, dials: tuple[Dial, Dial], say: Lengths) -> Section:
    cross, compound = dials
    per_flat_mm = FLAT_OFF_MM * point.length_mm / (point.diameter_mm - point.flat_mm)
    lines = [
        _hold(tool, say, "short; both ends so. Do not turn the outside."),
        _slide_line(point.angle_deg),
        f"Set the tool on centre height. {_height_line(point, say)}",
        "Face the end. Touch the outside with the tool at the very end; zero the cross-slide.",
        f"Cut by winding the compound {dial_text(compound, point.flank_mm)} and a turn more; "
        f"go in by the cross-slide a cut at a time. In all {dial_text(cross, point.radial_mm)}.",
        f"Stop when the flat measures {say.text(point.flat_mm)}: the flat is the stop, the dial "
        f"comes near it. {say.both(FLAT_OFF_MM)} of flat is {say.text(per_flat_mm, 2)} of length.",
        f"Length along the axis, flat to full diameter: {say.text(point.length_mm, 2)}.",
    ]
    lines.append(
        f"Prove it with a hole Ø{say.text(point.gauges[0][0])} reamed in a plate, its edge left "
        f"sharp: the tip stands {say.text(point.gauges[0][1], 2)} from the face on the plunger's "
        "side, the plate's thickness less on the other."
        if point.gauges
        else "Too small for a reamed hole: look at it beside a gauge of "
        f"{number(point.angle_deg, 2)}°."
    )
    if len(point.gauges) == 2:
        (_, deep), (small, less) = point.gauges
        lines.append(
            f"From a second hole, Ø{say.text(small)}, it stands {say.text(less, 2)}. The "
            "difference, "
            f"{say.text(deep - less, 2)}, tells the angle whatever the flat."
        )
    if point.relief is not None:
        off_mm, long_mm = point.relief
        over_mm = point.diameter_mm / 2 + off_mm
        lines.append(
            f"Side flat, after the slot and on its side: lower the cutter "
            f"{say.text(point.diameter_mm / 2 - off_mm, 2)} from touching the bar, so that a "
            f"micrometer over flat and far side reads {say.text(over_mm, 2)}; "
            f"{say.text(long_mm, 2)} long from the tip. {say.both(off_mm)} past the axis is left "
            "on purpose: cut to the axis, it centres nothing."
        )
    figures: tuple[Figure, ...] = (point_figure(point, say),) if point.gauges else ()
    return Section(
        f"Set-up: {_called(point.end)}, point",
        tuple(lines),
        (_step_table(point, cross, say),),
        listed=True,
        figures=figures,
    )


def _height_line(point: PointSetup, say: Lengths) -> str:
    if not point.heights:
        return "Off centre it leaves a pip."
    (least, low), *_, (most, high) = point.heights
    return (
        f"Off by {say.both(least)} the flat comes out {say.text(low, 2)} in place of "
        f"{say.text(point.flat_mm)}, off by {say.both(most)} {say.text(high, 2)}: a pip that "
        "keeps the point out of a small centre."
    )


def _step_table(point: PointSetup, cross: Dial, say: Lengths) -> Table:
    columns = (
        Column(f"from the tip, {say.unit}", "number"),
        Column(f"diameter, {say.unit}", "number"),
        Column(f"dial in from the outside, {cross.unit}", "number"),
        Column("divisions", "number"),
    )
    rows = tuple(
        (
            say.column(row.z_mm, 2),
            say.column(row.finish_mm, 2),
            dial_cell(cross, (point.diameter_mm - row.finish_mm) / 2),
            divisions_cell(cross, (point.diameter_mm - row.finish_mm) / 2),
        )
        for row in point.steps
    )
    return Table("The point in steps", columns, rows)


def _countersink(
    tool: Tool, sink: CountersinkSetup, dials: tuple[Dial, Dial], say: Lengths
) -> Section:
    cross, compound = dials
    lines = [
        _hold(tool, say, "as for the other end. Face it."),
        f"Drill the pilot Ø{say.text(sink.pilot_mm)}: {say.text(sink.drill_mm, 2)} deep to its "
        f"full diameter, {say.text(sink.drill_tip_mm, 1)} to its tip, from the face.",
        f"By a countersink of {number(sink.angle_deg, 2)}° in the tailstock: touch the edge of the "
        f"pilot hole, zero the barrel, feed {say.text(sink.cone_mm, 2)} along the axis.",
        f"Or truer, by a small boring tool. {_slide_line(sink.angle_deg)}",
        f"Touch the edge of the pilot hole with it; from there the mouth is "
        f"{dial_text(cross, sink.radial_mm)} further on the cross-slide, and the flank "
        f"{dial_text(compound, sink.flank_mm)} on the compound.",
    ]
    tables: tuple[Table, ...] = ()
    figures: tuple[Figure, ...] = ()
    if sink.ball_mm:
        (_, high), (_, wanted), _ = sink.heights
        proved = "the ball that stays in it" if sink.stays else "a ball"
        lines.append(
            f"Prove it with {proved}, Ø{say.text(sink.ball_mm)}: it stands "
            f"{say.text(wanted, 2)} out of the face. {say.both(MOUTH_MM)} of mouth is "
            f"{say.text(high - wanted, 2)} of height; a smaller mouth lets it stand further out."
        )
        columns = (
            Column(f"mouth, {say.unit}", "number"),
            Column(f"ball stands out by, {say.unit}", "number"),
        )
        rows = tuple(
            (say.column(mouth, 2), say.column(height, 2)) for mouth, height in sink.heights
        )
        tables = (Table(f"Ball Ø{say.text(sink.ball_mm)}", columns, rows),)
        figures = (countersink_figure(sink, _wide_mm(tool), say),)
    else:
        lines.append("No usual ball rests on so narrow a flank: measure the mouth by a glass.")
    return Section(
        f"Set-up: {_called(sink.end)}, countersink",
        tuple(lines),
        tables,
        listed=True,
        figures=figures,
    )


def tip_data(tool: Tool) -> list[dict[str, Any]]:
    """Return the numbers of the ends as plain data."""
    return [_data(made) for made in tip_setups(tool, inch=lengths(tool.parameters).inch)]


def _data(made: TipSetup) -> dict[str, Any]:
    common = {
        "end": made.end,
        "angle_deg": made.angle_deg,
        "slide_deg": made.angle_deg / 2,
        "scale_from_cross_slide_deg": 90 - made.angle_deg / 2,
        "flank_mm": made.flank_mm,
        "radial_mm": made.radial_mm,
    }
    if isinstance(made, PointSetup):
        return {
            **common,
            "kind": "point",
            "length_mm": made.length_mm,
            "flat_mm": made.flat_mm,
            "side_flat": made.relief
            and {"from_axis_mm": made.relief[0], "length_mm": made.relief[1]},
            "reamed_holes": [
                {"hole_mm": hole_mm, "through_mm": through_mm}
                for hole_mm, through_mm in made.gauges
            ],
        }
    return {
        **common,
        "kind": "countersink",
        "cone_mm": made.cone_mm,
        "pilot_drill_mm": made.drill_mm,
        "pilot_drill_tip_mm": made.drill_tip_mm,
        "ball_mm": made.ball_mm or None,
        "ball_heights": [
            {"mouth_mm": mouth_mm, "height_mm": height_mm} for mouth_mm, height_mm in made.heights
        ],
    }
