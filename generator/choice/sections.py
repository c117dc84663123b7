"""What the drawer allows of everything but lengths and springs, judged by the checks themselves.

A section is a mount, a rear thread, a reamer with its bar, the forms of the plunger's ends and a
set screw with its cutter. Each check speaks of few of them, so each is asked of a tool in which
only those matter.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from math import nan
from typing import Final, get_args

from generator.checks import making, milled, motion, rear, retention, setting, springs, taps, walls
from generator.checks.finding import Finding
from generator.choice.candidate import (
    LAYOUTS,
    STYLES,
    Candidate,
    Fit,
    Lengths,
    Piece,
    Retention,
    Style,
    parameters,
)
from generator.choice.levels import Levels
from generator.formulas import cone, strength
from generator.inputs.drawer import Shop, StockBar, StockScrew, ThreadTap
from generator.inputs.quantities import DERIVED, is_derived
from generator.inputs.shop import TapEnd
from generator.inputs.tables import Mount
from generator.making.stock import FACING_MM, KERF_MM, SKIN_MM, STUB_MM
from generator.model import keeping, parts
from generator.model.completion import up
from generator.model.parts import front_bevel_mm
from generator.model.shank import shank_of
from generator.model.tips import DRILL_POINT_DEG
from generator.model.tool import Tool, design
from generator.standards.limits import SLACK
from generator.standards.rows import SetScrew, Thread
from generator.use.seats import Seat, seats, tap_names
from generator.use.settings import ejects_at_mm
from generator.use.windows import Window, windows

Check = Callable[[Tool], Iterator[Finding]]

OF_HOLDER: Final[tuple[Check, ...]] = (
    walls.bore_at_small_end,
    walls.rear_thread,
    walls.jaws,
    milled.wall_over_any_thread,
    milled.flats,
    walls.plug_web,
    rear.rear_hole,
    rear.drawbar,
    rear.plug,
    rear.ejection,
    making.compound,
)
OF_FIT: Final[tuple[Check, ...]] = (motion.clearance, motion.vent, walls.bevel, springs.button)
OF_RETENTION: Final[tuple[Check, ...]] = (
    retention.play,
    retention.bearing,
    retention.dog,
    retention.gap,
    retention.holding,
    walls.hole_across,
    walls.nose,
    walls.nose_rim,
)
OF_ENDS: Final[tuple[Check, ...]] = (walls.plunger_ends,)
OF_TAPS: Final[tuple[Check, ...]] = (
    taps.seating,
    taps.hidden_end,
    setting.below,
    setting.tap_length,
)
OF_LENGTHS: Final = frozenset(
    {
        "thread ahead of the plug",
        "tilt of the plunger",
        "nose behind the screw hole",
        "nose in front of the screw hole",
        "metal between slot and end",
        "core between the ends",
        "slot ends apart",
        "plunger reaches the hidden end",
    }
)
"""Limits that the lengths settle; they are judged with these."""

NEAR_MM: Final = 0.1
"""A bar runs in a bore whose nominal size is no further from its own; the fit is then checked."""

BODY_MATERIALS: Final = ("steel", "stainless", "tool steel", "silver steel")
"""How the names of materials begin that a body may be made of; engineering judgement."""

PLUNGER_MATERIALS: Final = ("steel", "tool steel", "silver steel")
"""Likewise of a plunger."""

TAP_ENDS: Final = get_args(TapEnd)
SLOT_MM: Final = 15.0
BUTTON_MM: Final = 2.0
NOSE_STEP_MM: Final = 1.0
NOSE_TRIES: Final = 12
WIDER_MM: Final = 1.5
"""No cutter that is wider than the screw's thread by more than this is looked at."""

