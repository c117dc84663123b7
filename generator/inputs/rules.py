"""What the keys of a table must agree on, and what a file may ask of the standards.

Each rule returns what it was given, or raises what is wrong with it in shop words.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from pydantic_core import PydanticCustomError

from generator.errors import StandardError
from generator.formulas import spring as springs
from generator.inputs.quantities import DERIVED_TEXT, is_derived, known
from generator.inputs.shop import FollowedTap
from generator.inputs.tables import Bore, DrawbarMount, Mount, Plunger, RetainingScrew, Spring
from generator.standards.bands import SpringWire, ToleranceZone
from generator.standards.rows import MorseTaper, SetScrew, Tap, Thread

if TYPE_CHECKING:
    from generator.inputs.parameters import Parameters

Fitted = TypeVar("Fitted", Plunger, Bore)


def spring_coils(spring: Spring) -> Spring:
    """Refuse a spring whose coils are told twice or not at all, or that cannot be wound."""
    if is_derived(spring.total_coils) == is_derived(spring.active_coils):
        raise _contradiction("give either total_coils or active_coils")
    if spring.outside_mm <= 2 * spring.wire_mm:
        raise _contradiction("outside_mm must exceed twice wire_mm")
    _coils(spring)
    try:
        SpringWire.strength_MPa(spring.wire, spring.wire_mm)
        SpringWire.shear_modulus_MPa(spring.wire, spring.wire_mm)
    except StandardError as error:
        raise _contradiction(f"wire_mm: {error}") from None
    return spring


def _coils(spring: Spring) -> None:
    """Refuse coils that cannot give, and sizes that no stocked spring has."""
    total = spring.total_coils
    if is_derived(total):
        total = springs.total_coils(active_coils=spring.active_coils, ends=spring.ends)
    dead = springs.total_coils(active_coils=1, ends=spring.ends) - 1
    if total <= dead:
        raise _contradiction(f"total_coils must be above the {dead} that {spring.ends} ends take")
    solid_mm = springs.solid_length_mm(wire_mm=spring.wire_mm, total_coils=total, ends=spring.ends)
    if spring.free_mm <= solid_mm:
        raise _contradiction(f"free_mm must be above the solid length, {solid_mm:g}")
    try:
        springs.outside_tolerance_mm(outside_mm=spring.outside_mm)
    except ValueError:
        raise _contradiction(
            f"outside_mm: no stocked spring is {spring.outside_mm:g} mm; they go from 0.64 to 42.85"
        ) from None


def _contradiction(text: str) -> PydanticCustomError:
    return PydanticCustomError("contradiction", "{text}", {"text": text})


def screw_point(screw: RetainingScrew) -> RetainingScrew:
    """Refuse a screw or point that no table holds and that the file does not describe."""
    major_mm = Thread.find(screw.thread).major_mm
    if screw.tip_mm > major_mm:
        raise _contradiction(f"tip_mm must be at most the thread's diameter, {major_mm:g}")
    missing = [
        key for key in ("length_mm", "tip_mm", "tip_length_mm") if is_derived(getattr(screw, key))
    ]
    if not missing:
        return screw
    row = {row.name: row for row in SetScrew.rows()}.get(screw.thread)
    if row is None:
        raise _contradiction(f"no set screw {screw.thread} is tabulated; give {', '.join(missing)}")
    try:
        row.tip_mm(screw.point)
    except StandardError as error:
        raise _contradiction(f"point: {error}; or give {', '.join(missing)}") from None
    return screw


def drawbar_thread(mount: Mount) -> Mount:
    """Refuse a draw-bar on a taper that has no thread for one, unless the file gives it."""
    if (
        isinstance(mount, DrawbarMount)
        and mount.drawbar_thread == DERIVED_TEXT
        and not MorseTaper.find(mount.row_name).drawbar_thread
    ):
        raise _contradiction(f"{mount.size} has no draw-bar thread of its own; give drawbar_thread")
    return mount


def tap_size(tap: FollowedTap) -> FollowedTap:
    """Refuse a tap that the table does not hold, naming what it holds."""
    standards = tuple(dict.fromkeys(row.standard for row in Tap.rows()))
    known(standards, tap.standard, key="standard")
    known(
        tuple(row.size for row in Tap.rows() if row.standard == tap.standard), tap.size, key="size"
    )
    return tap


def plunger_ends(plunger: Plunger) -> Plunger:
    """Refuse a plunger that follows nothing, or a fit that contradicts itself."""
    if plunger.front.style == "plain" and plunger.rear.style == "plain":
        raise _contradiction("one end must be a point or a countersink")
    fit(plunger)
    return plunger


def fit(fitted: Fitted) -> Fitted:
    """Refuse a fit told twice, upside down, or not tabulated for the diameter."""
    if fitted.tolerance != DERIVED_TEXT and fitted.limits_um is not None:
        raise _contradiction("give either tolerance or limits_um")
    if fitted.limits_um is not None and fitted.limits_um[0] > fitted.limits_um[1]:
        raise _contradiction("limits_um: the lower deviation comes first")
    if fitted.limits_um is None and not is_derived(fitted.diameter_mm):
        _tabulated(fitted, fitted.diameter_mm)
    return fitted


def _tabulated(fitted: Plunger | Bore, diameter_mm: float) -> None:
    default = "H7" if isinstance(fitted, Bore) else "h8"
    try:
        ToleranceZone.limits_um(fitted.tolerance or default, diameter_mm)
    except StandardError as error:
        raise _contradiction(f"tolerance: {error}; or give limits_um") from None


def bore_of_the_plunger(parameters: Parameters) -> Parameters:
    """Refuse a fit that is not tabulated for a bore whose diameter is that of the plunger."""
    bore = parameters.bore
    if is_derived(bore.diameter_mm) and bore.limits_um is None:
        try:
            _tabulated(bore, parameters.plunger.diameter_mm)
        except PydanticCustomError as error:
            raise _contradiction(f"bore: {error.message()}") from None
    return parameters
