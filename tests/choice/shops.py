"""Small workshops for the tests."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from generator.inputs.drawer import (
    Demands,
    Matter,
    Shop,
    StockBar,
    StockReamer,
    StockScrew,
    StockSpring,
    ThreadTap,
    Wishes,
)
from generator.inputs.shop import FollowedTap, Machine
from generator.inputs.tables import DrawbarMount
from generator.inputs.workshop import Bench

SHIPPED = sorted((Path(__file__).parents[2] / "profiles" / "workshops").glob("*.toml"))

MEDIUM = StockSpring(wire_mm=0.8, outside_mm=7.0, free_mm=33.0, active_coils=12.0, count=2.0)
SHORT = StockSpring(wire_mm=0.8, outside_mm=6.5, free_mm=18.0, active_coils=7.0, count=2.0)
SOFT = StockSpring(wire_mm=0.6, outside_mm=5.6, free_mm=20.0, active_coils=8.0, count=3.0)


def shop(
    *springs: StockSpring,
    matters: tuple[Matter, ...] = ("taps", "length", "travel"),
    demands: dict[str, Any] | None = None,
    accept: tuple[str, ...] = (),
    **changed: Any,
) -> Shop:
    """Return a workshop with one reamer, one screw and the springs."""
    made = Shop(
        title="Small",
        wishes=Wishes(matters=matters, accept_warnings=accept),
        demands=Demands(**(demands or {})),
        mounts=(DrawbarMount(kind="morse draw-bar", size="MT2"),),
        machine=Machine(headroom_mm=230.0),
        bench=Bench(compound_travel_mm=80.0, end_mills_mm=(3.0,)),
        bars=(
            StockBar(material="steel 11SMn30", diameter_mm=25.0, length_mm=200.0),
            StockBar(
                material="silver steel 115CrV3", diameter_mm=8.0, length_mm=150.0, tolerance="h8"
            ),
        ),
        reamers=(StockReamer(diameter_mm=8.0, length_mm=165.0, drill_reach_mm=117.0),),
        thread_taps=(ThreadTap(thread="M10", reach_mm=40.0), ThreadTap(thread="M4")),
        set_screws=(StockScrew(thread="M4"),),
        springs=springs or (MEDIUM, SHORT, SOFT),
        taps=(
            FollowedTap(standard="ISO 529", size="M5", end="point"),
            FollowedTap(standard="ISO 529", size="M8", end="centre"),
        ),
    )
    return replace(made, **changed)
