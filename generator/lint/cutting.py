"""Rules of cutting profiles: one closed outline that a machine can follow, and nothing else."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, isnan
from typing import Final

import numpy as np

from generator.lint.sheet import Chain, Cutting, Fault, Point
from generator.lint.touch import Array, crossing, rows

SHORTEST_MM: Final = 1e-3
"""A move shorter than this is none on a machine that steps in microns (engineering judgement)."""
GAP_MM: Final = 1e-6
CUT_LAYERS: Final = {"-turning": "PROFILE_HALF", "-milling": "SLOT"}
"""Layer of the outline by the ending of the file's name."""
OTHER_LAYERS: Final = {"LINE": "AXIS", "TEXT": "TEXT"}
"""Layer of everything else by its kind."""
EXTENTS_WITHIN_MM: Final = 1e-3


def lint_cutting(cutting: Cutting) -> Iterator[Fault]:
    """Yield everything wrong with a cutting profile."""
    stem = cutting.file.removesuffix(".dxf")
    layer = next(layer for end, layer in CUT_LAYERS.items() if stem.endswith(end))
    yield from _header(cutting)
    yield from _entities(cutting, layer)
    chains = [chain for chain in cutting.chains if chain.layer == layer]
    if len(chains) != 1:
        what = f"layer {layer} holds {len(chains)} polylines"
        yield _fault(cutting, None, what, "put one closed polyline there")
    for chain in chains:
        yield from _chain(cutting, chain, turned=layer == "PROFILE_HALF")


def _fault(cutting: Cutting, at: Point | None, what: str, right: str) -> Fault:
    return Fault(cutting.file, "profile", at, what, right)


def _header(cutting: Cutting) -> Iterator[Fault]:
    """Yield missing units, extents that are not those of the outline, bytes beyond ASCII."""
    if isnan(cutting.unit_mm):
        yield _fault(cutting, None, "$INSUNITS states no unit", "state 4 for millimetres")
    if not any("mm" in note or "inch" in note for note in cutting.notes):
        yield _fault(cutting, None, "no note tells the unit", "write it beside the outline")
    if not cutting.is_ascii:
        yield _fault(cutting, None, "the file holds bytes beyond ASCII", "write ASCII")
    points = [vertex[:2] for chain in cutting.chains for vertex in chain.vertices]
    if points and not any(isnan(each) for each in cutting.extents):
        xs, ys = zip(*points, strict=True)
        left, bottom, right, top = cutting.extents
        slack = EXTENTS_WITHIN_MM
        inside = left <= min(xs) + slack and bottom <= min(ys) + slack
        if not (inside and max(xs) <= right + slack and max(ys) <= top + slack):
            yield _fault(cutting, None, "the outline leaves the extents", "state its own extents")


def _entities(cutting: Cutting, layer: str) -> Iterator[Fault]:
    """Yield entities that a cutting machine should not find."""
    for kind, name, at in cutting.entities:
        wanted = layer if kind == "LWPOLYLINE" else OTHER_LAYERS.get(kind)
        if wanted is None:
            what = f"a {kind} lies on layer {name!r}"
            yield _fault(cutting, at, what, "leave one polyline, its axis and its notes")
        elif name != wanted:
            what = f"a {kind} lies on layer {name!r}"
            yield _fault(cutting, at, what, f"put it on {wanted}")


def _chain(cutting: Cutting, chain: Chain, *, turned: bool) -> Iterator[Fault]:
    """Yield what is wrong with an outline."""
    points = [vertex[:2] for vertex in chain.vertices]
    if len(points) < 2:
        yield _fault(cutting, None, "the outline has no area", "draw its corners")
        return
    if not chain.closed:
        gap = hypot(points[0][0] - points[-1][0], points[0][1] - points[-1][1])
        if gap > GAP_MM:
            what = f"the outline is open by {gap:.6g} mm"
        else:
            what = "the outline is not marked as closed"
        yield _fault(cutting, points[-1], what, "close the polyline by its flag")
    following = [*points[1:], points[0]]
    if not chain.closed:
        following.pop()
    runs = rows([(*a, *b) for a, b in zip(points, following, strict=False)])
    bulges = np.array([vertex[2] for vertex in chain.vertices][: len(runs)])
    long = np.hypot(runs[:, 2] - runs[:, 0], runs[:, 3] - runs[:, 1])
    for n in np.nonzero(long < SHORTEST_MM)[0]:
        what = f"a move is {long[n]:.2g} mm long"
        yield _fault(cutting, points[n], what, "leave the corner out")
    keys = [frozenset((_rounded(a), _rounded(b))) for a, b in zip(points, following, strict=False)]
    straight = [
        key
        for key, bulge, size in zip(keys, bulges, long, strict=True)
        if not bulge and size >= SHORTEST_MM
    ]
    for key in dict.fromkeys(key for key in straight if straight.count(key) > 1):
        yield _fault(cutting, min(key), "a line is drawn twice", "draw each line once")
    yield from _crossings(cutting, runs[long >= SHORTEST_MM])
    if turned and bulges.any():
        at = points[int(np.nonzero(bulges)[0][0])]
        yield _fault(cutting, at, "an arc stands where the part has none", "turn straight runs")
    if turned and min(y for _, y in points) < -GAP_MM:
        low = min(points, key=lambda point: point[1])
        yield _fault(cutting, low, "a radius lies below the axis", "let Y be the radius")
    if turned and abs(max(x for x, _ in points)) > GAP_MM:
        what = f"the finished face lies at X{max(x for x, _ in points):g}"
        yield _fault(cutting, max(points), what, "put it at X0, material toward -X")


def _rounded(point: Point) -> Point:
    return round(point[0], 6), round(point[1], 6)


def _crossings(cutting: Cutting, runs: Array) -> Iterator[Fault]:
    """Yield where the outline crosses or runs upon itself."""
    count = len(runs)
    if count < 3:
        return
    meet, upon = crossing(runs)
    for n, m in zip(*np.nonzero(np.triu(meet | upon, 1)), strict=True):
        if m - n in (1, count - 1) and not upon[n, m]:
            continue
        at = float(runs[m, 0]), float(runs[m, 1])
        yield _fault(cutting, at, "the outline crosses itself", "let each corner be passed once")
        return