CUTTERS_MM: Final = (1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 4.5, 5.0, 6.0)
"""Slot drills of a shop that lists none; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Holder:
    """A mount with a rear thread and a bore, and what lengths they settle.

    Attributes:
        mount: How the machine holds the tool.
        rear: The tap for the rear thread.
        fit: Reamer and bar.
        mount_mm: Length of the body behind the nose.
        stand_out_mm: From the spindle face to the shoulder of the nose.
        nose_mm: Least diameter of the nose, for a shoulder before the mount.
        plug_mm: Length of the plug.
        sunk_mm: Least depth of the plug below the rear end.
        pitch_mm: Pitch of the rear thread.
        run_out_mm: Length of its run-out.
        drop_mm: Length of the drill's point before its hole; 0 where the bore is that hole.
        widened: Whether it has a hole of its own, wider than the bore.
        tap_reach_mm: How deep its tap reaches.
        point_mm: What the drill for the bore needs beyond it.
        ejects_mm: How far out of its rearmost place the barrel pushes the tool out.
    """

    mount: Mount
    rear: ThreadTap
    fit: Fit
    mount_mm: float
    stand_out_mm: float
    nose_mm: float
    plug_mm: float
    sunk_mm: float
    pitch_mm: float
    run_out_mm: float
    drop_mm: float
    widened: bool
    tap_reach_mm: float
    point_mm: float
    ejects_mm: float


@dataclass(frozen=True, slots=True)
class Slotted:
    """A set screw in a slot.

    Attributes:
        retention: Screw, cutter and nose.
        tip_mm: Diameter that meets the ends of the slot.
        screw_mm: Diameter of the screw's thread.
        snap_J: Energy that the tip bears when the plunger flies out; infinite for no limit.
    """

    retention: Retention
    tip_mm: float
    screw_mm: float
    snap_J: float


@dataclass(frozen=True, slots=True)
class OnEnd:
    """How a tap sits on the plunger.

    Attributes:
        place: Which tap of the workshop, from 0.
        orientation: Which orientation serves it.
        floor_N: Least force that holds its end, by two hands.
        ceiling_N: Most that it takes.
        tall_mm: By orientation, what must fit between the plunger's tip and the work; NaN for none.
        hidden_mm: By orientation, how far the plunger must at least stand out; NaN likewise.
    """

    place: int
    orientation: int
    floor_N: float
    ceiling_N: float
    tall_mm: tuple[float, ...]
    hidden_mm: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Ended:
    """A plunger with its two ends, and how the taps sit on them.

    Attributes:
        style: Forms of the ends.
        outer_mm: By orientation, the length over which the end at work is not full.
        inner_mm: By orientation, the same of the end inside.
        hollow_mm: Length of the longer end, hollow or not.
        offset_mm: How much further the slot lies from the front tip than from the rear one: not at
            all, or as far as makes both ends press alike.
        room_mm: By orientation, how much more room than in the first the springs have.
        bevel_mm: What the bevel at the mouth of the bore takes of the guide.
        slack_mm: Greatest clearance of the plunger.
        taps: The taps that an end serves.
    """

    style: Style
    outer_mm: tuple[float, ...]
    inner_mm: tuple[float, ...]
    hollow_mm: float
    offset_mm: float
    room_mm: tuple[float, ...]
    bevel_mm: float
    slack_mm: float
    taps: tuple[OnEnd, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """Everything of a design but lengths and springs.

    Attributes:
        holder: Mount, rear thread and bore.
        slotted: Set screw and slot.
        ended: The plunger's ends.
        nose_diameter_mm: Diameter of the nose.
        bars: The bars that its body may be turned from, the smallest first.
        body_mm: Longest body that they leave, with what is faced, sawn off and chucked.
        plunger_mm: Longest plunger likewise.
    """

    holder: Holder
    slotted: Slotted
    ended: Ended
    nose_diameter_mm: float
    bars: tuple[StockBar, ...]
    body_mm: float
    plunger_mm: float

    @property
    def fit(self) -> Fit:
        """Reamer and bar of the plunger."""
        return self.holder.fit


def probe(
    shop: Shop,
    *,
    fit: Fit,
    mount: Mount | None = None,
    rear: ThreadTap | None = None,
    style: Style = STYLES[0],
    retention: Retention | None = None,
    nose_diameter_mm: float = DERIVED,
    every_tap: bool = False,
) -> Tool:
    """Return a tool for a check that looks at some of its choices alone."""
    if retention is None:
        retention = Retention(StockScrew(thread="M3"), DERIVED, DERIVED, DERIVED)
    lengths = Lengths(
        slot_mm=SLOT_MM,
        position_mm=DERIVED,
        front_mm=DERIVED,
        plunger_mm=DERIVED,
        nose_mm=DERIVED,
        sunk_mm=DERIVED,
        button_mm=BUTTON_MM,
    )
    chosen = Candidate(
        mount=mount or shop.mounts[0],
        rear=rear or ThreadTap(thread="", reach_mm=100.0),
        fit=fit,
        style=style,
        retention=retention,
        body=shop.bars[0],
        nose_diameter_mm=nose_diameter_mm,
        lengths=lengths,
        row=(Piece(shop.springs[0]),),
        taps=tuple(range(len(shop.taps) if every_tap else 1)),
    )
    return design(parameters(shop, chosen))


def broken(tool: Tool, checks: Iterable[Check], levels: Levels) -> str:
    """Return the first limit that a tool breaks, of those that no length settles; "" for none."""
    return next(
        (
            finding.limit.name
            for check in checks
            for finding in check(tool)
            if finding.limit.name not in OF_LENGTHS and not levels.passes(finding)
        ),
        "",
    )


def fits(shop: Shop) -> Iterator[Fit]:
    """Yield every reamer with every bar that may run in its bore."""
    for reamer in shop.reamers:
        for bar in shop.bars:
            near = abs(reamer.diameter_mm - bar.diameter_mm) <= NEAR_MM
            exact = bool(bar.tolerance) or bar.limits_um is not None
            if near and exact and bar.material.startswith(PLUNGER_MATERIALS):
                yield Fit(reamer, bar)


def holders(shop: Shop, fit: Fit, levels: Levels) -> Iterator[Holder | str]:
    """Yield every mount with every rear thread, or the rule that forbids it."""
    for mount in shop.mounts:
        for rear_tap in shop.thread_taps:
            yield _holder(shop, fit, mount, rear_tap, levels)


def _holder(
    shop: Shop, fit: Fit, mount: Mount, rear_tap: ThreadTap, levels: Levels
) -> Holder | str:
    if Thread.find(rear_tap.thread).major_mm <= fit.reamer.diameter_mm:
        return "rear hole against the thread's greatest minor diameter"
    tool = probe(shop, fit=fit, mount=mount, rear=rear_tap)
    rule = broken(tool, OF_HOLDER, levels)
    if rule:
        return rule
    p = tool.parameters
    assert p.plug is not None  # a body that is chosen has a plug
    row, hole_mm = Thread.find(rear_tap.thread), parts.rear_hole_mm(p)
    return Holder(
        mount=mount,
        rear=rear_tap,
        fit=fit,
        mount_mm=shank_of(p.mount).length_mm,
        stand_out_mm=shank_of(p.mount).out_mm,
        nose_mm=p.body.nose_diameter_mm,
        plug_mm=p.plug.length_mm,
        sunk_mm=p.plug.sunk_mm,
        pitch_mm=row.pitch_mm,
        run_out_mm=parts.rear_hole_depth_mm(p) - parts.rear_full_thread_mm(p),
        drop_mm=parts.body_length_mm(p) - parts.rear_hole_depth_mm(p) - parts.rear_hole_start_mm(p),
        widened=hole_mm > p.bore.diameter_mm,
        tap_reach_mm=p.workshop.tap_reach_mm,
        point_mm=cone.drill_point_mm(diameter_mm=p.bore.diameter_mm, angle_deg=DRILL_POINT_DEG),
        ejects_mm=ejects_at_mm(tool),
    )


def slots(shop: Shop, fit: Fit, levels: Levels) -> Iterator[Slotted | str]:
    """Yield every set screw with every cutter for its slot, or the rule that forbids it."""
    threads = {one.thread for one in shop.thread_taps}
    for screw in shop.set_screws:
        for width_mm in cutters_mm(shop):
            if screw.thread not in threads:
                yield "tap for the set screw"
            else:
                yield _slotted(shop, fit, screw, width_mm, levels)


def cutters_mm(shop: Shop) -> tuple[float, ...]:
    """Return the widths of slot that the workshop can mill."""
    return tuple(sorted(set(shop.bench.end_mills_mm or CUTTERS_MM)))


def _slotted(
    shop: Shop, fit: Fit, screw: StockScrew, width_mm: float, levels: Levels
) -> Slotted | str:
    row = Thread.find(screw.thread)
    if not width_mm < min(fit.bar.diameter_mm, row.major_mm + WIDER_MM):
        return "play of the tip in the slot, greatest"
    rule = _no_play(screw, width_mm, row, levels)
    if rule:
        return rule
    rule = "screw thread in the wall"
    for held in _noses(shop, fit, screw, width_mm, levels):
        tool = probe(shop, fit=fit, retention=held, nose_diameter_mm=held.nose_mm)
        rule = broken(tool, OF_RETENTION, levels)
        if not rule:
            return Slotted(held, tool.across_mm, row.major_mm, _snap_J(tool, row, levels))
        if not rule.startswith(("screw thread in", "set screw", "rim", "wall")):
            break
    return rule


def _no_play(screw: StockScrew, width_mm: float, row: Thread, levels: Levels) -> str:
    """Return what a dog has against a cutter, before any tool is looked at; "" for nothing.

    Where the slot takes the whole thread, or the tip is no cylinder, the checks decide.
    """
    least, most = "play of the tip in the slot, least", "play of the tip in the slot, greatest"
    tip_mm = screw.tip_mm
    if is_derived(tip_mm) and screw.point.startswith("dog"):
        tip_mm = SetScrew.find(screw.thread).tip_mm(screw.point)
    wide = width_mm - row.major_mm >= levels.limit(least).passes - SLACK
    if wide or not screw.point.startswith("dog"):
        return ""
    return next((n for n in (least, most) if not levels.holds(n, width_mm - tip_mm)), "")


def _snap_J(tool: Tool, row: Thread, levels: Levels) -> float:
    """Return the energy at which the blow shears the tip, or beats the ends of the slot."""
    neck_mm = min(tool.across_mm, row.minor_mm)
    blow_N = strength.impact_force_N(
        energy_J=1.0, stiffness_N_per_mm=tool.parameters.assumptions.stop_stiffness_N_per_mm
    )
    of_one_J = strength.pin_shear_MPa(force_N=blow_N, diameter_mm=neck_mm)
    most = [(levels.level("snap on the screw tip") / of_one_J) ** 2]
    most.append(levels.level("ends of the slot relieved"))
    return min((one for one in most if one == one), default=float("inf"))


def _noses(
    shop: Shop, fit: Fit, screw: StockScrew, width_mm: float, levels: Levels
) -> Iterator[Retention]:
    """Yield noses from the smallest that may hold the screw, with the shortest screw that holds."""
    some_mm = min(screw.lengths_mm, default=DERIVED)
    tool = probe(shop, fit=fit, retention=Retention(screw, width_mm, some_mm, DERIVED))
    both, row = tool.parameters.screw_and_slot, Thread.find(screw.thread)
    assert both is not None  # the probe is kept in by a set screw
    p, reach_mm = tool.parameters, keeping.reach_mm(*both)
    start_mm = max(0.0, both[0].tip_length_mm - reach_mm)
    need_mm = levels.strictest(retention.thread_in_wall(levels, row))
    lengths = screw.lengths_mm or _stocked_mm(screw)
    long_mm = start_mm + reach_mm + need_mm
    length_mm = min((one for one in lengths if one >= long_mm - 1e-9), default=None)
    if length_mm is None:
        return
    wall_mm = max(start_mm + need_mm + retention.HOLE_CHAMFER_MM, length_mm - reach_mm)
    least_mm = up(p.bore.diameter_mm + 2 * wall_mm, NOSE_STEP_MM)
    for step in range(NOSE_TRIES):
        yield Retention(screw, width_mm, length_mm, least_mm + step * NOSE_STEP_MM)


def _stocked_mm(screw: StockScrew) -> tuple[float, ...]:
    row = {row.name: row for row in SetScrew.rows()}.get(screw.thread)
    if row is None or screw.point not in row.points:
        return ()
    return row.lengths_mm(screw.point)


def ends(shop: Shop, fit: Fit, levels: Levels) -> Iterator[Ended | str]:
    """Yield the plunger with every layout of its ends, or the rule that forbids it."""
    for style, even in LAYOUTS:
        tool = probe(shop, fit=fit, style=style, every_tap=True)
        rule = broken(tool, OF_ENDS, levels)
        yield rule or _ended(tool, style, levels, even=even)


def _ended(tool: Tool, style: Style, levels: Levels, *, even: bool) -> Ended:
    front, rear_end = parts.plunger_ends(tool.parameters)
    seat = [o.seat_mm for o in tool.orientations]
    offset_mm = 0.0 if even else up(max(0.0, seat[-1] - seat[0]), 0.25)
    room = [0.0] if len(seat) == 1 else [0.0, seat[1] - seat[0] - offset_mm]
    return Ended(
        style=style,
        outer_mm=tuple(o.outer.outer_mm for o in tool.orientations),
        inner_mm=tuple(o.inner.outer_mm for o in tool.orientations),
        hollow_mm=max(max(end.outer_mm, end.inner_mm) for end in (front, rear_end)),
        offset_mm=offset_mm,
        room_mm=tuple(room),
        bevel_mm=front_bevel_mm(tool.parameters),
        slack_mm=max(0.0, tool.greatest_clearance_um) / 1000,
        taps=tuple(on_ends(tool, levels)),
    )


def on_ends(tool: Tool, levels: Levels) -> Iterator[OnEnd]:
    """Yield how each tap sits that an end of the plunger serves without a rule against it."""
    names = tap_names(tool)
    refused = {
        name
        for check in OF_TAPS
        for finding in check(tool)
        for name in names
        if finding.subject in (name, *(f"{name} with {end}" for end in TAP_ENDS))
        and finding.limit.name not in OF_LENGTHS
        and not levels.passes(finding)
    }
    found: dict[str, list[Seat]] = {}
    for seat in seats(tool):
        if seat.orientation is not None and seat.name not in refused:
            found.setdefault(seat.name, []).append(seat)
    for window in windows(tool):
        if window.name in found:
            yield _on_end(tool, window, found[window.name], names.index(window.name))


def _on_end(tool: Tool, window: Window, sitting: list[Seat], place: int) -> OnEnd:
    tall, hidden = [nan] * len(tool.orientations), [nan] * len(tool.orientations)
    for seat in sitting:
        assert seat.orientation is not None
        n = tool.orientations.index(seat.orientation)
        tall_mm = seat.row.overall_mm + seat.tap.wrench_height_mm - seat.overlap_mm
        tall[n] = tall_mm if tall[n] != tall[n] else max(tall[n], tall_mm)
        if seat.tap.hidden_mm > 0:
            stands_mm = seat.tap.hidden_mm + seat.overlap_mm
            hidden[n] = stands_mm if hidden[n] != hidden[n] else max(hidden[n], stands_mm)
    return OnEnd(
        place=place,
        orientation=tool.orientations.index(window.orientation),
        floor_N=window.two_hands_N,
        ceiling_N=window.ceiling_N,
        tall_mm=tuple(tall),
        hidden_mm=tuple(hidden),
    )


def section(shop: Shop, holder: Holder, slotted: Slotted, ended: Ended) -> Section | str:
    """Return a section with the smallest bar that its body comes from, or what is missing."""
    nose_mm = max(holder.nose_mm, slotted.retention.nose_mm)
    wide_mm = nose_mm + SKIN_MM
    spare_mm = FACING_MM + KERF_MM + STUB_MM
    fitting = [
        bar
        for bar in shop.bars
        if bar.diameter_mm >= wide_mm - 1e-9 and bar.material.startswith(BODY_MATERIALS)
    ]
    if not fitting:
        return "bar for the body"
    return Section(
        holder=holder,
        slotted=slotted,
        ended=ended,
        nose_diameter_mm=nose_mm,
        bars=tuple(sorted(fitting, key=lambda bar: (bar.diameter_mm, -bar.length_mm))),
        body_mm=max(bar.length_mm for bar in fitting) - spare_mm,
        plunger_mm=holder.fit.bar.length_mm - spare_mm,
    )
