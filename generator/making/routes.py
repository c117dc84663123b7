"""Ways of bringing bore and mount of the body onto one axis, and what each leaves over."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil
from typing import Final

from generator.checks.making import bored_mm, compound_travel_mm, reamed_mm
from generator.making.operation import Route, Term
from generator.making.setups import taper_setup
from generator.making.taper_ways import SetOver, set_over
from generator.model import parts
from generator.model.bush import BUSH_RUNOUT_MM, play_um
from generator.model.shank import Socket, Taper, shank_of
from generator.model.tool import Tool
from generator.standards.rows import MorseTaper
from generator.units import shown

ARBOR: Final = "blank-end arbor"
JUDGED: Final = "engineering judgement"
START_MM: Final = 0.005
"""Reamer off the bored start, at the nose; engineering judgement, no source."""
WANDER_PER_DIAMETER: Final = 0.001
"""Reamer off its start for each diameter of depth behind it; engineering judgement."""
SEAT_SQUARE_MM: Final = 0.005
"""How far the seat of a bush is out of square across its flange; engineering judgement."""
CENTRE_MM: Final = 0.002
"""Centre turned true in its place in the headstock; engineering judgement, no source."""
SEAT_MM: Final = 0.003
"""Bevels on their centres: form and dirt; engineering judgement, no source."""
SOCKET_MM: Final = 0.005
"""Run-out of the headstock's socket, on the radius; engineering judgement, no source."""
SOCKET_SLOPE_PER_MM: Final = 0.015 / 100
"""The same along the axis: half of 0.03 in 100, an old metrology textbook's limit for a socket."""
SLEEVE_MM: Final = 0.005
"""Taper seated anew in its socket; engineering judgement, no source."""
MANDREL_MM: Final = 0.005
"""Expanding mandrel in a reamed bore; engineering judgement, no source."""
ALIKE_MM: Final = 0.01
"""Errors that differ by less are alike, as the figures behind them are; engineering judgement."""
REAMER_LEAD_MM: Final = 2.0
"""What a reamer passes beyond the bore; common practice, no source."""
GAUGE_LENGTH_MM: Final = 40.0
"""Length along which work is clocked straight; engineering judgement."""


def routes(tool: Tool) -> tuple[Route, ...]:
    """Return the ways there are for this tool, the best of those that can be done first.

    Ways that he lacks something for follow, by their error. The plain 3-jaw chuck is among them
    only where nothing else can be done.
    """
    makers = (_centres, _socket, _four_jaw, _collet, _cnc)
    found = [route for make in makers for route in make(tool)]
    order = sorted(found, key=lambda route: (bool(route.missing), _judged(route)))
    if not order[0].missing:
        return tuple(order)
    last = _three_jaw(tool)
    if not last.missing:
        return (last, *order)
    bought = [route for route in order if len(route.missing) == 1 and ARBOR in route.missing[0]]
    return (*bought, *(route for route in (*order, last) if route not in bought))


def _judged(route: Route) -> tuple[int, bool, float]:
    """Return what ways are ranked by: where errors are alike, a tool path before handwork."""
    error_mm = route.error_mm + route.tip_error_mm
    return round(error_mm / ALIKE_MM), route.key != "mandrel", error_mm


def _tip_mm(tool: Tool) -> float:
    """Return how far the plunger's tip stands out of the nose at most."""
    return max((o.projection_extended_mm for o in tool.orientations), default=0.0)


def _wander(tool: Tool) -> Term:
    """Return what the bore errs in its own holding: the reamer, or the bush in its register."""
    p = tool.parameters
    if p.bush is not None:
        off_mm = (play_um(p.bush)[1] / 1000 + BUSH_RUNOUT_MM) / 2
        lean = SEAT_SQUARE_MM * _tip_mm(tool) / p.bush.flange_diameter_mm
        return Term("bush in its register, on its seat", off_mm, off_mm + lean, JUDGED)
    return _reamed(tool)


def _reamed(tool: Tool) -> Term:
    """Return what the reamer errs: its start, and at the tip the slope of what guides there."""
    bore_mm = tool.parameters.bore.diameter_mm
    guided = tool.parameters.plunger.length_mm / bore_mm
    return Term(
        "reamer off its bored start",
        START_MM,
        START_MM + WANDER_PER_DIAMETER * guided,
        JUDGED,
    )


def _tilted_mm(tool: Tool, clocked_mm: float) -> float:
    """Return what clocking over a length errs at the tip."""
    return clocked_mm * (1 + _tip_mm(tool) / GAUGE_LENGTH_MM)


