"""The lengths of a section for every length of slot, each the least that the rules allow.

The screw stands as near the nose face as land, guide and tilt let it; plunger and nose are no
longer than that needs. Every length falls on the grid on which the model itself derives it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from math import inf, isnan, radians, tan
from typing import Final

import numpy as np

from generator.checks.setting import PITCHES_AT_ONCE
from generator.choice.levels import Levels
from generator.choice.rows import Floats
from generator.choice.sections import OnEnd, Section
from generator.formulas import setting
from generator.inputs.drawer import Shop
from generator.inputs.quantities import is_derived
from generator.model.completion import hole_of
from generator.standards.limits import SLACK
from generator.standards.rows import Tap
from generator.use.settings import MOST_SETTINGS, lead_needed_home_mm, start_and_usable_mm

STEP_MM: Final = 0.5
FRONT_STEP_MM: Final = 0.25
LONGEST_SLOT_MM: Final = 60.0
MOST_STEPS: Final = 400
FREE_MM: Final = 1e3
"""A length beyond any that matters here."""

SettingsRule = Callable[[int, float, float], bool]
"""Whether a tap, by its place, can be set with a travel by a barrel that ejects so early."""


@dataclass(frozen=True, slots=True)
class Strokes:
    """A section with every slot, one an entry of the last axis.

    Attributes:
        section: The section.
        slot_mm: Length of the slot.
        travel_mm: Travel of the plunger.
        position_mm: Set screw, from the nose face.
        front_mm: Front tip to slot.
        plunger_mm: Length of the plunger.
        nose_mm: Length of the nose.
        out_mm: By orientation, how far the tip stands out, pushed home.
        inside_mm: By orientation, where the innermost point of the plunger lies, forward.
        length_mm: From the spindle face to the tip, pushed home.
        body_mm: Length of the body.
        spare_mm: By tap, how much longer the nose may be for it; negative where it is not served.
        longer_mm: How much longer the nose may be for bars and demands; negative where it is too
            long as it is.
    """

    section: Section
    slot_mm: Floats
    travel_mm: Floats
    position_mm: Floats
    front_mm: Floats
    plunger_mm: Floats
    nose_mm: Floats
    out_mm: Floats
    inside_mm: Floats
    length_mm: Floats
    body_mm: Floats
    spare_mm: Floats
    longer_mm: Floats


def raised(values: Floats, step: float) -> Floats:
    """Return values raised to whole numbers of steps; see `completion.up`."""
    return np.asarray(np.round(np.ceil(values / step - 1e-9) * step, 6), np.float64)


def slots_mm() -> Floats:
    """Return every length of slot that is looked at."""
    return np.arange(1, round(LONGEST_SLOT_MM / STEP_MM) + 1, dtype=np.float64) * STEP_MM


def strokes(shop: Shop, section: Section, levels: Levels, settings: SettingsRule) -> Strokes:
    """Return the lengths of a section for every slot that leaves travel enough."""
    slotted, ended, holder = section.slotted, section.ended, section.holder
    tip_mm, slot_mm = slotted.tip_mm, slots_mm()
    least_mm = _or(levels.level("travel"), 0.0)
    wide_mm = slotted.retention.width_mm + _or(levels.level("slot ends apart"), 0.0)
    slot_mm = slot_mm[(slot_mm >= tip_mm + least_mm - 1e-9) & (slot_mm >= wide_mm - 1e-9)]
    travel_mm = slot_mm - tip_mm
    position_mm = _positions_mm(section, slot_mm, levels)
    base_mm = _base_mm(section, position_mm, levels)
    behind_mm = _or(levels.level("nose behind the screw hole"), 0.0)
    nose_mm = raised(position_mm + slotted.screw_mm / 2 + behind_mm, STEP_MM)
    front_mm = base_mm + ended.offset_mm
    outer = [front_mm, base_mm][: len(ended.outer_mm)]
    inner = [base_mm, front_mm][: len(ended.outer_mm)]
    out_mm = np.array([gap_mm + tip_mm / 2 - position_mm for gap_mm in outer])
    inside_mm = np.array([gap_mm + tip_mm / 2 + position_mm for gap_mm in inner])
    length_mm = holder.stand_out_mm + nose_mm + out_mm.max(0)
    body_mm = nose_mm + holder.mount_mm
    plunger_mm = front_mm + slot_mm + base_mm
    room_mm = [
        section.body_mm - body_mm,
        _bored_mm(section, levels) - body_mm,
        np.where(plunger_mm <= section.plunger_mm, FREE_MM, -1.0),
    ]
    if not isnan(shop.demands.length_mm):
        room_mm.append(shop.demands.length_mm - length_mm)
    if not isnan(shop.demands.travel_mm):
        room_mm.append(np.where(travel_mm >= shop.demands.travel_mm - 1e-9, FREE_MM, -1.0))
    spare_mm = np.full((len(shop.taps), len(slot_mm)), -1.0)
    for tap in ended.taps:
        spare_mm[tap.place] = _spare_mm(
            shop, tap, holder.stand_out_mm + nose_mm, out_mm, travel_mm, levels
        )
        served = [settings(tap.place, float(travel), holder.ejects_mm) for travel in travel_mm]
        spare_mm[tap.place][~np.array(served, bool)] = -1.0
    return Strokes(
        section=section,
        slot_mm=slot_mm,
        travel_mm=travel_mm,
        position_mm=position_mm,
        front_mm=front_mm,
        plunger_mm=plunger_mm,
        nose_mm=nose_mm,
        out_mm=out_mm,
        inside_mm=inside_mm,
        length_mm=length_mm,
        body_mm=body_mm,
        spare_mm=spare_mm,
        longer_mm=np.min(room_mm, axis=0),
    )


def _bored_mm(section: Section, levels: Levels) -> float:
    """Return the longest body whose bore reamer and drill reach.

    A hole of its own for the rear thread, as deep as its tap can reach, takes its share.
    """
    holder, reamer = section.holder, section.fit.reamer
    deep_mm = holder.tap_reach_mm - holder.pitch_mm + holder.run_out_mm
    rear_mm = deep_mm if holder.widened else 0.0
    reamer_mm = reamer.length_mm - reamer.grip_mm - _or(levels.level("reamer reach"), -inf)
    spare_mm = levels.level("drill reach")
    reach_mm = reamer.drill_reach_mm
    drill_mm = 2 * reach_mm if spare_mm != spare_mm else reach_mm - spare_mm
    return min(reamer_mm, drill_mm - holder.point_mm) + rear_mm


def _or(level: float, otherwise: float) -> float:
    """Return a level, or what stands for one that is not held."""
    return otherwise if level != level else level


def _base_mm(section: Section, position_mm: Floats, levels: Levels) -> Floats:
    """Return the least length between slot and tip: the end clears nose and slot, pushed home."""
    ended, tip_mm = section.ended, section.slotted.tip_mm
    clear_mm = _or(levels.level("tip clear of the nose when compressed"), 0.0)
    apart_mm = _or(levels.level("metal between slot and end"), 0.0)
    stands_mm = max(ended.outer_mm) + clear_mm
    least_mm = np.maximum(position_mm - tip_mm / 2 + stands_mm, ended.hollow_mm + apart_mm)
    return raised(np.maximum(least_mm, 1.0), FRONT_STEP_MM)


def _positions_mm(section: Section, slot_mm: Floats, levels: Levels) -> Floats:
    """Return the least positions of the screw: land before the slot, nose before the hole, guide.

    The guide grows with the position, so the first step at which it is long enough is the least.
    """
    slotted, ended, fit = section.slotted, section.ended, section.fit
    land_mm = levels.level("land in front of the slot")
    front = _or(levels.level("nose in front of the screw hole"), 0.0)
    hole_mm = front * slotted.screw_mm + slotted.screw_mm / 2 + ended.bevel_mm
    least_mm = np.full_like(slot_mm, hole_mm)
    if land_mm == land_mm:
        least_mm = np.maximum(least_mm, slot_mm - slotted.tip_mm / 2 + land_mm)
    position_mm = raised(least_mm, STEP_MM)
    need_mm = _or(levels.level("guide length"), 0.0) * fit.bar.diameter_mm
    tilt_deg = levels.level("tilt of the plunger")
    if tilt_deg == tilt_deg:
        need_mm = max(need_mm, ended.slack_mm / tan(radians(tilt_deg)))
    offsets = [0.0, ended.offset_mm][: len(ended.outer_mm)]
    for _ in range(MOST_STEPS):
        base_mm = _base_mm(section, position_mm, levels)
        guide_mm = np.min(
            [
                base_mm + more_mm + slotted.tip_mm / 2 + position_mm - inner_mm - ended.bevel_mm
                for more_mm, inner_mm in zip(offsets, ended.inner_mm, strict=True)
            ],
            axis=0,
        )
        short = guide_mm < need_mm - 1e-9
        if not short.any():
            break
        position_mm = position_mm + STEP_MM * short
    return position_mm


def _spare_mm(
    shop: Shop,
    tap: OnEnd,
    above_mm: Floats,
    out_mm: Floats,
    travel_mm: Floats,
    levels: Levels,
) -> Floats:
    """Return how much longer the nose may be before a tap no longer fits under the spindle.

    Negative where it does not fit, or where the plunger does not reach its end in the wrench.
    """
    level_mm = levels.level("headroom", warn=inf)
    room_mm = travel_mm if level_mm == inf else np.full_like(travel_mm, _or(level_mm, -inf))
    reach_mm = _or(levels.level("plunger reaches the hidden end"), 0.0)
    spare = []
    for n, (tall_mm, hidden_mm) in enumerate(zip(tap.tall_mm, tap.hidden_mm, strict=True)):
        if tall_mm == tall_mm:
            spare.append(shop.machine.headroom_mm - above_mm - out_mm[n] - tall_mm - room_mm)
        if hidden_mm == hidden_mm:
            spare.append(np.where(out_mm[n] - hidden_mm >= reach_mm - SLACK, FREE_MM, -1.0))
    least_mm: Floats = np.min(spare, axis=0) + SLACK
    return least_mm


def settings_rule(shop: Shop, levels: Levels) -> SettingsRule:
    """Return what tells whether a tap can be set for its hole with a travel.

    What was found is kept, since many sections share a travel.
    """
    have_mm, division_mm = shop.machine.quill_travel_mm, shop.machine.quill_division_mm

    @cache
    def passes(place: int, travel_mm: float, ejects_mm: float) -> bool:
        tap = hole_of(shop.taps[place])
        row = Tap.find(f"{tap.standard} {tap.size}")
        _, needed_mm, home_mm = lead_needed_home_mm(tap, row)
        once_mm = setting.usable_travel_mm(travel_mm=travel_mm, home_mm=home_mm)
        if not levels.holds(
            "travel of one setting",
            once_mm,
            warn=PITCHES_AT_ONCE * row.pitch_mm,
            fail=row.pitch_mm,
        ):
            return False
        start_mm, usable_mm, _ = start_and_usable_mm(
            travel_mm=travel_mm, home_mm=home_mm, needed_mm=needed_mm, division_mm=division_mm
        )
        if usable_mm <= 0:
            return True
        if not levels.holds("settings for a hole", needed_mm / usable_mm):
            return False
        if is_derived(have_mm) or needed_mm > MOST_SETTINGS * usable_mm + 1e-9:
            return True
        cuts_mm = setting.settings_mm(needed_mm=needed_mm, usable_mm=usable_mm)
        again_mm = sum(cuts_mm[:-1])
        spare_mm = have_mm - start_mm - again_mm - ejects_mm
        return levels.holds("quill travel", spare_mm, fail=-again_mm)

    return passes
