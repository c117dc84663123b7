"""The tabulated figures of a tool that nobody has confirmed, and where they come from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

from generator.checks.finding import Finding
from generator.documents.signs import signed
from generator.documents.table import Column, Table
from generator.inputs.quantities import is_derived
from generator.inputs.tables import StraightMount
from generator.making.speeds import cutting_rows
from generator.model.bush import relief_length_mm, relief_mm
from generator.model.holder import holder_of
from generator.model.shank import shank_of
from generator.model.tool import Tool
from generator.standards.bands import (
    Band,
    SpringWire,
    TapHandling,
    ToleranceZone,
    WireModulus,
    WireStrength,
)
from generator.standards.mounts import ChuckThread, ShankFlat
from generator.standards.rows import (
    Ball,
    CentreHole,
    Material,
    Row,
    SetScrew,
    Tap,
    Thread,
    WorkProperties,
)
from generator.units import number
from generator.use.seats import (
    BEVEL_CIRCLE_SHARE,
    CENTRE_MOUTH_SHARE,
    CENTRE_PILOT_DEPTH,
    CENTRE_PILOT_SHARE,
)

MEMORY: Final = "memory, unverified"
UNITS: Final = {
    "_g_per_cm3": "g/cm3",
    "_m_per_min": "m/min",
    "_mm_per_rev": "mm/rev",
    "_per_decade_MPa": "MPa",
    "_um_per_m_K": "um/m K",
    "_mm_MPa": "MPa",
    "_MPa": "MPa",
    "_mm": "mm",
    "_um": "um",
    "_deg": "deg",
    "_in_per_ft": "in/ft",
    "_shanks": "shanks",
    "_pilots": "pilots",
    "_N": "N",
    "_g": "g",
}
DOG_FIELDS: Final = ("dog_least_mm", "dog_greatest_mm")
FIELDS_OF_POINT: Final = {
    "dog short": (*DOG_FIELDS, "short_dog_least_mm", "short_dog_lengths_mm"),
    "dog long": (*DOG_FIELDS, "long_dog_least_mm", "short_dog_lengths_mm", "dog_longest_mm"),
    "cup": ("cup_greatest_mm",),
    "flat": ("flat_greatest_mm",),
    "cone": ("cone_greatest_mm",),
}
REAR_TAP_STANDARDS: Final = ("ISO 529", "ASME B94.9")
LENGTHS_OF_OTHERS: Final = ("flat_cone_cup_shortest_mm", "flat_cone_cup_longest_mm")


@dataclass(frozen=True, slots=True)
class Unverified:
    """Figures of one row that the tool uses and that are not confirmed.

    Attributes:
        subject: What they are figures of.
        values: The figures by name.
        source: Where they come from.
    """

    subject: str
    values: tuple[tuple[str, float | str], ...]
    source: str

    @property
    def text(self) -> str:
        """The figures in words, such as "shank 6.3 mm, overall 66 mm"."""
        return "; ".join(_phrase(name, value) for name, value in self.values)


def _phrase(name: str, value: float | str) -> str:
    figure = value.replace("|", " or ") if isinstance(value, str) else number(value, 4)
    unit = next((unit for ending, unit in UNITS.items() if name.endswith(ending)), "")
    ending = next((ending for ending in UNITS if name.endswith(ending)), "")
    words = name.removesuffix(ending).replace("_", " ").replace("drawbar", "draw-bar")
    return f"{words} {figure} {unit}".rstrip()


def unverified(tool: Tool, findings: tuple[Finding, ...]) -> tuple[Unverified, ...]:
    """Return what the tool uses of the tables without a confirmation, each row once."""
    found = [_of(subject, row, used) for subject, row, used in _rows(tool)]
    listed = [each for each in found if each is not None]
    listed += [*_screw_length(tool), *_groove(tool), *_shares(tool)]
    limits = {finding.limit.name: finding.limit for finding in findings}
    for limit in limits.values():
        if MEMORY in limit.source and not limit.changed:
            levels: list[tuple[str, float | str]] = [
                (f"{level}_mm" if limit.unit == "mm" else level, value)
                for level, value in (("warn", limit.warn), ("fail", limit.fail))
                if value == value
            ]
            listed.append(Unverified(f"limit: {limit.name}", tuple(levels), limit.source))
    return tuple(dict.fromkeys(listed))


def _of(subject: str, row: Row, used: Sequence[str]) -> Unverified | None:
    doubtful = tuple(
        (name, _plain(getattr(row, name))) for name in row.unverified_fields if name in used
    )
    return Unverified(f"{subject} {row.name}", doubtful, row.source) if doubtful else None


def _plain(value: Any) -> float | str:
    return value if isinstance(value, str) else float(value)


def _rows(tool: Tool) -> Iterator[tuple[str, Row, tuple[str, ...]]]:
    """Yield every row that the tool rests on, with the fields it takes."""
    p = tool.parameters
    shank = shank_of(p.mount)
    if shank.taper is not None and shank.taper.row is not None:
        used = ["taper_in_per_ft", "gauge_diameter_mm", "projection_mm", "length_mm"]
        used += ["included_angle_deg", "large_diameter_mm", "body_greatest_mm", "body_least_mm"]
        used.append("overall_mm")
        if shank.milled is not None:
            used += ["slot_width_mm", "slot_depth_mm", "slot_length_mm"]
        if "mount.drawbar_thread" in tool.derived:
            used.append("drawbar_thread")
        yield "taper", shank.taper.row, tuple(used)
    yield from _grip_rows(tool)
    threaded = (p.plug, p.set_screw, p.screwed_tips)
    threads = [holder.thread for holder in threaded if holder is not None]
    if shank.tang is not None:
        used_of_tang = (
            *("end_mm", "diameter_mm", "thickness_mm", "thickness_tolerance_mm"),
            *("flat_mm", "root_radius_mm"),
        )
        yield "tang", shank.tang, used_of_tang
    if shank.socket is not None and shank.socket.row is not None:
        used_of_socket = ("large_diameter_mm", "small_diameter_mm", "length_mm")
        yield "arbor taper", shank.socket.row, used_of_socket
    if shank.socket is not None and shank.socket.thread is not None:
        threads.append(shank.socket.thread.name)
        stub = {row.name: row for row in ChuckThread.rows()}.get(shank.socket.thread.name)
        if stub is not None and "mount.thread_length_mm" in tool.derived:
            yield "thread for a drill chuck", stub, ("stub_mm",)
    if shank.draw_bar is not None:
        threads.append(shank.draw_bar.thread)
    for name in threads:
        minor = ("minor_mm", "minor_least_mm", "minor_greatest_mm")
        yield "thread", Thread.find(name), ("major_mm", "pitch_mm", "tapping_drill_mm", *minor)
    yield from _screw_rows(tool)
    for name, fit in (("bore", p.bore), ("plunger", p.plunger)):
        if fit.limits_um is None:
            row: Band = ToleranceZone.at(fit.tolerance, fit.diameter_mm)
            yield f"zone of the {name}", row, ("upper_um", "lower_um")
    if p.screwed_tips is not None:
        tips = p.screwed_tips
        for name, zone in (("register", tips.hole_tolerance), ("spigot", tips.spigot_tolerance)):
            fitted: Band = ToleranceZone.at(zone, tips.register_mm)
            yield f"zone of the tip's {name}", fitted, ("upper_um", "lower_um")
    for part in tool.made_parts:
        yield "density of", Material.find(part.material), ("density_g_per_cm3",)
    if tool.ball is not None and (ball := Ball.of(tool.ball.outline.diameter_mm)):
        yield "bearing ball", ball, ("diameter_mm",)
    yield from cutting_rows(tool)
    yield from _spring_rows(tool)
    for place, tap in enumerate(p.taps, 1):
        yield _handling(tool, place)
        used = ["overall_mm", "thread_length_mm", "shank_mm"]
        if not tap.end:
            used.append("shank_end")
        yield "tap", Tap.find(f"{tap.standard} {tap.size}"), tuple(used)
    yield from _work_rows(tool)
    if "workshop.tap_reach_mm" in tool.derived and p.plug is not None:
        rear = [tap for tap in Tap.rows() if tap.thread == p.plug.thread]
        for own in (row for row in rear if row.standard in REAR_TAP_STANDARDS):
            yield "rear tap", own, ("overall_mm", "thread_length_mm", "shank_mm")


def _grip_rows(tool: Tool) -> Iterator[tuple[str, Row, tuple[str, ...]]]:
    """Yield what is taken of the tables on flats of a shank, and on what grips it."""
    mount = tool.parameters.mount
    if isinstance(mount, StraightMount) and mount.flats != "none":
        keys = {"flat_mm": "flat_length_mm", "middle_mm": "flat_position_mm"}
        keys["over_flat_mm"] = "flat_depth_mm"
        used = tuple(name for name, key in keys.items() if f"mount.{key}" in tool.derived)
        for row in (row for row in ShankFlat.rows() if row.diameter_mm == mount.diameter_mm):
            yield "flats of", row, used
    holder = holder_of(mount)
    yield from holder.rows if holder is not None else ()


def _work_rows(tool: Tool) -> Iterator[tuple[str, Row, tuple[str, ...]]]:
    """Yield what is taken of the tables on the work that is touched or held."""
    found, held = tool.parameters.pick_up, tool.parameters.support
    if found is not None and "pick_up.yield_MPa" in tool.derived:
        yield "work of", WorkProperties.find(found.work), ("yield_MPa",)
    if held is not None:
        keys = {"support.mass_g": "density_g_per_cm3"}
        keys["support.expansion_um_per_m_K"] = "expansion_um_per_m_K"
        used = tuple(name for key, name in keys.items() if key in tool.derived)
        yield "work of", WorkProperties.find(held.work), used
        hole = CentreHole.find(held.centre)
        yield "centre hole", hole, ("pilot_mm", "mouth_mm", "depth_mm")


def _handling(tool: Tool, place: int) -> tuple[str, Row, tuple[str, ...]]:
    """Return how a tap of that size is handled, with what of it the file did not give."""
    tap = tool.parameters.taps[place - 1]
    major_mm = Tap.find(f"{tap.standard} {tap.size}").major_mm
    keys = {
        "arm_mm": "wrench_arm_mm",
        "wrench_g": "wrench_g",
        "force_least_N": "advised_least_N",
        "force_greatest_N": "advised_greatest_N",
    }
    used = tuple(name for name, key in keys.items() if f"taps[{place}].{key}" in tool.derived)
    return "handling of a", TapHandling.at("hand tap", major_mm), used


def _screw_rows(tool: Tool) -> Iterator[tuple[str, Row, tuple[str, ...]]]:
    screw = tool.parameters.set_screw
    row = {each.name: each for each in SetScrew.rows()}.get(screw.thread) if screw else None
    if screw is None or row is None:
        return
    used = ["hexagon_mm"]
    for name in FIELDS_OF_POINT[screw.point]:
        key = "tip_mm" if name in DOG_FIELDS or name.endswith("greatest_mm") else "tip_length_mm"
        key = "length_mm" if name.endswith("lengths_mm") or name == "dog_longest_mm" else key
        if f"set_screw.{key}" in tool.derived:
            used.append(name)
    if not screw.point.startswith("dog") and "set_screw.length_mm" in tool.derived:
        used += LENGTHS_OF_OTHERS
    yield "set screw", row, tuple(used)


def _spring_rows(tool: Tool) -> Iterator[tuple[str, Row, tuple[str, ...]]]:
    formula = ("strength_at_1_mm_MPa", "fall_per_decade_MPa")
    shares = ("corrected_share", "elastic_share")
    for spring in (one.spring for one in tool.in_place):
        row = SpringWire.find(spring.grade)
        yield "spring wire", row, ("density_g_per_cm3", *formula, *shares)
        if row.strength_at_1_mm_MPa is None:
            strength = WireStrength.at(spring.grade, spring.wire_mm)
            yield "strength of", strength, ("strength_MPa",)
        if not spring.measured:
            modulus = WireModulus.at(spring.grade, spring.wire_mm)
            yield "shear modulus of", modulus, ("shear_modulus_MPa",)


def _screw_length(tool: Tool) -> list[Unverified]:
    """Return the length of the set screw where it was picked from the series of lengths."""
    screw = tool.parameters.set_screw
    if screw is None or "set_screw.length_mm" not in tool.derived or screw.point == "dog short":
        return []
    standard = "ISO 4026 to 4029" if screw.thread.startswith("M") else "ASME B18.3"
    length: tuple[str, float | str] = ("length_mm", screw.length_mm)
    source = f"series of lengths of {standard}, from memory, unverified"
    return [Unverified(f"length of the set screw {screw.thread}", (length,), source)]


def _groove(tool: Tool) -> list[Unverified]:
    """Return the groove behind the thread of a nose bush."""
    bush = tool.parameters.bush
    if bush is None:
        return []
    figures: tuple[tuple[str, float | str], ...] = (
        ("width_mm", relief_length_mm(bush)),
        ("diameter_mm", relief_mm(bush)),
    )
    source = "proportions of DIN 76, from memory, unverified"
    return [Unverified(f"groove behind the thread {bush.thread} of the bush", figures, source)]


def _shares(tool: Tool) -> list[Unverified]:
    """Return the shares of the shank that stand for ends nobody measured."""
    ends: set[str] = set()
    for tap in tool.parameters.taps:
        if is_derived(tap.end_mm):
            row = Tap.find(f"{tap.standard} {tap.size}")
            ends.update((tap.end,) if tap.end else row.shank_ends)
    shares: list[tuple[str, float | str]] = []
    if "centre" in ends:
        shares += [
            ("centre_mouth_shanks", CENTRE_MOUTH_SHARE),
            ("centre_pilot_shanks", CENTRE_PILOT_SHARE),
            ("centre_pilot_depth_pilots", CENTRE_PILOT_DEPTH),
        ]
    if "bevel" in ends:
        shares.append(("bevel_circle_shanks", BEVEL_CIRCLE_SHARE))
    if not shares:
        return []
    return [Unverified("ends of taps not measured", tuple(shares), "from memory, unverified")]


def unverified_table(found: tuple[Unverified, ...]) -> Table:
    """Return the figures for readers."""
    columns = (Column("what"), Column("figures used"), Column("source"))
    return Table(
        "", columns, tuple((each.subject, signed(each.text), each.source) for each in found)
    )
