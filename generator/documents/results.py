"""What the tool does, as plain numbers under the names of the report; NaN where there is none."""

from __future__ import annotations

from collections.abc import Callable
from math import nan
from typing import Any

from generator.checks.making import compound_travel_mm
from generator.checks.springs import solid_margins_mm
from generator.documents.bill import bill, spring_mass_g, total_mass_g
from generator.documents.tip_card import joint_figures, tips_for
from generator.formulas import fit, taper
from generator.model import keeping, parts
from generator.model.shank import shank_of
from generator.model.springs import CoilSpring
from generator.model.tool import Orientation, Tool


def results(tool: Tool) -> dict[str, Any]:
    """Return every result by name.

    A name ends in its unit. What differs with the end at work is an object by the key of the
    orientation, "as_drawn" or "reversed".
    """
    p = tool.parameters
    return {
        "travel_mm": _each(tool, lambda o: o.travel_mm),
        "projection_extended_mm": _each(tool, lambda o: o.projection_extended_mm),
        "projection_compressed_mm": _each(tool, lambda o: o.projection_compressed_mm),
        "preload_N": _each(tool, lambda o: o.preload_N),
        "full_force_N": _each(tool, lambda o: o.full_force_N),
        "guide_ratio": _each(tool, lambda o: o.guide_ratio),
        "guide_mm": _each(tool, lambda o: o.guide_mm),
        "inner_extended_mm": _each(tool, lambda o: o.inner_extended_mm),
        "inner_compressed_mm": _each(tool, lambda o: o.inner_compressed_mm),
        "seat_mm": _each(tool, lambda o: o.seat_mm),
        "room_extended_mm": _each(tool, lambda o: o.room_extended_mm),
        "room_compressed_mm": _each(tool, lambda o: o.room_compressed_mm),
        "energy_extended_J": _each(tool, lambda o: tool.energy_J(o.preload_N)),
        "energy_compressed_J": _each(tool, lambda o: tool.energy_J(o.full_force_N)),
        "tip_error_least_um": _each(tool, lambda o: tip_error_um(o, tool.least_clearance_um)),
        "tip_error_greatest_um": _each(tool, lambda o: tip_error_um(o, tool.greatest_clearance_um)),
        "tilt_deg": _each(tool, lambda o: tilt_deg(o, tool.greatest_clearance_um)),
        "spring_rate_N_per_mm": tool.rate_N_per_mm,
        "solid_margin_mm": solid_margin_mm(tool),
        "clearance_least_um": tool.least_clearance_um,
        "clearance_greatest_um": tool.greatest_clearance_um,
        "wall_at_small_end_mm": (shank_of(p.mount).rear_diameter_mm - parts.pocket_mm(p)) / 2,
        "land_mm": land_mm(tool),
        "slot_exposed_mm": max(0.0, -land_mm(tool)) if p.slot else 0.0,
        "tip_in_slot_mm": tool.across_mm,
        "body_length_mm": tool.body.outline.length_mm,
        "plug_face_mm": tool.plug_face_mm,
        "rear_hole_mm": parts.rear_hole_mm(p),
        "rear_hole_depth_mm": parts.rear_hole_depth_mm(p),
        "rear_full_thread_mm": parts.rear_full_thread_mm(p),
        "taper_half_angle_deg": taper_half_angle_deg(tool),
        "compound_travel_needed_mm": compound_travel_needed_mm(tool),
        "springs": [_spring(tool, spring, spring) for spring in tool.springs],
        "body_mass_g": tool.body.mass_g,
        "total_mass_g": total_mass_g(tool),
        "masses_g": _masses_g(tool),
        **_tips(tool),
    }


def _tips(tool: Tool) -> dict[str, Any]:
    """Return the joint of screwed tips and what each serves; nothing without them."""
    tips = tool.parameters.screwed_tips
    if tips is None:
        return {}
    served = {part.name: list(tips_for(tool, n)) for n, part in enumerate(tool.tips)}
    figures = {**joint_figures(tool, tips)}
    figures["register_play_um"] = list(figures["register_play_um"])
    return {"screwed_tips": {**figures, "serves": served}}


def _masses_g(tool: Tool) -> dict[str, float]:
    """Return the mass of every part by its name, springs by their place."""
    weighed = {
        item.name.lower(): item.mass_g
        for item in bill(tool)
        if not item.name.startswith(("Spring", "Inner spring")) and item.mass_g == item.mass_g
    }
    springs = {
        f"spring {place}" if each is outer else f"spring {place} inner": spring_mass_g(each)
        for place, outer in enumerate(tool.springs, 1)
        for each in outer.nested
    }
    return {**weighed, **springs}


def _each(tool: Tool, value: Callable[[Orientation], Any]) -> dict[str, Any]:
    return {o.key: value(o) for o in tool.orientations}


def _spring(tool: Tool, place: CoilSpring, spring: CoilSpring) -> dict[str, Any]:
    """Return what one spring does in its place of the row; one inside it likewise."""

    def length_mm(force_N: float) -> float:
        return nan if force_N != force_N else min(place.curve.length_mm(force_N), spring.free_mm)

    found = {
        "free_mm": spring.free_mm,
        "solid_mm": spring.solid_mm,
        "rate_N_per_mm": spring.rate_N_per_mm,
        "solid_force_N": spring.solid_force_N,
        "length_extended_mm": _each(tool, lambda o: length_mm(o.preload_N)),
        "length_compressed_mm": _each(tool, lambda o: length_mm(o.full_force_N)),
    }
    if spring.inner is not None:
        found["inner"] = _spring(tool, place, spring.inner)
    return found


def solid_margin_mm(tool: Tool) -> float:
    """Return the smallest of the margins of the springs, NaN if one of them has none."""
    margins_mm = solid_margins_mm(tool)
    return nan if any(m != m for m in margins_mm) else min(margins_mm)


def land_mm(tool: Tool) -> float:
    """Return what covers the slot at extension; negative where the slot shows beyond the nose.

    NaN where there is no slot.
    """
    slot = tool.parameters.slot
    if slot is None:
        return nan
    return keeping.position_mm(tool.parameters) - slot.length_mm + tool.across_mm / 2


def tip_error_um(o: Orientation, clearance_um: float) -> float:
    """Return the radial error of the tip at extension; 0 for a tight fit, NaN without a guide."""
    if o.guide_mm <= 0 or o.projection_extended_mm < 0:
        return nan
    return fit.tip_error_um(
        clearance_um=max(0.0, clearance_um),
        projection_mm=max(0.0, o.projection_extended_mm - o.before_mm),
        guide_mm=o.guide_mm,
    )


def tilt_deg(o: Orientation, clearance_um: float) -> float:
    """Return the tilt of the plunger at extension; 0 for a tight fit, NaN without a guide."""
    if o.guide_mm <= 0:
        return nan
    return fit.tilt_deg(clearance_um=max(0.0, clearance_um), guide_mm=o.guide_mm)


def taper_half_angle_deg(tool: Tool) -> float:
    """Return the angle to which the compound slide is set, NaN for a straight shank."""
    cone = shank_of(tool.parameters.mount).taper
    return nan if cone is None else taper.half_angle_deg(taper=cone.rate)


def compound_travel_needed_mm(tool: Tool) -> float:
    """Return the travel that turns the taper in one pass, NaN for a straight shank."""
    cone = shank_of(tool.parameters.mount).taper
    return nan if cone is None else compound_travel_mm(cone)
