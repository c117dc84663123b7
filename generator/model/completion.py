"""Filling in what the user left out, each value from the ones before it."""

from __future__ import annotations

from dataclasses import replace
from math import ceil, floor, isnan
from typing import TypeVar, cast

from generator.formulas import coils, slot, spring
from generator.inputs.parameters import Parameters
from generator.inputs.quantities import is_derived
from generator.inputs.shop import FollowedTap, TapEnd
from generator.inputs.tables import (
    CountersinkTip,
    DrawbarMount,
    EjectedMount,
    InnerSpring,
    ScrewPoint,
    StraightMount,
    Tip,
)
from generator.model.parts import (
    morse_taper,
    mount_diameter_mm,
    plunger_ends,
    rear_diameter_mm,
    second_plug_mm,
)
from generator.model.springs import used
from generator.standards.bands import SpringWire, TapHandling
from generator.standards.limits import Limit
from generator.standards.rows import SetScrew, Tap, Thread

ROOM_FOR_AIR_MM = 3.0
LOOSE_DISC_MM = 0.3
GRIP_BEHIND_TAP_MM = 25.0
DRIVE_SHARE = 0.25
JAM_SCREW_TURNS = 2.5
DEPTH_DIAMETERS = 1.5
CLEAR_PITCHES = 2.0

Value = TypeVar("Value", float, str)
AnySpring = TypeVar("AnySpring", bound=InnerSpring)


def given(value: Value, otherwise: Value) -> Value:
    """Return a value that the user gave, else the derived one."""
    return otherwise if is_derived(value) else value


def up(value: float, step: float) -> float:
    """Return a value raised to a whole number of steps.

    Example:
        >>> up(12.3, 0.5), up(12.5, 0.5), up(0.1 + 0.2, 0.1)
        (12.5, 12.5, 0.3)
    """
    return round(ceil(value / step - 1e-9) * step, 6)


def down(value: float, step: float) -> float:
    """Return a value lowered to a whole number of steps."""
    return round(floor(value / step + 1e-9) * step, 6)


def complete(p: Parameters) -> Parameters:
    """Return the parameters with every derivable key filled in.

    The order of the steps is the order in which a maker settles them: plunger and bore, screw and
    slot, plunger length, nose, mount, plug, small parts.

    Raises:
        StandardError: If a size is not tabulated.
    """
    for step in (
        _fits,
        _tips,
        _screw_tip,
        _slot_section,
        _screw_position,
        _lengths,
        _nose,
        _mount,
        _plug,
        _screw_length,
        _small_parts,
        _springs,
        _tap_reach,
        _taps,
        _holes,
        _alignment,
    ):
        p = step(p)
    return p


def _fits(p: Parameters) -> Parameters:
    bore = replace(p.bore, diameter_mm=given(p.bore.diameter_mm, p.plunger.diameter_mm))
    if bore.limits_um is None:
        bore = replace(bore, tolerance=given(bore.tolerance, "H7"))
    plunger = p.plunger
    if plunger.limits_um is None:
        plunger = replace(plunger, tolerance=given(plunger.tolerance, "h8"))
    return replace(p, bore=bore, plunger=plunger)


def _tips(p: Parameters) -> Parameters:
    diameter_mm = p.plunger.diameter_mm

    def filled(tip: Tip) -> Tip:
        if not isinstance(tip, CountersinkTip):
            return tip
        pilot = given(tip.pilot_mm, max(0.5, down(diameter_mm / 4 + 0.25, 0.5)))
        return replace(
            tip,
            mouth_mm=given(tip.mouth_mm, down(0.87 * diameter_mm, 0.1)),
            pilot_mm=pilot,
            pilot_depth_mm=given(tip.pilot_depth_mm, pilot),
        )

    return replace(
        p, plunger=replace(p.plunger, front=filled(p.plunger.front), rear=filled(p.plunger.rear))
    )


def _screw_tip(p: Parameters) -> Parameters:
    asked = p.set_screw
    row = {screw.name: screw for screw in SetScrew.rows()}.get(asked.thread)
    if row is None:
        return p
    tip_mm = row.tip_mm(asked.point) if is_derived(asked.tip_mm) else asked.tip_mm
    major_mm = Thread.find(asked.thread).major_mm
    length_mm = asked.tip_length_mm
    if is_derived(length_mm):
        length_mm = _tip_length_mm(row, asked.point, tip_mm, major_mm)
    return replace(p, set_screw=replace(asked, tip_mm=tip_mm, tip_length_mm=length_mm))


