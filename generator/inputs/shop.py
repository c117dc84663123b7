"""The tables of a parameter file that describe the shop: taps, machine, making, limits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from generator.inputs.names import ONE_LINE, WorkName
from generator.inputs.quantities import (
    DERIVED,
    DERIVED_TEXT,
    Depth,
    Error,
    Factor,
    Force,
    Grams,
    Number,
    Percent,
    Safety,
    Share,
    Size,
    Slope,
    Threads,
    Told,
    Words,
)

TapEnd = Literal["point", "centre", "bevel", "none"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FollowedTap:
    """A tap that the tool is to follow, its wrench, and the hole it is to cut."""

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
    lead_threads: Annotated[
        Threads,
        Told("Threads on its lead: about 8 on a taper tap, 4 on a second, 2 on a bottoming."),
    ] = 4.0
    work: Annotated[WorkName, Told("What it cuts; the torque follows from it.")] = (
        "low-carbon steel"
    )
    hole: Annotated[
        Literal["through", "blind"], Told('"through" or "blind": the hole it is for.')
    ] = "through"
    depth_mm: Annotated[
        Size, Told("Depth of full thread. Derived: one and a half thread diameters.")
    ] = DERIVED
    drilled_mm: Annotated[
        Size,
        Told(
            "Depth of a blind hole to the drill's full diameter. Derived: the thread, the lead and "
            "two pitches more."
        ),
    ] = DERIVED
    wrench_arm_mm: Annotated[
        Size,
        Told("From the tap's axis to the hand on the wrench. Derived: usual for the thread."),
    ] = DERIVED
    wrench_g: Annotated[Grams, Told("Mass of the wrench. Derived: usual for the thread.")] = DERIVED
    advised_least_N: Annotated[
        Force,
        Told(
            "Least force of the follower that you find right for this tap. Derived: usual for the "
            "thread."
        ),
    ] = DERIVED
    advised_greatest_N: Annotated[
        Force, Told("Greatest such force. Derived: usual for the thread.")
    ] = DERIVED
    wrench_height_mm: Annotated[
        Depth,
        Told(
            "How far a centre in the wrench's own back stands behind the tap, if the tool follows "
            "that; 0 if it follows the tap."
        ),
    ] = 0.0
    hidden_mm: Annotated[
        Depth, Told("How deep the end that is followed lies below the back of the wrench.")
    ] = 0.0
    opening_mm: Annotated[
        Size,
        Told(
            "Diameter of the opening through which the plunger reaches a hidden end. Derived: wide "
            "enough."
        ),
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """The machine that uses the tool."""

    headroom_mm: Annotated[
        Size, Told("From the spindle or quill face to the work, with the work in its vice.")
    ]
    spindle: Annotated[
        Literal["vertical", "horizontal"],
        Told('"vertical": quill of a mill or drill; "horizontal": tailstock of a lathe.'),
    ] = "vertical"
    drilled: Annotated[
        Literal["same setting", "elsewhere"],
        Told(
            '"same setting": the hole is drilled and tapped without moving the work; "elsewhere": '
            "it is not."
        ),
    ] = "same setting"
    turned: Annotated[
        Literal["tap", "work"],
        Told(
            '"tap": a wrench turns the tap; "work": the chuck is turned by hand and the wrench '
            "rests."
        ),
    ] = "tap"
    quill_travel_mm: Annotated[
        Size, Told("Travel of the quill or of the tailstock's barrel. Derived: not looked at.")
    ] = DERIVED
    quill_division_mm: Annotated[
        Size, Told("What one division of the quill's or barrel's scale is worth.")
    ] = 0.5
    ejection_depth_mm: Annotated[
        Size,
        Told(
            "From the quill face to the end of its screw with the quill fully wound back; needed "
            'where the mount is "ejected".'
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
    sheets: Annotated[
        Literal["A", "US"],
        Told('"A" for sheets A4 and A3, "US" for Letter and Tabloid.'),
    ] = "A"
    units: Annotated[
        Literal["mm", "inch"],
        Told('"mm" or "inch": what the sheets are dimensioned in.'),
    ] = "mm"
    revision: Annotated[
        str, Words(most=6, pattern=ONE_LINE), Told("Revision shown in the title block.")
    ] = "A"


@dataclass(frozen=True, slots=True, kw_only=True)
class Alignment:
    """What leans a thread or opens its mouth: the most that each error reaches, on the radius."""

    accept: Annotated[
        Literal["fine", "general", "rough"],
        Told('"fine", "general" or "rough": how square the threads must be: 0.1, 0.25 or 0.5 deg.'),
    ] = "general"
    height_mm: Annotated[
        Error,
        Told(
            "Spindle or tailstock above or below the axis of the hole. Derived: 0.04 on a lathe; "
            "0 on a mill in the same setting, else 0.05."
        ),
    ] = DERIVED
    side_mm: Annotated[
        Error,
        Told("The same to the side. Derived: 0.02 on a lathe, 0 on a mill."),
    ] = DERIVED
    slope_mm: Annotated[
        Slope,
        Told(
            "How far the quill or barrel runs off in 100 mm. Derived: 0.02; 0 on a mill in the "
            "same setting, where hole and tap share the error."
        ),
    ] = DERIVED
    seat_mm: Annotated[
        Error,
        Told(
            "How far the tool seats off the spindle's axis. Derived: 0.01 in a socket or on an "
            "arbor; in collet or chuck, half the run-out of mount.holder, grown with the length "
            "out to the tip, or 0.05 where no holder is told."
        ),
    ] = DERIVED
    bore_mm: Annotated[
        Error,
        Told("Bore off the mount's axis at the nose. Derived: half of making.runout_mm."),
    ] = DERIVED
    bore_slope_mm: Annotated[
        Error,
        Told("Bore out of line with the mount, at the tip. Derived: making.runout_mm."),
    ] = DERIVED
    cone_mm: Annotated[Error, Told("Cone of the plunger off the plunger's axis.")] = 0.01
    start_mm: Annotated[
        Error, Told("Tap's front end off the axis of the hole when the first threads bite.")
    ] = 0.01
    hole_deg: Annotated[
        Slope,
        Told(
            "Axis of the hole out of line with the spindle. Derived: 0.05 in the same setting, "
            "else 0.3."
        ),
    ] = DERIVED
    tap_mm: Annotated[Error, Told("Tap's own centre off its thread; it turns with the tap.")] = 0.02
    wrench_mm: Annotated[
        Error,
        Told("Centre in a wrench's back off the tap's axis; it turns with the tap."),
    ] = 0.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumptions:
    """Figures of judgement that no standard gives; the papers list them as such."""

    one_hand: Annotated[
        Share, Told("Share of a one-handed pull on the wrench that pushes the tap sideways.")
    ] = 1.0
    two_hands: Annotated[
        Share, Told("Share of a two-handed pull that is left over as a push sideways.")
    ] = 0.2
    cone_friction: Annotated[Share, Told("Friction of the cone on the tap, greased.")] = 0.15
    feel_percent: Annotated[
        Percent, Told("How much of the tapping torque the cone may drag before the feel is lost.")
    ] = 5.0
    tap_factor: Annotated[
        Factor,
        Told(
            "Torque of a straight-fluted hand tap over that of the cutting force alone. Derived: "
            "by what it cuts, its pitch and its lead, 1.35 for a coarse thread in steel."
        ),
    ] = DERIVED
    worn_factor: Annotated[Factor, Told("Torque of your tap over that of a sharp, oiled one.")] = (
        1.0
    )
    column_factor: Annotated[
        Safety, Told("Safety against bending the tap as a column under the plunger.")
    ] = 4.0
    core_share: Annotated[
        Share, Told("Core of a tap over its thread's diameter, where it is weakest.")
    ] = 0.5
    stop_stiffness_N_per_mm: Annotated[
        Factor, Told("Stiffness of screw tip, slot end and plunger as a stop.")
    ] = 10000.0
    rate_percent: Annotated[
        Percent, Told("Tolerance of a spring's rate, plus or minus, where it was not measured.")
    ] = 10.0
    free_percent: Annotated[
        Percent, Told("Tolerance of a spring's free length, plus or minus.")
    ] = 2.0
    plug_mm: Annotated[Depth, Told("How well the plug's depth is set, plus or minus.")] = 0.25


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitChange:
    """Your own value for a limit of a check; the sheets say that it was changed."""

    warn: Annotated[Number, Told("Beyond this the check warns.")] = DERIVED
    fail: Annotated[Number, Told("Beyond this the check fails.")] = DERIVED
