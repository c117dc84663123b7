"""A workshop for a newcomer: what most shops have, round his machine and his taps."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from generator.choice.lacking import BODY_BAR, LONG_MM, PLUNGER_BAR, stocked_springs, usual_reamer
from generator.inputs.drawer import (
    Demands,
    Shop,
    StockBar,
    StockScrew,
    ThreadTap,
    Wishes,
)
from generator.inputs.shop import FollowedTap, Machine
from generator.inputs.tables import Mount
from generator.inputs.workshop import Bench
from generator.model.shank import drawbar_thread_of

BORES_MM: Final = (5.0, 6.0, 8.0, 10.0, 12.0)
BODIES_MM: Final = (20.0, 25.0, 30.0, 35.0, 40.0, 50.0)
THREADS: Final = ("M3", "M4", "M5", "M6", "M8", "M10", "M12", "M14", "M16", "M20")
SCREWS: Final = ("M3", "M4", "M5", "M6")
TRAVEL_MM: Final = 6.0
LONG_TAP_MM: Final = 45.0
LONG_SLIDE_MM: Final = 140.0
"""The compound slide and the taps are taken for long enough; the file asks for the real ones."""

ACCEPTED: Final = (
    "relief of the rear thread over the bore",
    "wall over the rear thread",
    "wall over the bore at the small end",
    "tap seats",
    "plunger wider than the tap's centre",
    "length of the tap",
    "settings for a hole",
)
"""Warnings that a first tool may come with; a report tells of each."""


def starting_shop(
    *, title: str, mount: Mount, machine: Machine, taps: tuple[FollowedTap, ...]
) -> Shop:
    """Return a workshop with the usual bars, reamers, screws and springs.

    Args:
        title: Its title.
        mount: How the machine holds the tool.
        machine: The machine.
        taps: The taps to follow.
    """
    own = drawbar_thread_of(mount)
    threads = (*THREADS, *((own,) if own and own not in THREADS else ()))
    bare = Shop(
        title=title,
        wishes=Wishes(matters=("length", "travel"), designs=1.0, accept_warnings=ACCEPTED),
        demands=Demands(taps=float(len(taps)), travel_mm=TRAVEL_MM),
        mounts=(mount,),
        machine=machine,
        bench=Bench(compound_travel_mm=LONG_SLIDE_MM),
        bars=(
            *(StockBar(material=BODY_BAR, diameter_mm=d, length_mm=LONG_MM) for d in BODIES_MM),
            *(
                StockBar(material=PLUNGER_BAR, diameter_mm=d, length_mm=LONG_MM, tolerance="h8")
                for d in BORES_MM
            ),
        ),
        reamers=tuple(usual_reamer(d) for d in BORES_MM),
        thread_taps=tuple(ThreadTap(thread=thread, reach_mm=LONG_TAP_MM) for thread in threads),
        set_screws=tuple(StockScrew(thread=thread) for thread in SCREWS),
        taps=taps,
    )
    return replace(bare, springs=tuple(stocked_springs(bare, label="")))