def tapering(tool: Tool) -> tuple[str, ...]:
    """Return the ways of turning the taper that he has, the best first; none if he has none."""
    p = tool.parameters
    shank, shop = shank_of(p.mount), p.workshop
    if shank.taper is None:
        return ("plain turning",)
    need_mm = compound_travel_mm(shank.taper)
    over = _set_over(tool)
    ways = []
    if shop.machines == "cnc lathe":
        ways.append("profile")
    if "taper attachment" in shop.kit:
        ways.append("taper attachment")
    if shop.compound_travel_mm >= need_mm - 1e-9:
        ways.append("compound")
    swings = over is not None and over.front_ball_mm > 0 and over.over_mm <= over.most_mm + 1e-6
    if swings and {"tailstock set-over", "centres"} <= set(shop.kit):
        ways.append("set-over")
    return tuple(ways)


def _set_over(tool: Tool) -> SetOver | None:
    setup, inch = taper_setup(tool), tool.parameters.making.units == "inch"
    return None if setup is None else set_over(tool, setup, inch=inch)


def _tapers(tool: Tool, *ways: str) -> list[str]:
    """Return what is missing for the taper, none where one of these ways is there."""
    shank = shank_of(tool.parameters.mount)
    if shank.taper is None or set(tapering(tool)) & set(ways):
        return []
    need_mm = compound_travel_mm(shank.taper)
    over, told = _set_over(tool), ""
    if over is not None and "set-over" in ways:
        told = f", or {_tenth(over.over_mm)} of tailstock set-over"
    return [f"{_tenth(need_mm)} of compound travel, or a taper attachment{told}"]


def _reaching(tool: Tool, *, both_ends: bool) -> list[str]:
    """Return what drill and reamer lack in reach."""
    shop, missing = tool.parameters.workshop, []
    drilled_mm, least = bored_mm(tool), 0.5 if both_ends else 1.0
    if shop.drill_reach_mm < least * drilled_mm:
        missing.append(f"a drill that reaches {_tenth(least * drilled_mm)}")
    if shop.reamer_length_mm - shop.reamer_grip_mm < (reamed_mm(tool) + REAMER_LEAD_MM):
        missing.append(f"a reamer that reaches {_tenth(reamed_mm(tool) + REAMER_LEAD_MM)}")
    return missing


def _tenth(least_mm: float) -> str:
    """Return a least length, raised to a tenth."""
    return shown(ceil(10 * least_mm - 1e-6) / 10, "mm")


def _kit(tool: Tool, *things: str) -> list[str]:
    return [thing for thing in things if thing not in tool.parameters.workshop.kit]


def _centres(tool: Tool) -> Iterator[Route]:
    if shank_of(tool.parameters.mount).socket is not None:
        return
    clocked_mm = tool.parameters.workshop.clocked_mm
    length_mm = parts.body_length_mm(tool.parameters)
    at_tip_mm = clocked_mm * _tip_mm(tool) / length_mm
    terms = [
        _wander(tool),
        Term("rear bevel clocked from the bore", 0.0, at_tip_mm, "workshop.clocked_mm"),
        Term("headstock centre, turned true in place", CENTRE_MM, CENTRE_MM, JUDGED),
        Term("bevels on their centres", SEAT_MM, SEAT_MM, JUDGED),
    ]
    chucks = {"4-jaw chuck", "steady", "mandrel"} & set(tool.parameters.workshop.kit)
    if not chucks:
        three_mm = tool.parameters.workshop.three_jaw_mm
        terms[1] = Term(
            "rear bevel in a 3-jaw chuck, not clocked",
            0.0,
            three_mm * _tip_mm(tool) / length_mm,
            "workshop.three_jaw_mm",
        )
    yield Route(
        key="centres",
        name="outside from the bore, between centres",
        why="Nose and mount are turned on the 60° bevels of the finished bore, so they follow it "
        "wherever the drill went.",
        terms=tuple(terms),
        missing=(
            *_kit(tool, "centres"),
            *_tapers(tool, "taper attachment", "compound", "set-over", "profile"),
            *_reaching(tool, both_ends=True),
        ),
    )


