"""The table of a parameter file that tells what the tool is made with."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from generator.inputs.quantities import (
    DERIVED,
    Depth,
    Entries,
    Error,
    Rpm,
    Size,
    Told,
)

Kit = Literal[
    "3-jaw chuck",
    "4-jaw chuck",
    "collets",
    "centres",
    "steady",
    "mandrel",
    "taper attachment",
    "tailstock set-over",
    "vertical slide",
]
Speeds = Annotated[tuple[Rpm, ...], Entries(1, 40)]
Sizes = Annotated[tuple[Size, ...], Entries(0, 200)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """The machines that the tool is made on: lathe, mill, work holding, speeds and cutters."""

    machines: Annotated[
        Literal["lathe", "lathe and mill", "cnc lathe"],
        Told(
            '"lathe", "lathe and mill" or "cnc lathe": what you have; "cnc lathe" is a small one '
            "that takes the profiles, beside a hand mill."
        ),
    ] = "lathe and mill"
    kit: Annotated[
        tuple[Kit, ...],
        Entries(1, 9),
        Told(
            'What the lathe holds and guides with: "3-jaw chuck", "4-jaw chuck", "collets", '
            '"centres" (two, and a driving dog), "steady", "mandrel", "taper attachment", '
            '"tailstock set-over", "vertical slide".'
        ),
    ] = ("3-jaw chuck", "4-jaw chuck", "collets", "centres")
    compound_travel_mm: Annotated[Size, Told("Travel of the lathe's compound slide.")]
    set_over_mm: Annotated[Size, Told("How far the tailstock sets over, if the kit has that.")] = (
        10.0
    )
    sine_bar_mm: Annotated[Size, Told("Length of the sine bar between its rollers.")] = 100.0
    dial: Annotated[
        Literal["diameter", "radius"],
        Told('"diameter" or "radius": what the dial of the cross-slide reads.'),
    ] = "diameter"
    dial_division_mm: Annotated[
        Size, Told("What one division of the cross-slide's dial is worth, as it reads.")
    ] = 0.02
    compound_division_mm: Annotated[
        Size, Told("What one division of the compound slide's dial is worth.")
    ] = 0.02
    spindle_bore_mm: Annotated[Size, Told("Bar that passes the lathe's spindle.")] = 20.0
    three_jaw_mm: Annotated[Error, Told("How far the 3-jaw chuck holds work off the axis.")] = 0.08
    collet_mm: Annotated[Error, Told("How far a collet holds work off the axis.")] = 0.02
    clocked_mm: Annotated[
        Error, Told("How near the axis you bring work in the 4-jaw chuck with an indicator.")
    ] = 0.01
    lathe_rpm: Annotated[Speeds, Told("The lathe's speeds.")] = (
        60.0,
        100.0,
        160.0,
        270.0,
        450.0,
        730.0,
        1200.0,
        2000.0,
    )
    mill_rpm: Annotated[Speeds, Told("The mill's or drill's speeds.")] = (
        120.0,
        220.0,
        390.0,
        680.0,
        1150.0,
        2000.0,
    )
    turning_tool: Annotated[
        Literal["HSS", "carbide"], Told('"HSS" or "carbide": what the turning tools are.')
    ] = "HSS"
    drills_mm: Annotated[
        Sizes, Told("Drills you have. Leave it out if you have every size that is wanted.")
    ] = ()
    end_mills_mm: Annotated[Sizes, Told("End mills and slot drills you have, likewise.")] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Workshop(Bench):
    """What the tool is made with: lathe, mill, work holding, speeds and cutters."""

    drill_reach_mm: Annotated[
        Size, Told("Depth that your longest drill of about the bore's size reaches.")
    ]
    reamer_length_mm: Annotated[Size, Told("Overall length of the reamer for the bore.")]
    reamer_grip_mm: Annotated[Depth, Told("Length of the reamer's shank in the chuck.")] = 25.0
    tap_reach_mm: Annotated[
        Size,
        Told(
            "Depth that your tap for the rear thread reaches. Derived: from an ISO 529 tap of that "
            "thread; its thread length, or all but 25 mm if its shank passes the hole."
        ),
    ] = DERIVED
    reamers_mm: Annotated[Sizes, Told("Reamers you have, likewise.")] = ()
