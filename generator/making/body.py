"""The operations of the body by the planned route."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.making.bench import Bench
from generator.making.job import Job, Maker, carried_out
from generator.making.mount import finish_mount, rough_mount
from generator.making.nose_side import (
    bar,
    drill_bore,
    face_nose,
    ream_bore,
    saw,
)
from generator.making.operation import Operation, Route, RouteKey
from generator.making.profile_turning import front_profile, rear_profile
from generator.making.rear_side import face_rear, nose_between
from generator.making.rear_thread import arbor, pocket, tap_rear
from generator.making.routes import tapering
from generator.making.screw_hole import deburr, hole_across
from generator.model.tool import Tool

NOSE_FIRST: Final[tuple[Maker, ...]] = (
    saw,
    face_nose,
    drill_bore,
    ream_bore,
    face_rear,
    rough_mount,
    finish_mount,
    tap_rear,
    hole_across,
    deburr,
)
REAR_FIRST: Final[tuple[Maker, ...]] = (
    saw,
    face_rear,
    rough_mount,
    finish_mount,
    tap_rear,
    face_nose,
    drill_bore,
    ream_bore,
    hole_across,
    deburr,
)
ORDERS: Final[dict[RouteKey, tuple[Maker, ...]]] = {
    "centres": (*NOSE_FIRST[:5], nose_between, *NOSE_FIRST[5:]),
    "4-jaw": NOSE_FIRST,
    "3-jaw": NOSE_FIRST,
    "mandrel": (
        saw,
        front_profile,
        *NOSE_FIRST[2:5],
        rear_profile,
        *NOSE_FIRST[7:],
    ),
    "socket": REAR_FIRST,
    "collet": REAR_FIRST,
}
"""What is done in which order, so that bore and mount agree and the bevels live to the end."""


def body(tool: Tool, bench: Bench, route: Route) -> Iterator[Operation]:
    """Yield the operations of the body."""
    job = Job(tool, tool.body, bench, route)
    order = ORDERS[route.key]
    if route.key == "socket" and not tapering(tool):
        order = (arbor, *REAR_FIRST[4:])
    order = tuple(
        each
        for maker in order
        if maker is not hole_across or tool.crossing is not None
        for each in (
            (pocket, maker) if maker is tap_rear and tool.parameters.shoulder else (maker,)
        )
    )
    yield from carried_out(job, bar(job), order)
