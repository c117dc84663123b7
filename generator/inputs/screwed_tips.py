"""Tips that screw into the stem of a shouldered plunger, and what they must agree on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final, Literal

from generator.inputs.names import MaterialName, ThreadName
from generator.inputs.quantities import DERIVED, Depth, Entries, Size, Told
from generator.inputs.tables import Tip

OVER_THREAD_MM: Final = 1.0
"""How much wider the register is than the thread that passes through it, where that is left out."""

HoleZone = Literal["H6", "H7", "H8"]
SpigotZone = Literal["f7", "g6", "h6", "h7"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewedTips:
    """Tips that screw into the stem; plunger.front is the one fitted, the spare ones its like."""

    thread: Annotated[
        ThreadName,
        Told("Thread of the stud, and of the hole in the stem; half the stem's diameter is usual."),
    ]
    material: Annotated[MaterialName, Told("Material of the tips.")] = "silver steel 115CrV3"
    length_mm: Annotated[
        Size,
        Told(
            "From the tip to the face that bears on the stem; the same for all, so that travel and "
            "preload stay as they are when a tip is changed. Derived: room for the longest working "
            "end and the flats behind it, to half a millimetre."
        ),
    ] = DERIVED
    diameter_mm: Annotated[
        Size, Told("Outside diameter of the tips. Derived: that of the stem.")
    ] = DERIVED
    register_mm: Annotated[
        Size,
        Told(
            "Diameter of the spigot and of the counterbore it enters: this centres the tip, never "
            "the thread. Derived: 1 mm over the thread."
        ),
    ] = DERIVED
    register_length_mm: Annotated[
        Size,
        Told("Length of the spigot. Derived: 0.6 of its diameter, 2 mm at least, to half a mm."),
    ] = DERIVED
    hole_tolerance: Annotated[
        HoleZone, Told('"H6", "H7" or "H8": ISO 286 zone of the counterbore.')
    ] = "H7"
    spigot_tolerance: Annotated[
        SpigotZone, Told('"f7", "g6", "h6" or "h7": ISO 286 zone of the spigot.')
    ] = "g6"
    stud_mm: Annotated[
        Size,
        Told(
            "Length of the stud behind the spigot. Derived: one and a half diameters of full "
            "thread, two turns of run-out and the chamfer, to half a millimetre."
        ),
    ] = DERIVED
    tapped_mm: Annotated[
        Size,
        Told(
            "Depth of full thread in the stem, from its front face. Derived: 1 mm past the stud, "
            "to half a millimetre."
        ),
    ] = DERIVED
    flats_mm: Annotated[
        Size,
        Told(
            "Across the two spanner flats, alike on stem and tip. Derived: 0.92 of the thinner of "
            "the two, down to half a millimetre."
        ),
    ] = DERIVED
    flats_length_mm: Annotated[
        Size,
        Told(
            "Length of the flats, from the joint. Derived: 0.4 of the stem's diameter, to half a "
            "millimetre."
        ),
    ] = DERIVED
    locking: Annotated[
        Literal["threadlocker", "none"],
        Told(
            '"threadlocker" (a weak one, that lets go to a spanner) or "none": what keeps the tip '
            "from working loose; a right-hand tap drags a right-hand thread open."
        ),
    ] = "threadlocker"
    edge_mm: Annotated[
        Depth, Told("Chamfer on the mouth of the counterbore, for the corner of the spigot.")
    ] = 0.2
    spare: Annotated[tuple[Tip, ...], Entries(0, 6)] = ()
