"""What was measured on the parts of a tool while it is made: a file of its own beside the profile.

Every key may be left out. A cut that is not in the file is taken as not made yet.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from pathlib import Path
from typing import Annotated, Any, Literal, TypeVar, cast

from pydantic_core import PydanticCustomError

from generator.errors import ProfileError
from generator.inputs.names import NAME_PATTERN
from generator.inputs.parameters import Parameters
from generator.inputs.profile import read_toml, table_from
from generator.inputs.quantities import (
    DERIVED,
    Depth,
    Entries,
    Error,
    Quantity,
    Rate,
    Size,
    Told,
    Words,
)
from generator.inputs.rules import spring_coils
from generator.inputs.tables import (
    ArborMount,
    CombinedMount,
    ConeTip,
    EjectedMount,
    InnerSpring,
    OwnEjectedMount,
    Spring,
    StraightMount,
    SunkTip,
)
from generator.standards.rows import Thread

Wound = TypeVar("Wound", bound=InnerSpring)

Reading = Annotated[float, Quantity(over=0, most=50000)]
"""What a scale shows, in grams."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredInner:
    """The spring inside that one."""

    free_mm: Annotated[
        Size | None, Told("Free length as it goes in; cut down, if that is done.")
    ] = None
    outside_mm: Annotated[Size | None, Told("Outside diameter of the coils at rest.")] = None
    solid_mm: Annotated[Size | None, Told("Length pressed solid in a vice.")] = None
    rate_N_per_mm: Annotated[
        Rate | None,
        Told("Rate in N/mm: difference of two readings of a scale over the difference in length."),
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredSpring(MeasuredInner):
    """The springs, in the order of the profile; an empty entry stands for one not measured."""

    inner: MeasuredInner | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """A reading of a kitchen scale under the plunger; several may be given."""

    end: Annotated[
        Literal["as drawn", "reversed"],
        Told('"as drawn" or "reversed": which end of the plunger stands out.'),
    ] = "as drawn"
    projection_mm: Annotated[Size, Told("How far the plunger's end stands out of the nose then.")]
    scale_g: Annotated[Reading, Told("What the scale shows, in grams, the tool's own weight off.")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """Sizes measured so far; leave out what is not cut yet."""

    tool: Annotated[
        str,
        Words(pattern=rf"^({NAME_PATTERN})?$"),
        Told("Name of the tool, to guard against a mix-up."),
    ] = ""
    stand_out_mm: Annotated[
        Depth | None,
        Told("How far the shoulder, or the gauge line, stands off the face of its socket."),
    ] = None
    shank_diameter_mm: Annotated[Size | None, Told("Diameter of a straight shank.")] = None
    extension_diameter_mm: Annotated[
        Size | None, Told("Diameter of the extension behind the taper.")
    ] = None
    nose_diameter_mm: Annotated[Size | None, Told("Diameter of the nose.")] = None
    nose_length_mm: Annotated[
        Size | None, Told("From the nose face to the shoulder, or to where the taper begins.")
    ] = None
    body_length_mm: Annotated[Size | None, Told("Length of the whole body.")] = None
    bore_mm: Annotated[Size | None, Told("Bore, by the largest pin that enters.")] = None
    runout_nose_mm: Annotated[
        Error | None, Told("Indicator on a pin in the bore, at the nose: the whole swing.")
    ] = None
    runout_50_mm: Annotated[
        Error | None, Told("The same 50 mm out of the nose: the whole swing.")
    ] = None
    screw_position_mm: Annotated[
        Size | None, Told("From the nose face to the axis of the screw hole.")
    ] = None
    pin_position_mm: Annotated[
        Size | None, Told("From the nose face to the axis of the pin's hole.")
    ] = None
    guide_length_mm: Annotated[
        Size | None,
        Told(
            "From the nose face to the step in the bore; of a nose bush, from the seat of its "
            "flange to its rear end."
        ),
    ] = None
    pocket_mm: Annotated[
        Size | None, Told("Diameter of the spring pocket, by the largest pin that enters.")
    ] = None
    bottom_mm: Annotated[
        Size | None, Told("From the nose face to the bottom of a blind bore, at full diameter.")
    ] = None
    register_mm: Annotated[
        Size | None, Told("Diameter of the register in the nose, by the largest pin that enters.")
    ] = None
    register_depth_mm: Annotated[
        Size | None, Told("Depth of the register, from the nose face.")
    ] = None
    nose_thread_mm: Annotated[
        Size | None,
        Told("Full thread in the nose, from its face, by the turns of the bush times its pitch."),
    ] = None
    spigot_mm: Annotated[Size | None, Told("Diameter of the spigot of the nose bush.")] = None
    flange_mm: Annotated[Size | None, Told("Thickness of the flange of the nose bush.")] = None
    rear_thread_mm: Annotated[
        Size | None, Told("Full thread at the rear, by the turns of a screw times its pitch.")
    ] = None
    plunger_mm: Annotated[Size | None, Told("Diameter of the plunger's bar.")] = None
    plunger_length_mm: Annotated[Size | None, Told("Length of the plunger over all.")] = None
    front_flat_mm: Annotated[
        Depth | None, Told("Flat on the tip of the front end, where that is a point.")
    ] = None
    front_mouth_mm: Annotated[
        Size | None, Told("Mouth of the countersink in the front end, where it has one.")
    ] = None
    rear_flat_mm: Annotated[Depth | None, Told("The same of the rear end: flat of a point.")] = None
    rear_mouth_mm: Annotated[Size | None, Told("The same: mouth of a countersink.")] = None
    slot_front_mm: Annotated[Size | None, Told("From the front tip to the slot.")] = None
    slot_length_mm: Annotated[Size | None, Told("Length of the slot over its ends.")] = None
    slot_width_mm: Annotated[Size | None, Told("Width of the slot.")] = None
    slot_depth_mm: Annotated[
        Size | None, Told("Depth of the slot from the outside, on the centre line.")
    ] = None
    stem_mm: Annotated[
        Size | None,
        Told("From the front tip to the head, or from the face on which a screwed tip bears."),
    ] = None
    head_diameter_mm: Annotated[Size | None, Told("Diameter of the head.")] = None
    head_length_mm: Annotated[Size | None, Told("Length of the head.")] = None
    tail_diameter_mm: Annotated[Size | None, Told("Diameter of the tail.")] = None
    tail_length_mm: Annotated[Size | None, Told("Length of the tail.")] = None
    plug_length_mm: Annotated[Size | None, Told("Length of the plug.")] = None
    plug_sunk_mm: Annotated[
        Depth | None,
        Told("Depth of the plug's rear face below the rear end, once it is locked there."),
    ] = None
    disc_diameter_mm: Annotated[Size | None, Told("Diameter of the disc.")] = None
    disc_thickness_mm: Annotated[Size | None, Told("Thickness of the disc.")] = None
    button_diameter_mm: Annotated[Size | None, Told("Diameter of the button.")] = None
    button_thickness_mm: Annotated[Size | None, Told("Thickness of the button.")] = None
    separator_diameter_mm: Annotated[Size | None, Told("Diameter of the separators.")] = None
    separator_thickness_mm: Annotated[Size | None, Told("Thickness of the separators.")] = None
    screw_tip_mm: Annotated[Size | None, Told("Diameter of the set screw's tip.")] = None
    screw_tip_length_mm: Annotated[Size | None, Told("Length of the set screw's tip.")] = None
    screw_length_mm: Annotated[Size | None, Told("Length of the set screw.")] = None
    pin_mm: Annotated[Size | None, Told("Diameter of the cross pin.")] = None
    pin_length_mm: Annotated[Size | None, Told("Length of the cross pin.")] = None
    springs: Annotated[tuple[MeasuredSpring, ...], Entries(0, 6)] = ()
    scale: Annotated[tuple[Weighed, ...], Entries(0, 20)] = ()


def read_measured(path: Path, parameters: Parameters) -> Measured:
    """Return what a file says was measured on a tool.

    Args:
        path: The file.
        parameters: The completed parameters of the tool.

    Raises:
        ProfileError: If the file cannot be read, or holds any problem; all of them are listed.
    """
    return measured_from(read_toml(path, "file of measured sizes"), parameters, str(path))


def measured_from(table: dict[str, Any], parameters: Parameters, where: str) -> Measured:
    """Return the measured sizes in a parsed file.

    Args:
        table: What the TOML reader made of the file.
        parameters: The completed parameters of the tool.
        where: The file's name, for the messages.

    Raises:
        ProfileError: If a key is unknown or its value wrong, or the tool has no such thing.
    """
    found = table_from(Measured, table, where)
    problems = tuple(_strangers(found, parameters))
    if problems:
        raise ProfileError(where, problems)
    return found


def measurable(parameters: Parameters) -> tuple[str, ...]:
    """Return the keys of single sizes that a tool has, in the order of the file."""
    lacking = dict(_lacking(parameters))
    return tuple(
        field.name
        for field in fields(Measured)
        if field.name not in lacking and field.name not in ("tool", "springs", "scale")
    )


def _strangers(found: Measured, p: Parameters) -> Iterator[str]:
    """Yield what was measured on something that the tool does not have."""
    if found.tool not in ("", p.name):
        yield f'tool: these sizes are of "{found.tool}", the profile is "{p.name}"'
    for key, why in _lacking(p):
        if getattr(found, key) is not None:
            yield f"{key}: {why}"
    if len(found.springs) > len(p.springs):
        yield f"springs: the tool has {len(p.springs)}, got {len(found.springs)} entries"
    for place, (spring, asked) in enumerate(zip(found.springs, p.springs, strict=False), 1):
        if spring.inner is not None and asked.inner is None:
            yield f"springs[{place}].inner: no spring lies inside that one"
        for told in _unwound(asked, spring):
            yield f"springs[{place}].{told}"
    yield from _tip(found, p)
    for place, weighed in enumerate(found.scale, 1):
        tip = p.plunger.front if weighed.end == "as drawn" else p.plunger.rear
        if tip.style == "plain":
            yield f'scale[{place}].end: the end at work "{weighed.end}" is plain and follows no tap'


def _unwound(asked: Spring, told: MeasuredSpring) -> Iterator[str]:
    """Yield why no spring can have the sizes that were measured on one, if none can."""

    def wound(spring: Wound, sizes: MeasuredInner) -> Wound:
        length = "free_mm" if spring.cut_to_mm is None else "cut_to_mm"
        given = {length: sizes.free_mm, "outside_mm": sizes.outside_mm}
        known = {key: value for key, value in given.items() if value is not None}
        return replace(cast("Any", spring), active_coils=DERIVED, **known)  # type: ignore[no-any-return]  # as given

    spring = wound(asked, told)
    if spring.inner is not None:
        inner = wound(spring.inner, told.inner or MeasuredInner())
        spring = replace(spring, inner=inner)
    try:
        spring_coils(spring)
    except PydanticCustomError as error:
        key = (error.context or {}).get("key", "").replace("cut_to_mm", "free_mm")
        yield f"{key}: {error.message()}" if key else error.message()


def _tip(found: Measured, p: Parameters) -> Iterator[str]:
    """Yield why no set screw can have the tip that was measured, if none can."""
    if p.set_screw is None:
        return
    major_mm = Thread.find(p.set_screw.thread).major_mm
    if found.screw_tip_mm is not None and found.screw_tip_mm > major_mm:
        yield (
            f"screw_tip_mm: must be at most the thread's diameter, {major_mm:g}, got "
            f"{found.screw_tip_mm:g}"
        )


def _lacking(p: Parameters) -> Iterator[tuple[str, str]]:
    """Yield the keys of what a tool does not have, and what it has in its place."""
    mount = p.mount
    if isinstance(mount, ArborMount):
        yield "stand_out_mm", "an arbor stands in the body, not the body in a socket"
    elif isinstance(mount, StraightMount):
        yield "stand_out_mm", "a straight shank stands in no socket"
    elif not isinstance(mount, CombinedMount):
        yield "shank_diameter_mm", "the mount is a taper; give stand_out_mm"
    extended = isinstance(mount, EjectedMount | OwnEjectedMount) and mount.extension_length_mm > 0
    if not extended:
        yield "extension_diameter_mm", "the mount has no extension behind a taper"
    yield from _not_kept_so(p)
    for side, tip in (("front", p.plunger.front), ("rear", p.plunger.rear)):
        if not isinstance(tip, ConeTip):
            hint = f"; give {side}_mouth_mm" if isinstance(tip, SunkTip) else ""
            yield f"{side}_flat_mm", f"the {side} end is no point{hint}"
        if not isinstance(tip, SunkTip):
            hint = f"; give {side}_flat_mm" if isinstance(tip, ConeTip) else ""
            yield f"{side}_mouth_mm", f"the {side} end has no countersink{hint}"
    blind = p.disc is not None
    for key in ("plug_length_mm", "plug_sunk_mm", "rear_thread_mm"):
        if blind:
            yield key, "the bore is blind; the springs stand on a disc"
    for key in ("disc_diameter_mm", "disc_thickness_mm", "bottom_mm"):
        if not blind:
            yield key, "the bore goes right through; the springs stand on a plug"
    if p.button is None:
        yield "button_diameter_mm", "the tool has no button"
        yield "button_thickness_mm", "the tool has no button"
    if p.separator is None or len(p.springs) < 2:
        yield "separator_diameter_mm", "the tool has no separators"
        yield "separator_thickness_mm", "the tool has no separators"


def _not_kept_so(p: Parameters) -> Iterator[tuple[str, str]]:
    """Yield the keys of other ways of keeping the plunger in than the tool's."""
    if p.set_screw is None:
        for key in ("screw_position_mm", "screw_tip_mm", "screw_tip_length_mm", "screw_length_mm"):
            yield key, "the tool has no set screw"
    if p.cross_pin is None:
        for key in ("pin_position_mm", "pin_mm", "pin_length_mm"):
            yield key, "the tool has no cross pin"
    if p.shoulder is None:
        for key in ("guide_length_mm", "pocket_mm"):
            yield key, "the bore has no step"
        for key in (
            "stem_mm",
            "head_diameter_mm",
            "head_length_mm",
            "tail_diameter_mm",
            "tail_length_mm",
        ):
            yield key, "the plunger has no head"
    else:
        yield "plunger_length_mm", "give stem_mm, head_length_mm and tail_length_mm"
    if p.bush is None:
        for key in (
            "register_mm",
            "register_depth_mm",
            "nose_thread_mm",
            "spigot_mm",
            "flange_mm",
        ):
            yield key, "the tool has no nose bush"
    if p.slot is None:
        for key in ("slot_front_mm", "slot_length_mm", "slot_width_mm", "slot_depth_mm"):
            yield key, "the plunger has no slot"
    elif p.slot.form == "flat":
        yield "slot_width_mm", "a flat is as wide as its depth makes it"
    elif p.slot.form == "through":
        yield "slot_depth_mm", "the slot goes right through"
