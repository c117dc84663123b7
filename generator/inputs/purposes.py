"""What a tool is for, and the tables of a parameter file that belong to one purpose alone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final, Literal

from generator.inputs.names import CentreHoleName, WorkName
from generator.inputs.quantities import (
    DERIVED,
    Angle,
    Depth,
    Error,
    Factor,
    Force,
    Size,
    Speed,
    Told,
    Warmth,
    Weight,
)

Purpose = Literal["tap follower", "pick-up centre", "support centre"]

TABLES: Final[dict[Purpose, str]] = {
    "tap follower": "taps",
    "pick-up centre": "pick_up",
    "support centre": "support",
}
"""The table that each purpose asks for, and no other has."""

SPINDLES: Final[dict[Purpose, str]] = {
    "pick-up centre": "vertical",
    "support centre": "horizontal",
}
"""How the spindle must stand, where the purpose leaves no choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PickUp:
    """What a pick-up centre finds under the spindle, and how it is read."""

    target: Annotated[
        Literal["hole", "punch mark"], Told('"hole" or "punch mark": what the point goes into.')
    ]
    width_mm: Annotated[
        Size, Told("Diameter of the hole at its rim, or width of the punch mark across its rim.")
    ]
    mark_angle_deg: Annotated[
        Angle, Told("Included angle of a punch mark: that of the punch. Not looked at for a hole.")
    ] = 90.0
    work: Annotated[WorkName, Told("What the work is of.")] = "low-carbon steel"
    yield_MPa: Annotated[
        Factor, Told("Yield strength of the work. Derived: a low one for what it is of.")
    ] = DERIVED
    read_by: Annotated[
        Literal["eye", "feel", "indicator"],
        Told(
            '"eye": the point stands just over the place; "feel": it is let in, and the table '
            'moved until nothing pushes it aside; "indicator": one with its stand on the table '
            "bears on the plunger and shows whether it is pushed aside as it goes in."
        ),
    ] = "eye"
    reading_mm: Annotated[
        Error,
        Told(
            "How far one reading may be off, table's scale and all. Derived: 0.05 by eye with a "
            "magnifier, 0.03 by feel, 0.01 by indicator."
        ),
    ] = DERIVED
    form_mm: Annotated[
        Error,
        Told(
            "How far the middle of the rim lies off the place that it stands for: burr, a slanting "
            "punch. Derived: 0.01 for a hole, 0.05 for a punch mark."
        ),
    ] = DERIVED
    moved_mm: Annotated[
        Depth,
        Told("How far quill or table is moved up or down between finding the place and cutting."),
    ] = 50.0
    accept_mm: Annotated[
        Error, Told("How far off the place may be that two readings give: 95 of 100 must be less.")
    ] = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """The work that a support centre steadies in the tailstock, turned slowly or by hand."""

    centre: Annotated[
        CentreHoleName, Told('Centre hole of the work, ISO 866 type A, by its pilot: "A2.5".')
    ]
    length_mm: Annotated[Size, Told("Length of the work from the chuck to its centre hole.")]
    diameter_mm: Annotated[Size, Told("Mean diameter of the work over that length.")]
    work: Annotated[WorkName, Told("What the work is of.")] = "low-carbon steel"
    mass_g: Annotated[Weight, Told("Mass of the work. Derived: from length and diameter.")] = (
        DERIVED
    )
    side_N: Annotated[
        Force, Told("Push across the axis at the centre hole: a file, a light cut, a hand.")
    ] = 5.0
    rpm: Annotated[Speed, Told("Speed of the work; 0 for work turned by hand.")] = 0.0
    warmer_K: Annotated[Warmth, Told("By how much the work grows warmer while it is held.")] = 20.0
    expansion_um_per_m_K: Annotated[
        Factor,
        Told("How many micrometres a metre of the work grows a degree. Derived: by what it is of."),
    ] = DERIVED
    set_mm: Annotated[
        Depth,
        Told(
            "How far the plunger is pushed in when it is set against the work. Derived: so that 1 "
            "mm of travel is left when the work has grown."
        ),
    ] = DERIVED
    lock: Annotated[
        Literal["none", "lock screw"],
        Told(
            '"none", or "lock screw": a screw of your own that clamps the plunger once it is set, '
            "so that a push cannot drive it out of the work."
        ),
    ] = "none"
    accept_mm: Annotated[
        Error,
        Told("How far off the spindle's axis the point may be: 95 of 100 tools must be nearer."),
    ] = 0.1
