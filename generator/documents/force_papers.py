"""The force on each tap for readers and for programs: windows, contact, sharing, another spring."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite, radians, tan
from typing import Any, Final

from generator.checks.finding import Verdict
from generator.checks.run import run_checks
from generator.documents.table import Column, Section, Table
from generator.formulas import cone
from generator.inputs.tables import Spring
from generator.model.tool import Tool
from generator.units import number, shown
from generator.use.seats import Seat, seats
from generator.use.serving import Proposal, serving_spring
from generator.use.sharing import ONE_HAND, TWO_HANDS, Apart, ForceRange, apart, ranges
from generator.use.windows import Window, windows

HANDS: Final = (ONE_HAND, TWO_HANDS)
COUNTED: Final = (
    "How far the plunger is pushed in counts from the plunger forward; advised forces are "
    "engineering judgement."
)
RESTING: Final = "the wrench at rest"
SPRING_KEYS: Final = ("wire_mm", "outside_mm", "free_mm", "active_coils", "ends", "wire")


def force_section(tool: Tool) -> Section:
    """Return the part of the report on the force of the tool and the taps."""
    found, proposal = windows(tool), serving_spring(tool)
    if not found:
        return Section("Force on each tap", ("No end of the plunger serves a tap.",))
    ways = {RESTING: TWO_HANDS} if found[0].rests else {hands: hands for hands in HANDS}
    shared = [(told, ranges(found, hands)[:1]) for told, hands in ways.items()]
    kept = [row for told, hands in ways.items() for row in _apart_rows(found, told, hands)]
    tables = [_windows_table(found), _contact_table(tool, found)]
    if kept:
        tables.append(_apart_table(kept))
    tables.append(_sharing_table(shared))
    if proposal is not None and proposal.tool is not None:
        tables.append(_spring_table(proposal))
    lines = (*_lines(tool, found, any_apart=bool(kept)), *_proposed(tool, proposal))
    return Section("Force on each tap", lines, tuple(tables))


def _lines(tool: Tool, found: tuple[Window, ...], *, any_apart: bool) -> Iterator[str]:
    """Yield a sentence for each table."""
    given = tool.parameters.assumptions
    if found[0].rests:
        yield (
            "The work is turned and the wrench rests: the whole torque over its arm pushes the tap "
            "sideways, always the same way; the cone does not rub, so that only the tap as a "
            f"column sets a most. {COUNTED}"
        )
    else:
        yield (
            "A force below the least lets the wrench push the tap off the cone; one above the most "
            f"drags with over {number(given.feel_percent)} % of the torque and hides how the tap "
            f"cuts, or bends a thin tap. {COUNTED}"
        )
    angles = sorted({w.seat.angle_deg for w in found})
    yield (
        "What a seat holds sideways is told at the preload and without friction: "
        f"{'; '.join(_hold_text(angle, given.cone_friction) for angle in angles)}. Bending left: "
        "the moment at the mouth of the hole, in hundredths of that without a follower."
    )
    if any_apart:
        yield "A pair that no one force serves needs two springs, two plug settings or two tools."
    yield (
        "The range that serves the most taps lies inside the windows of all that it names: a "
        "spring whose force stays there over the whole stroke serves them all."
    )


def _hold_text(angle_deg: float, friction: float) -> str:
    """Return how many times the force a cone holds sideways, and what friction adds."""
    smooth = number(cone.lateral_capacity_N(force_N=1, angle_deg=angle_deg), 2)
    text = f"{smooth} times the force on a cone of {number(angle_deg, 1)}°"
    if friction < tan(radians(angle_deg / 2)):
        held = cone.lateral_capacity_N(force_N=1, angle_deg=angle_deg, friction=friction)
        text += f", with a friction of {number(friction)} it would hold {number(held, 2)} times"
    return text


def _windows_table(found: tuple[Window, ...]) -> Table:
    least = [Column("one hand from, N", "number"), Column("two hands from, N", "number")]
    if found[0].rests:
        least = [Column("at least, N", "number")]
    columns = (
        Column("tap"),
        Column("cuts"),
        Column("torque, N m", "number"),
        *least,
        Column("at most, N", "number"),
        Column("set by"),
        Column("tool gives, N", "number"),
        Column("advised, N", "number"),
        Column("verdict"),
    )
    return Table("What each tap wants and gets", columns, tuple(_window_row(w) for w in found))


def _window_row(w: Window) -> tuple[str, ...]:
    floors_N = (w.two_hands_N,) if w.rests else (w.one_hand_N, w.two_hands_N)
    return (
        w.name,
        w.tap.work,
        number(w.torque_Nm, 2),
        *(number(floor_N, 1) for floor_N in floors_N),
        number(w.ceiling_N, 0),
        w.ceiling_of,
        _span(w.preload_N, w.full_force_N),
        _span(*w.advised_N),
        w.verdict,
    )


def _span(least: float, most: float) -> str:
    if most != most:
        return "\N{EN DASH}"
    return f"{number(least, 1)} to {number(most, 1)}"


def _contact_table(tool: Tool, found: tuple[Window, ...]) -> Table:
    columns = (
        Column("tap and its end"),
        Column("sits in"),
        Column("bears on, mm", "number"),
        Column("band, mm", "number"),
        Column("enters by, mm", "number"),
        Column("pressure, MPa", "number"),
        Column("holds sideways, N", "number"),
        Column("bending left, %", "number"),
        Column("mind"),
    )
    bending = {w.tap: w.bending for w in found}
    rows = tuple(_contact_row(seat, bending[seat.tap]) for seat in seats(tool) if seat.serves)
    return Table("How each end sits", columns, rows)


def _contact_row(seat: Seat, bending: float) -> tuple[str, ...]:
    assert seat.orientation is not None
    return (
        seat.label,
        seat.orientation.name,
        number(seat.contact_mm, 2),
        "line" if seat.hint else number(seat.band_mm, 2),
        number(seat.overlap_mm, 2),
        _known(_pressure_MPa(seat)),
        _known(_held_N(seat)),
        number(100 * bending, 1),
        _mind(seat),
    )


def _known(value: float) -> str:
    return "\N{EN DASH}" if value != value else number(value, 1)


def _pressure_MPa(seat: Seat) -> float:
    """Return the pressure at full force on a band; NaN for a line, or crushed springs."""
    assert seat.orientation is not None
    force_N = seat.orientation.full_force_N
    if seat.hint or not seat.band_mm > 0 or not force_N >= 0:
        return float("nan")
    return cone.ring_pressure_MPa(force_N=force_N, outer_mm=seat.outer_mm, inner_mm=seat.inner_mm)


def _held_N(seat: Seat) -> float:
    assert seat.orientation is not None
    preload_N = seat.orientation.preload_N
    if not preload_N >= 0:
        return float("nan")
    whole_N = cone.lateral_capacity_N(force_N=preload_N, angle_deg=seat.angle_deg)
    return whole_N * seat.hold_share


def _mind(seat: Seat) -> str:
    """Return what the maker must mind at a seat, in words; a dash for nothing."""
    told = [seat.hint] if seat.hint else []
    if seat.edge:
        told.append("the edge of the plunger bears, too")
    if seat.hold_share < 1:
        told.append(f"holds {number(100 * seat.hold_share, 0)} % toward the relieved side")
    if seat.tip_clearance_mm < 0:
        told.append("the tip bottoms")
    return "; ".join(told) or "\N{EN DASH}"


def _apart_rows(found: tuple[Window, ...], told: str, hands: str) -> Iterator[tuple[str, ...]]:
    for pair in apart(found, hands):
        yield (
            told,
            pair.weak,
            number(pair.ceiling_N, 1),
            pair.strong,
            number(pair.floor_N, 1),
        )


def _apart_table(rows: list[tuple[str, ...]]) -> Table:
    columns = (
        Column("with"),
        Column("tap"),
        Column("takes at most, N", "number"),
        Column("tap"),
        Column("wants at least, N", "number"),
    )
    return Table("Taps that no one force serves", columns, tuple(rows))


def _sharing_table(shared: list[tuple[str, tuple[ForceRange, ...]]]) -> Table:
    columns = (
        Column("with"),
        Column("least, N", "number"),
        Column("greatest, N", "number"),
        Column("taps"),
    )
    rows = tuple(
        (hands, number(best.least_N, 1), number(best.greatest_N, 1), ", ".join(best.taps))
        for hands, found in shared
        for best in found
    )
    return Table("The range that serves the most taps", columns, rows)


def _spring_table(proposal: Proposal) -> Table:
    spring, other = proposal.spring, proposal.tool
    assert spring is not None
    assert other is not None
    rows = [(f"springs[1].{key}", _key_text(spring, key)) for key in SPRING_KEYS]
    rows.append(("rate", shown(other.rate_N_per_mm, "N/mm")))
    rows += [
        (f"force, {o.name}, N", _span(o.preload_N, o.full_force_N)) for o in other.orientations
    ]
    rows.append(("serves", ", ".join(proposal.served)))
    return Table("A spring that serves more taps", (Column("key"), Column("value")), tuple(rows))


def _key_text(spring: Spring, key: str) -> str:
    value = getattr(spring, key)
    return value if isinstance(value, str) else number(value)


def _proposed(tool: Tool, proposal: Proposal | None) -> Iterator[str]:
    """Yield a sentence on the spring that would serve more taps, or on what forbids it."""
    if proposal is None:
        return
    target = _span(proposal.target.least_N, proposal.target.greatest_N)
    if proposal.tool is None:
        yield (
            f"A spring within {target} N would serve {len(proposal.target.taps)} taps in place of "
            f"{len(proposal.now)}, but there is none: {proposal.refusal}."
        )
        return
    yield (
        f"Another spring, alone and in the same room, would serve {len(proposal.served)} taps over "
        f"the whole stroke in place of {len(proposal.now)}; {_side_effects(tool, proposal.tool)}."
    )


def _side_effects(tool: Tool, other: Tool) -> str:
    """Return which checks the other tool passes no longer."""
    poor = {f.check for f in run_checks(tool) if f.verdict is not Verdict.PASS}
    worse = [
        f"{f.check} ({f.verdict})"
        for f in run_checks(other)
        if f.verdict is not Verdict.PASS and f.check not in poor
    ]
    return f"it would make worse: {', '.join(worse)}" if worse else "no check becomes worse by it"


def force_data(tool: Tool) -> dict[str, Any]:
    """Return the same as plain data: finite numbers, text, null, lists and objects."""
    found = windows(tool)
    return {
        "taps": [_window_data(w) for w in found],
        "contact": [_contact_data(seat) for seat in seats(tool) if seat.serves],
        "apart": {_word(h): [_pair_data(pair) for pair in apart(found, h)] for h in HANDS},
        "shared": {_word(h): _range_data(ranges(found, h)) for h in HANDS},
        "proposed_spring": _proposal_data(serving_spring(tool)),
    }


def _word(hands: str) -> str:
    return hands.replace(" ", "_")


def _pair_data(pair: Apart) -> dict[str, Any]:
    return {
        "takes_less": pair.weak,
        "greatest_N": pair.ceiling_N,
        "needs_more": pair.strong,
        "least_N": pair.floor_N,
    }


def _window_data(w: Window) -> dict[str, Any]:
    return {
        "tap": w.name,
        "end": w.seat.end,
        "work": w.tap.work,
        "torque_Nm": w.torque_Nm,
        "least_one_hand_N": w.one_hand_N,
        "least_two_hands_N": w.two_hands_N,
        "greatest_feel_N": _finite(w.feel_N),
        "greatest_column_N": w.column_N,
        "preload_N": _finite(w.preload_N),
        "full_force_N": _finite(w.full_force_N),
        "travel_mm": w.travel_mm,
        "two_hands_mm": _finite(w.two_hands_mm),
        "one_hand_mm": _finite(w.one_hand_mm),
        "advised_least_N": w.advised_N[0],
        "advised_greatest_N": w.advised_N[1],
        "bending_left": w.bending,
        "verdict": w.verdict,
    }


def _finite(value: float) -> float | None:
    return value if isfinite(value) else None


def _contact_data(seat: Seat) -> dict[str, Any]:
    assert seat.orientation is not None
    return {
        "tap": seat.name,
        "end": seat.end,
        "orientation": seat.orientation.key,
        "contact_mm": seat.contact_mm,
        "outer_mm": seat.outer_mm,
        "inner_mm": seat.inner_mm,
        "overlap_mm": seat.overlap_mm,
        "tip_clearance_mm": _finite(seat.tip_clearance_mm),
        "pressure_MPa": _finite(_pressure_MPa(seat)),
        "held_sideways_N": _finite(_held_N(seat)),
        "edge": seat.edge,
        "hint": seat.hint,
        "hold_share": seat.hold_share,
    }


def _range_data(found: tuple[ForceRange, ...]) -> dict[str, Any] | None:
    if not found:
        return None
    best = found[0]
    return {"least_N": best.least_N, "greatest_N": best.greatest_N, "taps": list(best.taps)}


def _proposal_data(proposal: Proposal | None) -> dict[str, Any] | None:
    if proposal is None:
        return None
    data: dict[str, Any] = {
        "range": _range_data((proposal.target,)),
        "served_now": list(proposal.now),
        "served": list(proposal.served),
        "refusal": proposal.refusal,
        "spring": None,
    }
    if proposal.tool is not None and proposal.spring is not None:
        spring, other = proposal.spring, proposal.tool
        data["spring"] = {key: getattr(spring, key) for key in SPRING_KEYS}
        data["spring"]["rate_N_per_mm"] = other.rate_N_per_mm
        data["forces_N"] = {o.key: [o.preload_N, o.full_force_N] for o in other.orientations}
    return data