def _tip_length_mm(row: SetScrew, point: ScrewPoint, tip_mm: float, major_mm: float) -> float:
    """Return the shortest tip the standard allows, or the length of a 45 degree flank."""
    match point:
        case "dog short":
            return row.dog_short_least_mm
        case "dog long":
            return row.dog_long_least_mm
        case _:
            return (major_mm - tip_mm) / 2


def tip_in_slot_mm(p: Parameters) -> float:
    """Return the diameter of the screw that meets the ends of the slot.

    A dog is a cylinder; a cup, flat or cone grows at 45 degrees with the depth it reaches. Once
    the thread itself stands in the slot, that is the major diameter.
    """
    screw, major_mm = p.set_screw, Thread.find(p.set_screw.thread).major_mm
    reach_mm = max(0.0, p.slot.depth_mm - screw.gap_mm)
    if screw.point in ("dog short", "dog long"):
        return screw.tip_mm if reach_mm <= screw.tip_length_mm + 1e-9 else major_mm
    return slot.tip_in_slot_mm(major_mm=major_mm, point_mm=screw.tip_mm, penetration_mm=reach_mm)


def _slot_section(p: Parameters) -> Parameters:
    asked, diameter_mm = p.slot, p.plunger.diameter_mm
    row = Thread.find(p.set_screw.thread)
    guess_mm = given(asked.width_mm, up(p.set_screw.tip_mm + 0.1, 0.5))
    walls_mm = slot.side_wall_start_mm(diameter_mm=diameter_mm, width_mm=min(guess_mm, diameter_mm))
    bearing = Limit.find("side engagement of the screw tip").warn
    depth_mm = given(
        asked.depth_mm,
        up(max(walls_mm + p.set_screw.gap_mm + bearing, 0.2 * diameter_mm), 0.1),
    )
    settled = replace(p, slot=replace(asked, width_mm=guess_mm, depth_mm=depth_mm))
    tip_mm = min(tip_in_slot_mm(settled), row.major_mm)
    width_mm = given(asked.width_mm, up(tip_mm + 0.1, 0.5))
    return replace(settled, slot=replace(settled.slot, width_mm=width_mm))


def travel_mm(p: Parameters) -> float:
    """Return the travel that slot and screw allow."""
    return slot.travel_mm(slot_length_mm=p.slot.length_mm, tip_mm=tip_in_slot_mm(p))


def _screw_position(p: Parameters) -> Parameters:
    land = Limit.find("land in front of the slot").warn
    position_mm = up(max(travel_mm(p), 0.0) + tip_in_slot_mm(p) / 2 + land, 0.5)
    return replace(
        p, set_screw=replace(p.set_screw, position_mm=given(p.set_screw.position_mm, position_mm))
    )


def _lengths(p: Parameters) -> Parameters:
    asked = p.slot
    if is_derived(p.plunger.length_mm):
        stands_out = max(end.outer_mm for end in plunger_ends(p)) + 2.0
        front_mm = given(
            asked.front_mm,
            up(max(p.set_screw.position_mm - tip_in_slot_mm(p) / 2 + stands_out, 1.0), 0.25),
        )
        length_mm = 2 * front_mm + asked.length_mm
    else:
        length_mm = p.plunger.length_mm
        front_mm = given(asked.front_mm, (length_mm - asked.length_mm) / 2)
    return replace(
        p,
        plunger=replace(p.plunger, length_mm=length_mm),
        slot=replace(asked, front_mm=front_mm),
    )


def _nose(p: Parameters) -> Parameters:
    behind_mm = Limit.find("nose behind the screw hole").warn
    hole_mm = Thread.find(p.set_screw.thread).major_mm
    return replace(
        p,
        body=replace(
            p.body,
            nose_diameter_mm=given(p.body.nose_diameter_mm, up(mount_diameter_mm(p) + 2.0, 1.0)),
            nose_length_mm=given(
                p.body.nose_length_mm, up(p.set_screw.position_mm + hole_mm / 2 + behind_mm, 0.5)
            ),
        ),
    )