def _socket(tool: Tool) -> Iterator[Route]:
    shank = shank_of(tool.parameters.mount)
    if shank.socket is not None:
        yield _on_arbor(tool, shank.socket)
    if shank.taper is None:
        return
    slope_mm = SOCKET_SLOPE_PER_MM * _tip_mm(tool)
    pulled = "draw-bar" if shank.draw_bar else "its own grip alone"
    bought = f"a {ARBOR} {shank.taper.name} with a soft head, bought"
    if shank.taper.row is None or shank.cylinder is not None:
        bought = "a way of turning its taper"
    yield Route(
        key="socket",
        name="finished taper first, bored in its own socket",
        why="The bore is cut while the taper runs in the headstock as it will in use; held by "
        f"{pulled}. True at the nose; deeper down the drill may wander, which does no harm.",
        terms=(
            _wander(tool),
            Term("headstock socket out of true", SOCKET_MM, SOCKET_MM + slope_mm, JUDGED),
            Term("taper seated in socket and sleeve", SLEEVE_MM, SLEEVE_MM, JUDGED),
        ),
        missing=(
            *([] if isinstance(shank.taper.row, MorseTaper | None) else [_headstock(shank.taper)]),
            *([] if tapering(tool) else [bought]),
            *_reaching(tool, both_ends=False),
        ),
    )


def _on_arbor(tool: Tool, socket: Socket) -> Route:
    """Return the way of boring a body on the arbor it will stand on."""
    slope_mm = SOCKET_SLOPE_PER_MM * _tip_mm(tool)
    return Route(
        key="socket",
        name="socket first, bored on its own arbor",
        why="The bore is cut while the body runs on the arbor it will stand on.",
        terms=(
            _wander(tool),
            Term("headstock socket out of true", SOCKET_MM, SOCKET_MM + slope_mm, JUDGED),
            Term(f"body seated on the arbor, {socket.name}", SLEEVE_MM, SLEEVE_MM, JUDGED),
        ),
        missing=tuple(_reaching(tool, both_ends=False)),
    )


def _headstock(taper: Taper) -> str:
    """Return the lathe that has the socket of a taper which lathes have not."""
    return f"a headstock with the socket of {taper.name}"


def _four_jaw(tool: Tool) -> Iterator[Route]:
    clocked_mm = tool.parameters.workshop.clocked_mm
    yield Route(
        key="4-jaw",
        name="both ends in the 4-jaw chuck, clocked",
        why="The second end is set true with an indicator on a pin in the finished bore.",
        terms=(
            _wander(tool),
            Term(
                "clocked from the bore",
                clocked_mm,
                _tilted_mm(tool, clocked_mm),
                "workshop.clocked_mm",
            ),
        ),
        missing=(
            *_kit(tool, "4-jaw chuck"),
            *_tapers(tool, "taper attachment", "compound", "profile"),
            *_reaching(tool, both_ends=False),
        ),
    )


def _collet(tool: Tool) -> Iterator[Route]:
    p = tool.parameters
    shank = shank_of(p.mount)
    if shank.taper is not None or shank.gripped is None:
        return
    collet_mm = p.workshop.collet_mm
    missing = _kit(tool, "collets")
    if p.workshop.spindle_bore_mm < shank.diameter_mm:
        missing.append(f"a spindle bore of {shown(shank.diameter_mm, 'mm')}")
    yield Route(
        key="collet",
        name="finished shank in a collet, bored in it",
        why="The bore is cut while the finished shank runs in a collet as it will in use.",
        terms=(
            _wander(tool),
            Term(
                "collet out of true", collet_mm, _tilted_mm(tool, collet_mm), "workshop.collet_mm"
            ),
        ),
        missing=(*missing, *_reaching(tool, both_ends=False)),
    )


def _cnc(tool: Tool) -> Iterator[Route]:
    if tool.parameters.workshop.machines != "cnc lathe":
        return
    yield Route(
        key="mandrel",
        name="second side on a mandrel in the finished bore",
        why="The whole rear side is cut in one tool path while the finished bore sits on an "
        "expanding mandrel.",
        terms=(
            _wander(tool),
            Term("expanding mandrel", MANDREL_MM, _tilted_mm(tool, MANDREL_MM), JUDGED),
        ),
        missing=(*_kit(tool, "mandrel"), *_reaching(tool, both_ends=False)),
    )


def _three_jaw(tool: Tool) -> Route:
    error_mm = tool.parameters.workshop.three_jaw_mm
    return Route(
        key="3-jaw",
        name="second end in the 3-jaw chuck",
        why="Nothing makes the two ends agree but the jaws. Shown because no better way can be "
        "done with the kit; get centres or a 4-jaw chuck rather than make it so.",
        terms=(
            _wander(tool),
            Term(
                "3-jaw chuck, not clocked",
                error_mm,
                _tilted_mm(tool, error_mm),
                "workshop.three_jaw_mm",
            ),
        ),
        missing=(
            *_tapers(tool, "taper attachment", "compound", "profile"),
            *_reaching(tool, both_ends=False),
        ),
    )
