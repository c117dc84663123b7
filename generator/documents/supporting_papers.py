"""How a support centre holds its work, for readers and as plain data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from generator.documents.budget_papers import (
    BUDGET_LINE,
    budget_table,
    sums_data,
    sums_table,
    term_data,
)
from generator.documents.calculation import Calculation, calculation_table
from generator.documents.signs import amount, digits, places
from generator.documents.supporting_card import work
from generator.documents.table import Section, Table
from generator.model.tool import Tool
from generator.use.alignment import Term
from generator.use.supporting import WEIGHT_SHARE, Hold, holds

TITLE: Final = "Supporting the work"
MINUS: Final = "\N{MINUS SIGN}"
ALPHA: Final = "\N{GREEK SMALL LETTER ALPHA}"


def supporting_section(tool: Tool) -> Section:
    """Return the section of the report about the work that is steadied."""
    found = holds(tool)
    tables: list[Table] = []
    for each in found:
        name = each.orientation.name
        tables += [
            calculation_table(tuple(_calculations(each)), f"Point and work, {name}"),
            budget_table(
                each.terms,
                {
                    "at the point, mm": lambda term: places(term.most_mm, 3),
                    "which way": _way,
                },
                f"Error budget, {name}",
            ),
            sums_table({"off the spindle's axis": each.off_mm}, f"What they add up to, {name}"),
        ]
    return Section(TITLE, _lines(found), tuple(tables))


def supporting_data(tool: Tool) -> list[dict[str, Any]]:
    """Return the same as plain data, an entry for each point of the plunger."""
    return [
        {
            "orientation": each.orientation.key,
            "centre": each.hole.name,
            "band_mm": each.band_mm,
            "deep_mm": each.deep_mm,
            "tip_clearance_mm": each.bottom_mm,
            "thrust_N": each.thrust_N,
            "thrust_warm_N": each.warm_N,
            "growth_mm": each.growth_mm,
            "side_load_N": each.load_N,
            "side_load_held_N": each.held_N,
            "travel_left_mm": each.left_mm,
            "retreat_mm": each.retreat_mm,
            "locked": each.asked.lock != "none",
            "rubbing_m_per_min": each.rubbing_m_per_min,
            "terms": [term_data(term) for term in each.terms],
            "off_axis_mm": sums_data(each.off_mm),
        }
        for each in holds(tool)
    ]


def _lines(found: tuple[Hold, ...]) -> tuple[str, ...]:
    if not found:
        return ("No end of the plunger is a point.",)
    each = found[0]
    if each.asked.lock == "lock screw":
        pushed = (
            "The lock screw clamps the plunger, so that no push drives it back. Clamped it does "
            "not give way to work that grows: let it go in time."
        )
    else:
        pushed = (
            "The set screw in its slot stops the plunger when the travel is used up: as long as "
            "less travel is left than the point stands deep in the work, no push can take the "
            "point out."
        )
    return (
        f"To be steadied: {work(each.asked)}. The point stands still and the work turns on it; the "
        f"springs press it in and give way as the work grows. {pushed}",
        f"The point bears {digits(100 * WEIGHT_SHARE, 0)} % of the work's weight, as if the chuck "
        "held it no firmer than the point does, and what pushes across the axis besides: "
        "engineering judgement. Friction, which would help, is left out.",
        f"{BUDGET_LINE} A point off the axis to the side makes turned work taper by twice as much "
        "over its length.",
    )


def _way(term: Term) -> str:
    return "any" if term.way is None else "always this one"


def _calculations(each: Hold) -> Iterator[Calculation]:
    o, tip, asked, hole = each.orientation, each.tip, each.asked, each.hole
    half_deg = digits(tip.angle_deg / 2, 1)
    yield Calculation(
        "b",
        f"band on which point and centre hole {hole.name} touch, on the diameter",
        f"min(D, d_p) {MINUS} max(d, d_f)",
        f"{digits(each.outer_mm)} {MINUS} {digits(each.inner_mm)}",
        amount(each.band_mm, "mm"),
        "geometry; sizes of the hole: ISO 866, DIN 332-1",
    )
    yield Calculation(
        "z",
        "point inside the work",
        f"(D {MINUS} d_f)/(2 tan h)",
        f"({digits(each.outer_mm)} {MINUS} {digits(tip.flat_mm)})/(2 tan {half_deg}°)",
        amount(each.deep_mm, "mm"),
        "geometry",
    )
    yield Calculation(
        "F",
        f"thrust, pushed in by {amount(asked.set_mm, 'mm')}",
        "by the curve of force against length",
        "see the springs",
        amount(each.thrust_N, "N"),
        "see the springs",
    )
    yield Calculation(
        "H",
        "push across the axis that lifts the point out",
        "F/tan h",
        f"{digits(each.thrust_N, 2)}/tan {half_deg}°",
        amount(each.held_N, "N"),
        "equilibrium on a slope, without friction",
    )
    yield Calculation(
        "Q",
        "push across the axis that there is",
        f"{digits(WEIGHT_SHARE)} m g + Q_s",
        f"{digits(WEIGHT_SHARE)} · {digits(asked.mass_g / 1000, 3)} kg · 9.807 + "
        f"{digits(asked.side_N, 1)}",
        amount(each.load_N, "N"),
        "share of the weight: engineering judgement",
    )
    yield Calculation(
        "ΔL",
        "growth of the work",
        f"{ALPHA} L ΔT",
        f"{digits(asked.expansion_um_per_m_K / 1e6, 7)} · {digits(asked.length_mm, 1)} · "
        f"{digits(asked.warmer_K, 1)}",
        amount(each.growth_mm, "mm"),
        f"linear expansion; {ALPHA} by the table of work, or the file's",
    )
    yield Calculation(
        "ΔF",
        "change of thrust by it",
        "by the curve; k ΔL",
        f"{digits(o.rate_N_per_mm, 3)} · {digits(each.growth_mm, 3)}",
        amount(each.warm_N - each.thrust_N, "N"),
        "see the springs",
    )
    yield Calculation(
        "R",
        "travel left as it is set, by which a push drives the plunger back",
        f"S {MINUS} set",
        f"{digits(o.travel_mm)} {MINUS} {digits(asked.set_mm)}",
        amount(each.retreat_mm, "mm"),
        "geometry",
    )
    if asked.rpm > 0:
        yield Calculation(
            "v",
            "speed at which the work rubs on the point",
            "π D n",
            f"π · {digits(each.outer_mm)} mm · {digits(asked.rpm, 0)}/min",
            f"{digits(each.rubbing_m_per_min, 2)} m/min",
            "geometry",
        )
