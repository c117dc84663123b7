"""Checks of how the tool is set for each hole: settings, quill, and the bottom of a blind hole."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.advice import more_travel
from generator.checks.finding import Finding, down_to, up_to
from generator.formulas import setting
from generator.inputs.quantities import is_derived
from generator.model.completion import CLEAR_PITCHES, up
from generator.model.tool import Tool
from generator.standards.rows import Tap, Thread
from generator.use.seats import tap_names
from generator.use.settings import Card, cards

SHANK_FREE_MM = 0.2
"""How much thinner than the minor diameter a shank must be to follow its thread; judgement."""

PITCHES_AT_ONCE = 3.0
"""A thread takes its line in the first two or three turns; judgement."""


def below(tool: Tool) -> Iterator[Finding]:
    """Check that a blind hole is drilled deep enough for its thread and the tap's lead."""
    taps = tool.parameters.taps
    for place, tap in enumerate(taps, 1):
        if tap.hole != "blind" or tap in taps[: place - 1]:
            continue
        pitch_mm = Tap.find(f"{tap.standard} {tap.size}").pitch_mm
        lead_mm = setting.lead_mm(lead_threads=tap.lead_threads, pitch_mm=pitch_mm)
        limit = tool.limit("clear below the tap in a blind hole", warn=CLEAR_PITCHES * pitch_mm)
        clear_mm = setting.clear_below_mm(
            drilled_mm=tap.drilled_mm, depth_mm=tap.depth_mm, lead_mm=lead_mm
        )
        short_mm = limit.passes - clear_mm
        key = f"taps[{place}]"
        ways = [f"raise {key}.drilled_mm to {up_to(tap.drilled_mm + short_mm)}"]
        told = f"{key}.drilled_mm" not in tool.derived
        if told and tap.depth_mm - short_mm >= pitch_mm:
            ways.append(f"lower {key}.depth_mm to {down_to(tap.depth_mm - short_mm)}")
        lead_threads = tap.lead_threads - short_mm / pitch_mm
        if told and lead_threads >= 1:
            ways.append(
                f"take a tap with a {key}.lead_threads of at most {down_to(lead_threads, '')}"
            )
        yield Finding(limit, clear_mm, ", or ".join(ways), subject=tap_names(tool)[place - 1])


def tap_length(tool: Tool) -> Iterator[Finding]:
    """Check that the tap is long enough in front of what does not enter the hole.

    A shank thinner than the thread's minor diameter follows it, up to the square; a thicker one
    stops at the end of the thread.
    """
    limit = tool.limit("length of the tap")
    taps = tool.parameters.taps
    for place, tap in enumerate(taps, 1):
        if tap in taps[: place - 1]:
            continue
        row = Tap.find(f"{tap.standard} {tap.size}")
        thread = Thread.find(row.thread)
        passes = row.shank_mm <= thread.minor_mm - SHANK_FREE_MM
        reach_mm = row.overall_mm - row.square_length_mm if passes else row.thread_length_mm
        lead_mm = setting.lead_mm(lead_threads=tap.lead_threads, pitch_mm=row.pitch_mm)
        spare_mm = reach_mm - setting.travel_needed_mm(depth_mm=tap.depth_mm, lead_mm=lead_mm)
        depth_mm = tap.depth_mm + spare_mm - limit.passes
        way = f"lower taps[{place}].depth_mm to {down_to(depth_mm)}"
        yield Finding(
            limit,
            spare_mm,
            f"{way}, or take a longer tap"
            if depth_mm >= row.pitch_mm
            else "take a longer tap as "
            f"taps[{place}].standard, or one with a shorter taps[{place}].lead_threads",
            subject=tap_names(tool)[place - 1],
        )


def travel(tool: Tool) -> Iterator[Finding]:
    """Check that one setting is worth having when the reserves at both ends are kept."""
    for card in _one_a_tap(tool):
        pitch_mm, travel_mm = card.row.pitch_mm, card.orientation.travel_mm
        limit = tool.limit("travel of one setting", warn=PITCHES_AT_ONCE * pitch_mm, fail=pitch_mm)
        usable_mm = setting.usable_travel_mm(travel_mm=travel_mm, home_mm=card.home_reserve_mm)
        yield Finding(
            limit,
            usable_mm,
            more_travel(tool, limit.passes - usable_mm),
            subject=tap_names(tool)[card.place - 1],
        )


def resets(tool: Tool) -> Iterator[Finding]:
    """Check how many settings a hole takes, by the scale of the quill."""
    for card in _one_a_tap(tool):
        if card.usable_mm <= 0:
            continue
        limit = tool.limit("settings for a hole")
        depth_mm = limit.passes * card.usable_mm - card.lead_mm
        more_mm = _travel_mm(tool, card, limit.passes) - card.orientation.travel_mm
        ways = [more_travel(tool, more_mm)]
        if depth_mm > 0:
            ways.append(f"lower taps[{card.place}].depth_mm to {down_to(depth_mm)}")
        yield Finding(
            limit,
            card.needed_mm / card.usable_mm,
            ", or ".join(ways),
            subject=tap_names(tool)[card.place - 1],
        )


def _travel_mm(tool: Tool, card: Card, settings: float) -> float:
    """Return the travel that lets so many settings do, by the scale of the quill."""
    division_mm = tool.parameters.machine.quill_division_mm
    usable_mm = up(card.needed_mm / (settings if settings > 0 else 1.0), division_mm)
    start_mm = up(usable_mm + setting.LEAST_RESERVE_MM, division_mm)
    return start_mm + card.home_reserve_mm


def quill(tool: Tool) -> Iterator[Finding]:
    """Check that the quill reaches the last setting of each hole, where its travel is told.

    It fails where not even the first setting is within its travel; the others may be made by the
    knee, or by moving the tailstock along.
    """
    have_mm = tool.parameters.machine.quill_travel_mm
    if is_derived(have_mm):
        return
    for card in _one_a_tap(tool):
        if not card.steps:
            continue
        again_mm = sum(card.settings_mm[:-1])
        limit = tool.limit("quill travel", fail=-again_mm)
        yield Finding(
            limit,
            have_mm - card.quill_mm,
            f"a machine.quill_travel_mm of {up_to(card.quill_mm + limit.passes)} takes the whole "
            "hole, or set again by the knee or by moving the tailstock",
            subject=tap_names(tool)[card.place - 1],
        )


def _one_a_tap(tool: Tool) -> Iterator[Card]:
    """Yield one card for each tap; travel and readings are the same with either end out."""
    done: set[int] = set()
    for card in cards(tool):
        if card.place not in done:
            done.add(card.place)
            yield card
