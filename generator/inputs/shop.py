"""The tables of a parameter file that describe the shop: taps, machine, making, limits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from generator.inputs.names import ONE_LINE
from generator.inputs.quantities import (
    DERIVED,
    DERIVED_TEXT,
    Depth,
    Number,
    Size,
    Told,
    Words,
)

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
