"""What may be asked of the generator: one dataclass a table of the parameter file.

The descriptions are the only explanation of the keys: the comments in the shipped profiles and the
JSON Schema are made from them. A number left out is ``DERIVED`` until the model works it out.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Final, Literal

from pydantic_core import PydanticCustomError

from generator.errors import StandardError
from generator.formulas import spring as springs
from generator.inputs.quantities import (
    DERIVED,
    DERIVED_TEXT,
    Angle,
    Checked,
    Count,
    Depth,
    Entries,
    Micrometres,
    Number,
    OneOf,
    Rate,
    Size,
    Told,
    Words,
    is_derived,
    known,
)
from generator.standards.limits import Limit
from generator.standards.rows import (
    Material,
    MorseTaper,
    Row,
    SetScrew,
    SpringWire,
    Tap,
    Thread,
    ToleranceZone,
)

NAME_PATTERN: Final = r"[A-Za-z0-9][A-Za-z0-9._-]{0,63}"
ONE_LINE: Final = r"^[^\x00-\x1f\x7f-\x9f\u2028\u2029]*$"


def _names(table: type[Row]) -> OneOf:
    return OneOf(lambda: tuple(row.name for row in table.rows()))


ThreadName = Annotated[str, _names(Thread)]
TaperSize = Annotated[str, OneOf(MorseTaper.sizes)]
MaterialName = Annotated[str, _names(Material)]
ZoneName = Annotated[str, OneOf(ToleranceZone.zones)]
WireGrade = Annotated[str, _names(SpringWire)]
LimitName = Annotated[str, _names(Limit)]
Limits_um = tuple[Micrometres, Micrometres]


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawbarMount:
    """A Morse taper, tapped at the rear and pulled home by a draw-bar."""

    kind: Annotated[
        Literal["morse draw-bar"],
        Told('"morse draw-bar", "morse ejected" or "straight": how the machine holds the tool.'),
    ]
    size: Annotated[TaperSize, Told("Size of the Morse taper, MT0 to MT6.")]
    lengths: Annotated[
        Literal["ISO", "US"], Told('"ISO" or "US": whose shank lengths, ISO 296 or ASME B5.10.')
    ] = "ISO"
    drawbar_thread: Annotated[
        ThreadName,
        Told("Thread of the draw-bar. Derived: the thread that belongs to the taper."),
    ] = DERIVED_TEXT
    drawbar_engagement_mm: Annotated[
        Size, Told("Length of draw-bar thread in the body. Derived: 1.2 thread diameters.")
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class EjectedMount:
    """A Morse taper with a rear extension that the tailstock screw pushes out."""

    kind: Annotated[
        Literal["morse ejected"],
        Told('"morse draw-bar", "morse ejected" or "straight": how the machine holds the tool.'),
    ]
    size: Annotated[TaperSize, Told("Size of the Morse taper, MT0 to MT6.")]
    lengths: Annotated[
        Literal["ISO", "US"], Told('"ISO" or "US": whose shank lengths, ISO 296 or ASME B5.10.')
    ] = "ISO"
    extension_diameter_mm: Annotated[
        Size,
        Told("Diameter behind the taper. Derived: the small end less 0.6, down to a tenth."),
    ] = DERIVED
    extension_length_mm: Annotated[
        Depth,
        Told(
            "Length behind the taper. Derived: so that the tool ends 3 mm deeper in the socket "
            "than machine.ejection_depth_mm."
        ),
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class StraightMount:
    """A straight shank for a collet or a drill chuck."""

    kind: Annotated[
        Literal["straight"],
        Told('"morse draw-bar", "morse ejected" or "straight": how the machine holds the tool.'),
    ]
    diameter_mm: Annotated[Size, Told("Diameter of the shank.")]
    length_mm: Annotated[Size, Told("Length of the shank behind the nose.")]
    grip_mm: Annotated[
        Size, Told("Length held by the collet or chuck. Derived: three shank diameters.")
    ] = DERIVED


Mount = DrawbarMount | EjectedMount | StraightMount


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """The body: what holds everything, and how it is put together."""

    material: Annotated[MaterialName, Told("Material of the body.")]
    nose_diameter_mm: Annotated[
        Size, Told("Diameter of the nose. Derived: 2 mm over the mount, to a whole millimetre.")
    ] = DERIVED
    nose_length_mm: Annotated[
        Size,
        Told(
            "Length of the nose in front of the mount. Derived: the set screw lies wholly in it, "
            "with 3 mm behind the hole."
        ),
    ] = DERIVED
    assembly: Annotated[
        Literal["rear-loaded", "front-loaded"],
        Told(
            '"rear-loaded": springs go in behind the plunger and the plug closes them in. '
            '"front-loaded": the plug is fitted for good; springs, plunger and last the set screw '
            "go in from the nose."
        ),
    ] = "rear-loaded"
    bevel_mm: Annotated[
        Depth,
        Told("How much wider than the bore the 60 degree bevel at its front mouth is; 0 for none."),
    ] = 1.5
    recess_mm: Annotated[
        Depth, Told("How deep both bevels lie below the faces, out of harm's way; 0 for none.")
    ] = 0.3
    edge_mm: Annotated[Depth, Told("Chamfer on the outer edges.")] = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bore:
    """The one reamed bore in which plunger and springs lie."""

    diameter_mm: Annotated[Size, Told("Nominal bore. Derived: the plunger's diameter.")] = DERIVED
    tolerance: Annotated[ZoneName, Told('ISO 286 zone of the bore, such as "H7". Derived: H7.')] = (
        DERIVED_TEXT
    )
    limits_um: Annotated[
        Limits_um | None,
        Told("Lower and upper deviation in micrometres, in place of the ISO 286 zone."),
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PointTip:
    """A plunger end with a cone, for a drilled centre."""

    style: Annotated[
        Literal["point"], Told('"point", "countersink" or "plain": the form of this end.')
    ]
    angle_deg: Annotated[Angle, Told("Included angle of the cone.")] = 60.0
    flat_mm: Annotated[Depth, Told("Diameter of the small flat on the tip.")] = 0.4


@dataclass(frozen=True, slots=True, kw_only=True)
class CountersinkTip:
    """A plunger end with a countersink, for a tap with a point or a bevel."""

    style: Annotated[
        Literal["countersink"], Told('"point", "countersink" or "plain": the form of this end.')
    ]
    angle_deg: Annotated[Angle, Told("Included angle of the countersink.")] = 60.0
    mouth_mm: Annotated[
        Size, Told("Diameter of the mouth. Derived: 0.87 of the plunger's diameter, to a tenth.")
    ] = DERIVED
    pilot_mm: Annotated[
        Size, Told("Diameter of the pilot hole. Derived: a quarter of the plunger, to half a mm.")
    ] = DERIVED
    pilot_depth_mm: Annotated[
        Depth, Told("Full depth of the pilot hole below the countersink. Derived: its diameter.")
    ] = DERIVED
    chamfer_mm: Annotated[Depth, Told("Chamfer on the outer edge.")] = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainTip:
    """A plunger end left flat; it follows no tap."""

    style: Annotated[
        Literal["plain"], Told('"point", "countersink" or "plain": the form of this end.')
    ]
    chamfer_mm: Annotated[Depth, Told("Chamfer on the outer edge.")] = 0.5


Tip = PointTip | CountersinkTip | PlainTip


@dataclass(frozen=True, slots=True, kw_only=True)
class Plunger:
    """The plunger: finished round bar with a form on each end."""

    diameter_mm: Annotated[Size, Told("Nominal diameter of the bar.")]
    material: Annotated[MaterialName, Told("Material of the plunger.")]
    front: Annotated[
        Tip,
        Told("The end that works as the drawing shows it."),
    ]
    rear: Annotated[
        Tip,
        Told("The end that works with the plunger reversed."),
    ]
    length_mm: Annotated[
        Size,
        Told("Overall length. Derived: equal ends about the slot, tip 2 mm clear of the nose."),
    ] = DERIVED
    tolerance: Annotated[ZoneName, Told('ISO 286 zone of the bar, such as "h8". Derived: h8.')] = (
        DERIVED_TEXT
    )
    limits_um: Annotated[
        Limits_um | None,
        Told(
            "Lower and upper deviation of the bar in micrometres, in place of the ISO 286 zone; "
            "drill rod is often sold as plus or minus."
        ),
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RetainingSlot:
    """The milled slot in the plunger that the set screw runs in."""

    length_mm: Annotated[Size, Told("Overall length, over the round ends.")]
    width_mm: Annotated[
        Size, Told("Width: the cutter. Derived: the next half millimetre over the screw's tip.")
    ] = DERIVED
    depth_mm: Annotated[
        Size,
        Told(
            "Depth on the centre line, from the outside of the plunger. Derived: enough for the "
            "screw's tip to bear on the side walls."
        ),
    ] = DERIVED
    front_mm: Annotated[
        Size, Told("From the front tip to the slot. Derived: the slot lies in the middle.")
    ] = DERIVED


ScrewPoint = Literal["dog short", "dog long", "cup", "flat", "cone"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RetainingScrew:
    """The set screw (grub screw) that keeps the plunger in."""

    thread: Annotated[ThreadName, Told("Thread of the screw.")]
    point: Annotated[
        ScrewPoint, Told('"dog long", "dog short", "cup", "flat" or "cone": its point.')
    ] = "dog long"
    position_mm: Annotated[
        Size,
        Told("From the nose face to its axis. Derived: the slot stays 2 mm inside the nose."),
    ] = DERIVED
    length_mm: Annotated[
        Size,
        Told("Length of the screw. Derived: the longest stocked one that ends below the nose."),
    ] = DERIVED
    gap_mm: Annotated[
        Depth, Told("Gap between the tip and the floor of the slot, once set and locked.")
    ] = 0.3
    tip_mm: Annotated[
        Size, Told("Diameter of the tip, if you turn it yourself. Derived: from the standard.")
    ] = DERIVED
    tip_length_mm: Annotated[
        Size, Told("Length of the tip, if you turn it yourself. Derived: from the standard.")
    ] = DERIVED
    locking: Annotated[
        Literal["threadlocker", "jam screw", "none"],
        Told('"threadlocker", "jam screw" or "none": what keeps it from turning.'),
    ] = "threadlocker"


SpringEnds = Literal["closed and ground", "closed", "open", "open and ground"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spring:
    """One compression spring; several in a row stand in series, first the one at the plunger."""

    wire_mm: Annotated[Size, Told("Diameter of the wire.")]
    outside_mm: Annotated[Size, Told("Outside diameter of the coils.")]
    free_mm: Annotated[Size, Told("Free length.")]
    total_coils: Annotated[
        Count, Told("All coils, end coils too. Derived: from active_coils and the ends.")
    ] = DERIVED
    active_coils: Annotated[
        Count, Told("Coils that give. Derived: from total_coils and the ends.")
    ] = DERIVED
    ends: Annotated[
        SpringEnds,
        Told('"closed and ground", "closed", "open" or "open and ground": the end coils.'),
    ] = "closed and ground"
    wire: Annotated[WireGrade, Told("Grade of the wire.")] = "EN 10270-1 SM"
    rate_N_per_mm: Annotated[
        Rate, Told("Spring rate in N/mm, if you measured it. Derived: from wire and coils.")
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class Separator:
    """The loose washer between two springs; there is one fewer than there are springs."""

    thickness_mm: Annotated[Size, Told("Thickness.")] = 1.0
    diameter_mm: Annotated[Size, Told("Outside diameter. Derived: 0.3 under the bore.")] = DERIVED
    hole_mm: Annotated[Size, Told("Hole, for the air.")] = 1.5
    material: Annotated[MaterialName, Told("Material.")] = "brass CW614N"


@dataclass(frozen=True, slots=True, kw_only=True)
class Button:
    """The disc between plunger and springs; leave the table out for none."""

    thickness_mm: Annotated[Size, Told("Thickness.")] = 2.0
    diameter_mm: Annotated[Size, Told("Outside diameter. Derived: 0.3 under the bore.")] = DERIVED
    vent_mm: Annotated[Size, Told("Hole through it, for the air.")] = 1.5
    recess_mm: Annotated[
        Depth,
        Told(
            "Mouth of a 60 degree recess on the plunger's side, in which a point sits on its "
            "flank; 0 for a flat button that bears on the tip."
        ),
    ] = 0.0
    material: Annotated[MaterialName, Told("Material.")] = "brass CW614N"


@dataclass(frozen=True, slots=True, kw_only=True)
class Plug:
    """The screwed plug that closes the bore behind the springs."""

    material: Annotated[MaterialName, Told("Material of the plug.")] = "brass CW614N"
    thread: Annotated[
        ThreadName,
        Told(
            "Thread of the plug, and so of the rear of the body. Derived: the draw-bar's thread, "
            "else the largest coarse one that leaves a wall of 1.5 mm."
        ),
    ] = DERIVED_TEXT
    length_mm: Annotated[
        Size, Told("Length. Derived: 0.8 thread diameters, to half a millimetre.")
    ] = DERIVED
    sunk_mm: Annotated[
        Depth,
        Told(
            "How deep its rear face lies below the rear end of the body. Derived: room for the "
            "draw-bar and 3 mm of air, else 0.5; and for the second plug."
        ),
    ] = DERIVED
    vent_mm: Annotated[Depth, Told("Hole through it, for the air; 0 for none.")] = 2.0
    drive: Annotated[Literal["slot", "hexagon"], Told('"slot" or "hexagon": what turns it.')] = (
        "slot"
    )
    drive_width_mm: Annotated[
        Size, Told("Width of the slot or of the hexagon. Derived: 0.15 or 0.5 thread diameters.")
    ] = DERIVED
    drive_depth_mm: Annotated[
        Size, Told("Depth of the slot or hexagon. Derived: a quarter of the plug's length.")
    ] = DERIVED
    locking: Annotated[
        Literal["threadlocker", "second plug", "none"],
        Told('"threadlocker", "second plug" or "none": what keeps it from turning.'),
    ] = "threadlocker"


TapEnd = Literal["point", "centre", "bevel", "none"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FollowedTap:
    """A tap that the tool is to follow."""

    standard: Annotated[
        str, Told('Whose lengths and shanks: "ISO 529", "DIN 352", "DIN 371", "ASME B94.9"...')
    ]
    size: Annotated[str, Told('Its thread, as the standard names it: "M6", "1/4-20".')]
    end: Annotated[
        TapEnd | Literal[""],
        Told(
            '"point", "centre", "bevel" or "none": what its square end looks like. Look at the '
            "tap. Derived: every form the standard allows, and all of them are checked."
        ),
    ] = DERIVED_TEXT
    end_mm: Annotated[
        Size,
        Told(
            "Mouth of its centre, base of its point or small circle of its bevel, measured. "
            "Derived: from the shank."
        ),
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """The machine that uses the tool, and the cutters that make it."""

    headroom_mm: Annotated[
        Size, Told("From the spindle or quill face to the work, with the work in its vice.")
    ]
    compound_travel_mm: Annotated[Size, Told("Travel of the lathe's compound slide.")]
    drill_reach_mm: Annotated[
        Size, Told("Depth that your longest drill of about the bore's size reaches.")
    ]
    reamer_length_mm: Annotated[Size, Told("Overall length of the reamer for the bore.")]
    ejection_depth_mm: Annotated[
        Size,
        Told(
            "From the quill face to the end of its screw with the quill fully wound back; needed "
            'for "morse ejected".'
        ),
    ] = DERIVED
    reamer_grip_mm: Annotated[Depth, Told("Length of the reamer's shank in the chuck.")] = 25.0
    tap_reach_mm: Annotated[
        Size,
        Told(
            "Depth that your tap for the rear thread reaches. Derived: from an ISO 529 tap of that "
            "thread; its thread length, or all but 25 mm if its shank passes the hole."
        ),
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """How well it will be made, and how the sheets look."""

    runout_mm: Annotated[
        Size, Told("Run-out of the bore to the mount that your way of making achieves.")
    ] = 0.02
    slot_depth_tolerance_mm: Annotated[Depth, Told("Plus or minus on the depth of the slot.")] = 0.1
    general_tolerance: Annotated[
        Literal["ISO 2768-f", "ISO 2768-m", "ISO 2768-c"],
        Told("General tolerance of every size without its own."),
    ] = "ISO 2768-m"
    projection: Annotated[
        Literal["first", "third"], Told('"first" or "third": angle of projection of the sheets.')
    ] = "first"
    revision: Annotated[
        str, Words(most=6, pattern=ONE_LINE), Told("Revision shown in the title block.")
    ] = "A"


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitChange:
    """Your own value for a limit of a check; the sheets say that it was changed."""

    warn: Annotated[Number, Told("Beyond this the check warns.")] = DERIVED
    fail: Annotated[Number, Told("Beyond this the check fails.")] = DERIVED


def _spring(spring: Spring) -> Spring:
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


def _screw(screw: RetainingScrew) -> RetainingScrew:
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


def _mount(mount: Mount) -> Mount:
    if (
        isinstance(mount, DrawbarMount)
        and mount.drawbar_thread == DERIVED_TEXT
        and not MorseTaper.find(
            mount.size if mount.lengths == "ISO" else f"{mount.size} US"
        ).drawbar_thread
    ):
        raise _contradiction(f"{mount.size} has no draw-bar thread of its own; give drawbar_thread")
    return mount


def _tap(tap: FollowedTap) -> FollowedTap:
    standards = tuple(dict.fromkeys(row.standard for row in Tap.rows()))
    known(standards, tap.standard, key="standard")
    known(
        tuple(row.size for row in Tap.rows() if row.standard == tap.standard), tap.size, key="size"
    )
    return tap


def _plunger(plunger: Plunger) -> Plunger:
    if plunger.front.style == "plain" and plunger.rear.style == "plain":
        raise _contradiction("one end must be a point or a countersink")
    _told_once(plunger)
    return plunger


def _told_once(fitted: Plunger | Bore) -> Plunger | Bore:
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


def _bore_of_the_plunger(parameters: Parameters) -> Parameters:
    """Refuse a fit that is not tabulated for a bore whose diameter is that of the plunger."""
    bore = parameters.bore
    if is_derived(bore.diameter_mm) and bore.limits_um is None:
        try:
            _tabulated(bore, parameters.plunger.diameter_mm)
        except PydanticCustomError as error:
            raise _contradiction(f"bore: {error.message()}") from None
    return parameters


@dataclass(frozen=True, slots=True, kw_only=True)
class Parameters:
    """One tool, as asked for."""

    title: Annotated[
        str,
        Words(least=1, most=60, pattern=ONE_LINE),
        Told("What the tool is, for the title blocks."),
    ]
    name: Annotated[
        str,
        Words(pattern=f"^{NAME_PATTERN}$"),
        Told("Name of the pack and of its folder. Derived: the name of the file."),
    ] = DERIVED_TEXT
    mount: Annotated[Mount, Checked(_mount)]
    body: Body
    bore: Annotated[Bore, Checked(_told_once)] = Bore()
    plunger: Annotated[Plunger, Checked(_plunger)]
    slot: RetainingSlot
    set_screw: Annotated[RetainingScrew, Checked(_screw)]
    springs: Annotated[
        tuple[Annotated[Spring, Checked(_spring)], ...],
        Entries(1, 6),
    ]
    separator: Separator | None = None
    button: Button | None = None
    plug: Plug = Plug()
    taps: Annotated[
        tuple[Annotated[FollowedTap, Checked(_tap)], ...],
        Entries(1, 30),
    ]
    machine: Machine
    making: Making = Making()
    limits: dict[LimitName, LimitChange] = field(default_factory=dict)


ParameterFile = Annotated[Parameters, Checked(_bore_of_the_plunger)]
"""The type a whole file is held against."""
