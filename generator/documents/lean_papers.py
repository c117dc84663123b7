"""How far each thread leans and how far its mouth opens, for readers and as plain data."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from generator.checks.lean import CLASSES_DEG
from generator.documents.budget_papers import given, term_data
from generator.documents.signs import signed
from generator.documents.table import Column, Section, Table
from generator.model.tool import Tool
from generator.standards.rows import once
from generator.units import number, shown
from generator.use.alignment import Figures, Kind, Lean, leans

if TYPE_CHECKING:  # it loads numpy, which a mere check does without
    from generator.use.simulation import SimulatedLean, Simulation

KINDS: Final[dict[Kind, str]] = {
    "bias": "leans, always this way",
    "random": "leans, any way",
    "turning": "turns, opens the mouth",
}


def lean_section(tool: Tool, simulated: Simulation) -> Section:
    """Return the section of the report about the lean of the threads.

    Args:
        tool: The tool.
        simulated: Its many assemblies, from `simulate`.
    """
    taps = simulated.taps
    title = "Lean of the threads"
    if not taps:
        return Section(title, (*_unserved(tool), _none(tool)))
    tables = [_chain_table(tool, taps), _lean_table(taps), _use_table(taps)]
    worst = max(taps, key=lambda each: each.lean.most_deg())
    if worst.lean.contributors:
        tables.append(_contributors_table(worst.lean))
    return Section(title, (*_setting_lines(tool), *_reading_lines(simulated)), tuple(tables))


def lean_data(tool: Tool, simulated: Simulation) -> dict[str, Any]:
    """Return the same as plain data.

    Args:
        tool: The tool.
        simulated: Its many assemblies, from `simulate`.
    """
    return {
        "accept": tool.parameters.alignment.accept,
        "assemblies": simulated.assemblies,
        "seed": simulated.seed,
        "taps": [_tap_data(each) for each in simulated.taps],
        "not_worked_out": [lean.label for lean in leans(tool) if not lean.known],
    }


def _setting_lines(tool: Tool) -> tuple[str, ...]:
    """Say what the machine, the setting and who turns make of the errors."""
    machine, hole_deg = tool.parameters.machine, tool.parameters.alignment.hole_deg
    lying, same = machine.spindle == "horizontal", machine.drilled == "same setting"
    if lying:
        axis = (
            "Tailstock of a lathe: its errors of height and to the side always point the same way, "
            "and the plunger hangs down in its bore. They add as one fixed vector, taken with the "
            "tailstock low; every other error may point any way."
        )
    else:
        axis = "Quill of a mill or drill: every error may point any way."
    setting = "the hole is drilled in the same setting" if same else "the hole is drilled elsewhere"
    shared = ", so hole and tap share the errors of the quill" if same and not lying else ""
    hole = (
        f"{setting[0].upper()}{setting[1:]}{shared}; its axis is taken as out of line by up to "
        f"{signed(shown(hole_deg, 'deg'))}, and its face as square to it."
    )
    if machine.turned == "work":
        turned = (
            "The work is turned by hand and the wrench rests: tap and follower turn against the "
            "work as one, so their errors open the mouth. Only the axis of the hole, and where the "
            "thread starts in it, lean the thread."
        )
    else:
        turned = (
            "A wrench turns the tap: what stands still leans the thread, and only the errors that "
            "turn with the tap open its mouth."
        )
    return (axis, hole, turned)


def _reading_lines(simulated: Simulation) -> tuple[str, ...]:
    return (
        "Each error is at most its radius, and anywhere in that disc with the same chance. Worst "
        "case: all at their most and in one line. RSS: the fixed errors, and the root of the sum "
        "of the squares of the others. 50, 95 and 99.7 % of "
        f"{simulated.assemblies:,} simulated assemblies lean no more than stated; the 95 % is also "
        "worked out exactly, and by that the class is told and the check judges. The arm runs from "
        "the follower's hold on the tap to its first full thread: a longer tap leans less.",
        "The lean is set while the first two or three threads are cut. A follower that moves "
        "later bends the tap, not the thread.",
    )


def _none(tool: Tool) -> str:
    """Return why there is nothing to tell."""
    if leans(tool):
        return "No tap is left whose chain can be worked out."
    return "No end of the plunger serves a tap."


def _unserved(tool: Tool) -> tuple[str, ...]:
    return tuple(
        f"{lean.label}: the tap has no length left, or the bore does not guide the plunger."
        for lean in leans(tool)
        if not lean.known
    )


def _chain_table(tool: Tool, taps: tuple[SimulatedLean, ...]) -> Table:
    """Return every error with the most that it reaches at the taps."""
    columns = (
        Column("error"),
        Column("key"),
        Column("its value", "number"),
        Column("at the tap, mm", "number"),
        Column("what it does"),
        Column("for"),
    )
    rows = []
    for key in once(term.key for each in taps for term in each.lean.terms):
        found = [(each.lean, term) for each in taps for term in each.lean.terms if term.key == key]
        term = found[0][1]
        reach = sorted(other.most_mm for _, other in found)
        whole = len(found) == len(taps)
        rows.append(
            (
                term.name,
                key,
                given(term),
                _range(reach[0], reach[-1]),
                KINDS[term.kind],
                "all" if whole else ", ".join(lean.label for lean, _ in found),
            )
        )
    return Table("The chain of errors", columns, tuple(rows))


def _range(least: float, most: float) -> str:
    low, high = number(least), number(most)
    return low if low == high else f"{low} to {high}"


def _lean_table(taps: tuple[SimulatedLean, ...]) -> Table:
    """Return the lean of each thread."""
    headings = ("arm, mm", "worst, °", "RSS", "50 %", "95 %", "99.7 %", "95 % exactly")
    columns = (
        Column("tap"),
        *(Column(heading, "number") for heading in headings),
        Column("over its depth, mm", "number"),
        Column("class"),
    )
    rows = []
    for each in taps:
        figures = each.lean.lean_deg
        degrees = (figures.worst, figures.rss, *each.lean_deg.quantiles, figures.most)
        rows.append(
            (
                each.lean.label,
                number(each.lean.arm_mm, 1),
                *(f"{value:.3f}" for value in degrees),
                f"{number(each.lean.over_mm(figures.most))} in {number(each.lean.tap.depth_mm)}",
                _class(figures.most),
            )
        )
    return Table("Lean of the thread against its hole", columns, tuple(rows))


def _class(lean_deg: float) -> str:
    """Return the closest class that a lean meets."""
    return next((name for name, deg in CLASSES_DEG.items() if lean_deg <= deg), "none")


def _use_table(taps: tuple[SimulatedLean, ...]) -> Table:
    """Return what the lean and the wobble do to a screw, and what to improve."""
    columns = (
        Column("tap"),
        Column("gap under a head, mm", "number"),
        Column("screw through a plate one diameter thick"),
        Column("mouth wider by: 95 %, mm", "number"),
        Column("worst, mm", "number"),
        Column("improve first"),
    )
    rows = []
    for each in taps:
        lean, mouth = each.lean, each.lean.mouth_mm
        first = [item.term for item in lean.contributors if item.weight == "improve first"]
        rows.append(
            (
                lean.label,
                _gap(lean),
                _passing(lean),
                f"{each.mouth_mm.quantiles[1]:.3f}",
                f"{mouth.worst:.3f}",
                first[0].name if first else "nothing",
            )
        )
    return Table("What is noticed when 95 % lean no more", columns, tuple(rows))


def _gap(lean: Lean) -> str:
    return f"{lean.gap_mm:.3f}, head Ø{number(lean.head.head_mm, 1)}" if lean.head else ""


def _passing(lean: Lean) -> str:
    if lean.head is None:
        return ""
    return f"{'passes' if lean.passes else 'jams in'} a hole of {number(lean.head.hole_mm, 2)} mm"


def _contributors_table(lean: Lean) -> Table:
    """Return the errors of the tap that leans most, in the order in which to improve them."""
    columns = (
        Column("error"),
        Column("key"),
        Column("share of the mean square, %", "number"),
        Column("95 % lean without it, °", "number"),
        Column("what follows"),
    )
    rows = tuple(
        (
            item.term.name,
            item.term.key,
            f"{100 * item.share:.0f}",
            f"{item.without_deg:.3f}",
            item.weight,
        )
        for item in lean.contributors
    )
    title = f"What to improve, for the tap that leans most: {lean.label}"
    return Table(f"{title}, {lean.most_deg():.3f}°", columns, rows)


def _tap_data(each: SimulatedLean) -> dict[str, Any]:
    lean = each.lean
    return {
        "tap": lean.label,
        "end": lean.seat.end,
        "arm_mm": lean.arm_mm,
        "depth_mm": lean.tap.depth_mm,
        "lean_deg": _figures_data(lean.lean_deg, each.lean_deg.quantiles),
        "over_depth_mm": lean.over_mm(lean.most_deg()),
        "class": _class(lean.most_deg()),
        "mouth_growth_mm": _figures_data(lean.mouth_mm, each.mouth_mm.quantiles),
        "head_gap_mm": lean.gap_mm,
        "screw_passes": lean.passes,
        "terms": [term_data(term) for term in lean.terms],
        "contributors": [
            {
                "key": item.term.key,
                "share": item.share,
                "without_deg": item.without_deg,
                "weight": item.weight,
            }
            for item in lean.contributors
        ],
        "histogram": {
            "edges_deg": list(each.lean_deg.edges),
            "densities_per_deg": list(each.lean_deg.densities),
        },
    }


def _figures_data(exact: Figures, simulated: tuple[float, ...]) -> dict[str, float]:
    half, most, nearly_all = simulated
    return {
        "worst": exact.worst,
        "rss": exact.rss,
        "exact_50": exact.half,
        "exact_95": exact.most,
        "exact_99_7": exact.nearly_all,
        "simulated_50": half,
        "simulated_95": most,
        "simulated_99_7": nearly_all,
    }
