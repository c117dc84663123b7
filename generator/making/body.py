"""The operations of the body by the planned route."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.making.bench import Bench
from generator.making.closed import bore_socket, drill_vent, mill_tang
from generator.making.job import Job, Maker, carried_out
from generator.making.milled_shank import mill_shank
from generator.making.mount import finish_mount, rough_mount
from generator.making.nose_seat import deburr_pocket, drill_pocket, seat_bush
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
from generator.model.shank import shank_of
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
    mill_shank,
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
    mill_shank,
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

FOR_A_BUSH: Final[dict[Maker, Maker]] = {
    drill_bore: drill_pocket,
    ream_bore: seat_bush,
    deburr: deburr_pocket,
}
"""What is done in place of the bore where a bush has that."""


def body(tool: Tool, bench: Bench, route: Route) -> Iterator[Operation]:
    """Yield the operations of the body."""
    job = Job(tool, tool.body, bench, route)
    order = ORDERS[route.key]
    if route.key == "socket" and not tapering(tool):
        order = (arbor, *REAR_FIRST[4:])
    order = tuple(each for maker in order for each in _instead(tool, maker))
    yield from carried_out(job, bar(job), order)


def _instead(tool: Tool, maker: Maker) -> tuple[Maker, ...]:
    """Return what stands for an operation of a tool with a plug and a screw on this one."""
    p, shank = tool.parameters, shank_of(tool.parameters.mount)
    vented = p.disc is not None and p.disc.vent == "side"
    if maker is hole_across:
        kept = (maker,) if tool.crossing is not None else ()
        return (*kept, drill_vent) if vented else kept
    if maker is mill_shank:
        return (maker,) if shank.milled is not None else ()
    if maker is tap_rear and shank.socket is not None:
        return (bore_socket,)
    if maker is tap_rear and p.disc is not None:
        return (mill_tang,) if shank.tang is not None else ()
    if tool.bush is not None:
        return (FOR_A_BUSH.get(maker, maker),)
    if maker is tap_rear and p.shoulder is not None:
        return (pocket, maker)
    return (maker,)