def _mount(p: Parameters) -> Parameters:
    match p.mount:
        case DrawbarMount() as mount:
            thread = given(mount.drawbar_thread, morse_taper(mount).drawbar_thread)
            filled: DrawbarMount | EjectedMount | StraightMount = replace(
                mount,
                drawbar_thread=thread,
                drawbar_engagement_mm=given(
                    mount.drawbar_engagement_mm, up(1.2 * Thread.find(thread).major_mm, 0.5)
                ),
            )
        case EjectedMount() as mount:
            row = morse_taper(mount)
            deep_mm = Limit.find("rear end past the ejection depth").warn + 2.0
            filled = replace(
                mount,
                extension_diameter_mm=given(
                    mount.extension_diameter_mm, down(row.small_diameter_mm - 0.6, 0.1)
                ),
                extension_length_mm=given(
                    mount.extension_length_mm,
                    max(0.0, up(p.machine.ejection_depth_mm + deep_mm - row.length_mm, 0.5)),
                ),
            )
        case StraightMount() as mount:
            filled = replace(mount, grip_mm=given(mount.grip_mm, 3 * mount.diameter_mm))
    return replace(p, mount=filled)


def _plug(p: Parameters) -> Parameters:
    asked = p.plug
    if isinstance(p.mount, DrawbarMount):
        thread = given(asked.thread, p.mount.drawbar_thread)
        behind_mm = p.mount.drawbar_engagement_mm + ROOM_FOR_AIR_MM
    else:
        thread = given(asked.thread, _largest_thread(p))
        behind_mm = 0.5
    row = Thread.find(thread)
    length_mm = given(asked.length_mm, up(0.8 * row.major_mm, 0.5))
    behind_mm += second_plug_mm(replace(p, plug=replace(asked, length_mm=length_mm)))
    share = 0.15 if asked.drive == "slot" else 0.5
    return replace(
        p,
        plug=replace(
            asked,
            thread=thread,
            length_mm=length_mm,
            sunk_mm=given(asked.sunk_mm, behind_mm),
            drive_width_mm=given(asked.drive_width_mm, up(share * row.major_mm, 0.5)),
            drive_depth_mm=given(asked.drive_depth_mm, DRIVE_SHARE * length_mm),
        ),
    )


def _largest_thread(p: Parameters) -> str:
    """Return the largest coarse thread that leaves enough wall, else the smallest over the bore."""
    wall_mm = Limit.find("wall over the rear thread").warn
    jaws_mm = Limit.find("wall under the jaws").warn if isinstance(p.mount, StraightMount) else 0.0
    outside_mm = rear_diameter_mm(p)
    coarse = [
        row
        for row in Thread.rows()
        if row.series == "coarse" and row.minor_greatest_mm >= p.bore.diameter_mm
    ]
    fitting = [
        row
        for row in coarse
        if (outside_mm - row.major_mm) / 2 >= wall_mm
        and (outside_mm - max(row.tapping_drill_mm, p.bore.diameter_mm)) / 2 >= jaws_mm
    ]
    if fitting:
        return max(fitting, key=lambda row: row.major_mm).name
    ladder = coarse or [row for row in Thread.rows() if row.series == "coarse"][-1:]
    return ladder[0].name


def _screw_length(p: Parameters) -> Parameters:
    asked = p.set_screw
    row = {screw.name: screw for screw in SetScrew.rows()}.get(asked.thread)
    if row is None or not is_derived(asked.length_mm):
        return p
    wall_mm = (p.body.nose_diameter_mm - p.bore.diameter_mm) / 2
    room_mm = wall_mm + p.slot.depth_mm - asked.gap_mm
    if asked.locking == "jam screw":
        room_mm -= JAM_SCREW_TURNS * Thread.find(asked.thread).pitch_mm
    stocked = row.lengths_mm(asked.point)
    fitting = [length for length in stocked if length <= room_mm + 1e-9]
    return replace(p, set_screw=replace(asked, length_mm=max(fitting) if fitting else stocked[0]))


def _small_parts(p: Parameters) -> Parameters:
    disc_mm = p.bore.diameter_mm - LOOSE_DISC_MM
    button, separator = p.button, p.separator
    if button is not None:
        button = replace(button, diameter_mm=given(button.diameter_mm, disc_mm))
    if separator is not None:
        separator = replace(separator, diameter_mm=given(separator.diameter_mm, disc_mm))
    return replace(p, button=button, separator=separator)


