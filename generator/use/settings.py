"""How the tool is set for each hole: readings of the quill, settings, hands, and the way back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import nan
from typing import Final, Literal

from generator.formulas import setting
from generator.inputs.shop import FollowedTap
from generator.model.completion import down, up
from generator.model.shank import shank_of
from generator.model.tool import Orientation, Tool
from generator.standards.rows import Tap
from generator.use.seats import Seat, seats
from generator.use.windows import floors_N

Action = Literal["touch", "advance", "tap", "back off", "retract"]

MOST_SETTINGS: Final = 12
"""A hole that needs more gets no card."""

ENTRY_SHARE: Final = 0.5
"""Share of the lead that stands in the hole before the first thread bites; judgement."""


@dataclass(frozen=True, slots=True)
class Step:
    """One line of a setting card; the figures hold when it is done.

    Attributes:
        action: "touch", "advance" the quill, "tap", "back off" the tap, or "retract" the quill.
        by_mm: How far the quill or the tap goes.
        reading_mm: Reading of the quill, from 0 where the plunger touches the tap.
        advance_mm: How far the tap has gone in.
        projection_mm: How far the plunger stands out of the nose.
        force_N: Force on the tap; NaN where the springs cannot be worked out.
        one_hand_mm: For "tap": how far into it one hand is enough; else NaN.
        held: Whether the force keeps the cone seated to the end of it, with two hands at least.
    """

    action: Action
    by_mm: float
    reading_mm: float
    advance_mm: float
    projection_mm: float
    force_N: float
    one_hand_mm: float
    held: bool


@dataclass(frozen=True, slots=True)
class Card:
    """How one hole is tapped with one end of the plunger.

    Attributes:
        tap: The tap asked for, with its hole.
        place: Its place in the list of taps, from 1.
        row: Its row in the table.
        ends: The forms of its square end that this end of the plunger serves.
        orientation: The end of the plunger to use.
        lead_mm: Length of the tap's lead.
        needed_mm: How far the tap goes in.
        home_reserve_mm: Travel kept for the half turn that breaks the chip.
        usable_mm: How far the tap can go in one setting, by the scale of the quill.
        rounded: Whether the readings fall on divisions of the scale; not where it is too coarse.
        settings_mm: Advance of the tap in each setting; empty where no card can be made.
        steps: What to do, in order; empty likewise.
        retreat_left_mm: How far the plunger can still be pushed in when the thread is cut.
        raise_mm: How far the quill must at least come up before the tap is out.
        floor_one_N: Force that keeps the cone seated with one hand on the wrench.
        floor_two_N: The same with two hands.
        gap_mm: From the spindle face to the work when the plunger touches the tap.
        quill_mm: Travel of the quill that the card takes.
        clear_below_mm: Room below the tap in a blind hole; NaN for a through hole.
    """

    tap: FollowedTap
    place: int
    row: Tap
    ends: tuple[str, ...]
    orientation: Orientation
    lead_mm: float
    needed_mm: float
    home_reserve_mm: float
    usable_mm: float
    rounded: bool
    settings_mm: tuple[float, ...]
    steps: tuple[Step, ...]
    retreat_left_mm: float
    raise_mm: float
    floor_one_N: float
    floor_two_N: float
    gap_mm: float
    quill_mm: float
    clear_below_mm: float

    @property
    def resets(self) -> int:
        """How often the quill is set again on the way in."""
        return max(0, len(self.settings_mm) - 1)


def cards(tool: Tool) -> tuple[Card, ...]:
    """Return a card for each tap and each end of the plunger that serves it.

    A tap whose square end was not told may be served by either end of the plunger, by its form;
    then there is a card for each.
    """
    return tuple(_card(tool, *group) for group in _groups(tool))


def ejects_at_mm(tool: Tool) -> float:
    """Return how far out of its rearmost place the barrel pushes the tool out; 0 if it does not."""
    p = tool.parameters
    shank = shank_of(p.mount)
    if shank.held != "pushed out" or shank.taper is None:
        return 0.0
    behind_mm = shank.extension.length_mm if shank.extension else 0.0
    past_mm = shank.taper.length_mm + behind_mm - p.machine.ejection_depth_mm
    return max(0.0, past_mm)


def _groups(tool: Tool) -> Iterator[tuple[int, Orientation, tuple[Seat, ...]]]:
    """Yield the place of a tap, an end of the plunger, and the seats of the tap in that end."""
    found = [s for s in seats(tool) if s.serves]
    taps = tool.parameters.taps
    for place, tap in enumerate(taps, 1):
        if tap in taps[: place - 1]:
            continue
        for o in tool.ways:
            group = tuple(s for s in found if s.tap is tap and s.orientation is o)
            if group:
                yield place, o, group


def _card(tool: Tool, place: int, o: Orientation, group: tuple[Seat, ...]) -> Card:
    tap, row = group[0].tap, group[0].row
    lead_mm, needed_mm, home_mm = lead_needed_home_mm(tap, row)
    start_mm, usable_mm, rounded = _start_and_usable_mm(tool, tap, row, o)
    floors = floors_N(tool, group[0])
    settings_mm: tuple[float, ...] = ()
    steps: tuple[Step, ...] = ()
    retreat_mm = raise_mm = quill_mm = nan
    if usable_mm > 0 and needed_mm <= MOST_SETTINGS * usable_mm + 1e-9:
        settings_mm = setting.settings_mm(needed_mm=needed_mm, usable_mm=usable_mm)
        steps = tuple(_steps(o, start_mm, settings_mm, floors))
        retreat_mm = setting.retreat_left_mm(
            travel_mm=o.travel_mm, compression_mm=start_mm - settings_mm[-1]
        )
        raise_mm = setting.least_raise_mm(advanced_mm=needed_mm, retreat_mm=retreat_mm)
        quill_mm = max(step.reading_mm for step in steps) + ejects_at_mm(tool)
    return Card(
        tap=tap,
        place=place,
        row=row,
        ends=tuple(seat.end for seat in group),
        orientation=o,
        lead_mm=lead_mm,
        needed_mm=needed_mm,
        home_reserve_mm=home_mm,
        usable_mm=usable_mm,
        rounded=rounded,
        settings_mm=settings_mm,
        steps=steps,
        retreat_left_mm=retreat_mm,
        raise_mm=raise_mm,
        floor_one_N=floors[0],
        floor_two_N=floors[1],
        gap_mm=_gap_mm(tool, o, group, lead_mm),
        quill_mm=quill_mm,
        clear_below_mm=setting.clear_below_mm(
            drilled_mm=tap.drilled_mm, depth_mm=tap.depth_mm, lead_mm=lead_mm
        )
        if tap.hole == "blind"
        else nan,
    )


def start_mm(tool: Tool, seat: Seat) -> float:
    """Return how far the plunger is pushed in when a tap is started, within its travel."""
    assert seat.orientation is not None
    o = seat.orientation
    start_mm, _, _ = _start_and_usable_mm(tool, seat.tap, seat.row, o)
    return min(max(start_mm, 0.0), max(o.travel_mm, 0.0))


def lead_needed_home_mm(tap: FollowedTap, row: Tap) -> tuple[float, float, float]:
    """Return the lead of a tap, how far the tap goes in, and the reserve at home."""
    lead_mm = setting.lead_mm(lead_threads=tap.lead_threads, pitch_mm=row.pitch_mm)
    needed_mm = setting.travel_needed_mm(depth_mm=tap.depth_mm, lead_mm=lead_mm)
    return lead_mm, needed_mm, setting.home_reserve_mm(pitch_mm=row.pitch_mm)


def _start_and_usable_mm(
    tool: Tool, tap: FollowedTap, row: Tap, o: Orientation
) -> tuple[float, float, bool]:
    _, needed_mm, home_mm = lead_needed_home_mm(tap, row)
    return start_and_usable_mm(
        travel_mm=o.travel_mm,
        home_mm=home_mm,
        needed_mm=needed_mm,
        division_mm=tool.parameters.machine.quill_division_mm,
    )


def start_and_usable_mm(
    *, travel_mm: float, home_mm: float, needed_mm: float, division_mm: float
) -> tuple[float, float, bool]:
    """Return the compression each setting starts from, and how far the tap then goes.

    Both fall on divisions of the scale, never nearer to home than the reserve. Where the scale is
    too coarse for that they are exact, and the third value is False.

    Example:
        >>> start_and_usable_mm(travel_mm=12, home_mm=1, needed_mm=16, division_mm=0.5)
        (11.0, 10.0, True)
        >>> start_and_usable_mm(travel_mm=12, home_mm=1, needed_mm=8.2, division_mm=0.5)
        (9.5, 10.0, True)
        >>> start_and_usable_mm(travel_mm=12, home_mm=1, needed_mm=16, division_mm=20)
        (11.0, 10.0, False)
    """
    spare_mm = setting.LEAST_RESERVE_MM
    most_mm = down(travel_mm - home_mm, division_mm)
    usable_mm = down(most_mm - spare_mm, division_mm)
    if usable_mm > 0:
        short = needed_mm <= usable_mm + 1e-9
        return (up(needed_mm + spare_mm, division_mm) if short else most_mm), usable_mm, True
    exact_mm = setting.usable_travel_mm(travel_mm=travel_mm, home_mm=home_mm)
    return min(needed_mm, exact_mm) + spare_mm, exact_mm, False


def _steps(
    o: Orientation,
    start_mm: float,
    settings_mm: tuple[float, ...],
    floors: tuple[float, float],
) -> Iterator[Step]:
    """Yield what is done: in setting by setting, and out by the same readings in reverse.

    So the plunger touches the tap all the way, and is never pushed further in than at the start.
    """
    # Both run from 0, and their difference is how far the plunger is pushed in.
    reading_mm = advance_mm = 0.0

    def step(action: Action, by_mm: float, one_hand_mm: float = nan) -> Step:
        pushed_mm = reading_mm - advance_mm
        force_N = o.force_N(pushed_mm)
        return Step(
            action=action,
            by_mm=by_mm,
            reading_mm=reading_mm,
            advance_mm=advance_mm,
            projection_mm=o.projection_extended_mm - pushed_mm,
            force_N=force_N,
            one_hand_mm=one_hand_mm,
            held=force_N >= floors[1],
        )

    yield step("touch", 0.0)
    lower_mm = start_mm
    for cut_mm in settings_mm:
        reading_mm += lower_mm
        yield step("advance", lower_mm)
        pushed_mm = reading_mm - advance_mm
        advance_mm += cut_mm
        yield step("tap", cut_mm, _one_hand_mm(o, pushed_mm, cut_mm, floors[0]))
        lower_mm = cut_mm
    for place, cut_mm in reversed(tuple(enumerate(settings_mm))):
        advance_mm = max(0.0, advance_mm - cut_mm) if place else 0.0
        yield step("back off", cut_mm)
        raise_mm = settings_mm[place - 1] if place else reading_mm
        reading_mm = reading_mm - raise_mm if place else 0.0
        yield step("retract", raise_mm)


def _one_hand_mm(o: Orientation, pushed_mm: float, cut_mm: float, floor_N: float) -> float:
    """Return how far into a cut the force stays above a floor; 0 where it cannot be worked out."""
    if not o.force_N(pushed_mm) >= floor_N:
        return 0.0
    return min(cut_mm, pushed_mm - o.pushed_mm(floor_N))


def _gap_mm(tool: Tool, o: Orientation, group: tuple[Seat, ...], lead_mm: float) -> float:
    """Return the distance from spindle face to work at touch; the longest of the forms."""
    p, tap = tool.parameters, group[0].tap
    return setting.spindle_gap_mm(
        stand_out_mm=shank_of(p.mount).out_mm,
        nose_mm=p.body.nose_length_mm,
        projection_mm=o.projection_extended_mm,
        tap_mm=group[0].row.overall_mm + tap.wrench_height_mm,
        overlap_mm=min(seat.overlap_mm for seat in group),
        entry_mm=ENTRY_SHARE * lead_mm,
    )
