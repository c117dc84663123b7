"""How near a pick-up centre finds a place, for readers and as plain data."""

from __future__ import annotations

from typing import Any, Final

from generator.documents.budget_papers import (
    BUDGET_LINE,
    budget_table,
    sums_data,
    sums_table,
    term_data,
)
from generator.documents.calculation import Calculation, calculation_table
from generator.documents.picking_card import place
from generator.documents.signs import amount, digits, places
from generator.documents.table import Section, Table
from generator.model.tool import Tool
from generator.use.alignment import CLEARANCE_KEY, Term
from generator.use.picking import SHARPEST_MM, Pick, half, own, picks

TITLE: Final = "Finding the place"


def picking_section(tool: Tool) -> Section:
    """Return the section of the report about the place that is found."""
    found = picks(tool)
    tables = []
    for each in found:
        name = each.orientation.name
        tables += [
            _budget(each, f"Error budget, {name}"),
            sums_table(
                {"one reading": each.once_mm, "mean of two": each.left_mm},
                f"What they add up to, {name}",
            ),
            calculation_table(_calculations(each), f"Point and work, {name}"),
        ]
    return Section(TITLE, _lines(found), tuple(tables))


def picking_data(tool: Tool) -> list[dict[str, Any]]:
    """Return the same as plain data, an entry for each point of the plunger."""
    return [
        {
            "orientation": each.orientation.key,
            "target": each.asked.target,
            "width_mm": each.asked.width_mm,
            "rests_on": each.rests,
            "contact_mm": each.contact_mm,
            "deep_mm": each.deep_mm,
            "pressure_MPa": each.pressure_MPa,
            "yield_MPa": each.asked.yield_MPa,
            "terms": [{**term_data(term), "mean": _mean(term)} for term in each.terms],
            "one_reading_mm": sums_data(each.once_mm),
            "mean_of_two_mm": sums_data(each.left_mm),
        }
        for each in picks(tool)
    ]


def _lines(found: tuple[Pick, ...]) -> tuple[str, ...]:
    if not found:
        return ("No end of the plunger is a point.",)
    asked = found[0].asked
    if asked.read_by == "feel":
        clearance = (
            "By feel the plunger gives way within its clearance before anything is felt: the "
            "clearance is an error of each reading and does not cancel."
        )
    else:
        clearance = (
            "The springs hold the plunger to one side of its bore, and that side turns with the "
            "spindle: so the clearance cancels too, as long as nothing pushes the point aside."
        )
    return (
        f"To be found: {place(asked)}, in {asked.work}. Two readings are taken, the spindle turned "
        "by half a turn between them. What turns with the spindle is off to the one side in the "
        "first and by as much to the other in the second: the mean is free of it. What stands "
        f"still stays. The error of reading halves in each and comes twice. {clearance}",
        BUDGET_LINE,
        "The place is then carried on with another tool in the spindle; how true that runs is not "
        "counted here.",
    )


def _mean(term: Term) -> str:
    if term.turns:
        return "cancels"
    return "half of it from each reading" if own(term) else "stays"


def _left(term: Term) -> str:
    if term.turns:
        return places(0.0, 3)
    return f"2 x {places(half(term).most_mm, 4)}" if own(term) else places(term.most_mm, 3)


def _budget(pick: Pick, title: str) -> Table:
    return budget_table(
        pick.terms,
        {
            "one reading, mm": lambda term: places(term.most_mm, 3),
            "mean of two, mm": _left,
            "what becomes of it": _mean,
        },
        title,
    )


def _calculations(pick: Pick) -> tuple[Calculation, ...]:
    o, tip, asked = pick.orientation, pick.tip, pick.asked
    flat_mm = max(tip.flat_mm, SHARPEST_MM)
    half_deg = tip.angle_deg / 2
    if pick.rests == "bottom":
        half_deg = asked.mark_angle_deg / 2
    share = pick.pressure_MPa / asked.yield_MPa
    clearance = next((term for term in pick.terms if term.key == CLEARANCE_KEY), None)
    found = [
        Calculation(
            "z",
            f"tip below the face; it bears on the {pick.rests}, Ø{digits(pick.contact_mm, 2)}",
            "(w \N{MINUS SIGN} d_f)/(2 tan h)",
            f"({digits(asked.width_mm)} \N{MINUS SIGN} {digits(tip.flat_mm)})"
            f"/(2 tan {digits(half_deg, 1)}°)",
            amount(pick.deep_mm, "mm"),
            "geometry; at most the plunger's own width enters",
        ),
        Calculation(
            "p",
            "pressure of the tip's flat beside the place, pushed home",
            "4 F_2/(π d_f²)",
            f"4 · {digits(o.full_force_N, 2)}/(π · {digits(flat_mm)}²)",
            amount(pick.pressure_MPa, "MPa"),
            f"mean pressure; no point is taken as sharper than {amount(SHARPEST_MM, 'mm')}",
        ),
        Calculation(
            "p/R_e",
            "the same in yield strengths of the work",
            "p/R_e",
            f"{digits(pick.pressure_MPa, 0)}/{digits(asked.yield_MPa, 0)}",
            digits(share, 2),
            "a dent is full at about 3, by textbooks on hardness, from memory, unverified",
        ),
    ]
    if clearance is not None:
        out = "(P_ext \N{MINUS SIGN} f)" if o.before_mm else "P_ext"
        found.append(
            Calculation(
                "e_c",
                "clearance of the plunger at its tip, plunger out",
                f"C (1/2 + {out}/L_g)",
                f"{digits(clearance.given / 1000, 4)} · (1/2 + "
                f"{digits(o.projection_extended_mm - o.before_mm, 2)}/{digits(o.guide_mm, 2)})",
                amount(clearance.most_mm, "mm"),
                "geometry; C is the greatest clearance",
            )
        )
    return tuple(found)