def _springs(p: Parameters) -> Parameters:
    springs = (with_coils(asked) for asked in p.springs)
    return replace(
        p,
        springs=tuple(
            each if each.inner is None else replace(each, inner=with_coils(each.inner))
            for each in springs
        ),
    )


def with_coils(asked: AnySpring) -> AnySpring:
    """Return a spring with both counts of coils as bought, and the rate that it has in use."""
    active, total = asked.active_coils, asked.total_coils
    if is_derived(active):
        active = coils.active_coils(total_coils=total, ends=asked.ends)
    else:
        total = coils.total_coils(active_coils=active, ends=asked.ends)
    counted = replace(asked, active_coils=active, total_coils=total)
    if not is_derived(asked.rate_N_per_mm):
        return counted
    rate_N_per_mm = spring.rate_N_per_mm(
        wire_mm=asked.wire_mm,
        mean_mm=asked.outside_mm - asked.wire_mm,
        active_coils=used(counted).active_coils,
        shear_modulus_MPa=SpringWire.shear_modulus_MPa(asked.wire, asked.wire_mm),
    )
    return replace(counted, rate_N_per_mm=rate_N_per_mm)


def _tap_reach(p: Parameters) -> Parameters:
    row = Thread.find(p.plug.thread)
    names = (f"ISO 529 {row.name}", f"ASME B94.9 {row.name.rsplit(' ', 1)[0]}")
    taps = {tap.name: tap for tap in Tap.rows()}
    tap = next((taps[name] for name in names if name in taps), None)
    if tap is None or not isnan(p.workshop.tap_reach_mm):
        return p
    passes = tap.shank_mm <= row.minor_mm - 0.2
    reach_mm = tap.overall_mm - GRIP_BEHIND_TAP_MM if passes else tap.thread_length_mm
    return replace(p, workshop=replace(p.workshop, tap_reach_mm=reach_mm))


def _taps(p: Parameters) -> Parameters:
    """Settle the end of a tap whose standard allows but one form."""

    def settled(tap: FollowedTap) -> FollowedTap:
        forms = Tap.find(f"{tap.standard} {tap.size}").shank_ends
        if tap.end or len(forms) > 1:
            return tap
        return replace(tap, end=cast("TapEnd", forms[0]))

    return replace(p, taps=tuple(settled(tap) for tap in p.taps))


def _holes(p: Parameters) -> Parameters:
    """Fill in the hole that each tap cuts, and its wrench."""
    return replace(p, taps=tuple(hole_of(tap) for tap in p.taps))


def hole_of(tap: FollowedTap) -> FollowedTap:
    """Return a tap with its hole and its wrench filled in."""
    thread = Thread.find(Tap.find(f"{tap.standard} {tap.size}").thread)
    usual = TapHandling.at("hand tap", thread.major_mm)
    depth_mm = given(tap.depth_mm, up(DEPTH_DIAMETERS * thread.major_mm, 0.5))
    below_mm = (tap.lead_threads + CLEAR_PITCHES) * thread.pitch_mm
    return replace(
        tap,
        depth_mm=depth_mm,
        drilled_mm=given(tap.drilled_mm, up(depth_mm + below_mm, 0.5)),
        wrench_arm_mm=given(tap.wrench_arm_mm, usual.arm_mm),
        wrench_g=given(tap.wrench_g, usual.wrench_g),
        advised_least_N=given(tap.advised_least_N, usual.force_least_N),
        advised_greatest_N=given(tap.advised_greatest_N, usual.force_greatest_N),
    )


def _alignment(p: Parameters) -> Parameters:
    """Fill in how far the machine and the mount are out of line."""
    asked, machine = p.alignment, p.machine
    upright, same = machine.spindle == "vertical", machine.drilled == "same setting"
    return replace(
        p,
        alignment=replace(
            asked,
            height_mm=given(asked.height_mm, (0.0 if same else 0.05) if upright else 0.04),
            side_mm=given(asked.side_mm, 0.0 if upright else 0.02),
            slope_mm=given(asked.slope_mm, 0.0 if upright and same else 0.02),
            seat_mm=given(asked.seat_mm, 0.05 if isinstance(p.mount, StraightMount) else 0.01),
            bore_mm=given(asked.bore_mm, p.making.runout_mm / 2),
            bore_slope_mm=given(asked.bore_slope_mm, p.making.runout_mm),
            hole_deg=given(asked.hole_deg, 0.05 if same else 0.3),
        ),
    )
