"""The cover of the document: what the tool is and does, at a glance."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import isfinite
from typing import Final

from generator.checks.finding import Finding
from generator.checks.lean import CLASSES_DEG
from generator.documents import picking_card, supporting_card
from generator.documents.bill import total_mass_g
from generator.documents.check_papers import poor_table
from generator.documents.drawing import Figure
from generator.documents.table import Column, Section, Table
from generator.inputs.purposes import Purpose
from generator.model.fits import Limits
from generator.model.shank import shank_of
from generator.model.tool import Orientation, Tool
from generator.units import number, shown
from generator.use.alignment import leans
from generator.use.seats import tap_names
from generator.use.windows import windows


def cover_section(
    tool: Tool,
    findings: tuple[Finding, ...],
    picture: Figure | None = None,
) -> Section:
    """Return picture, key figures and what is to be looked at.

    Args:
        tool: The tool.
        findings: What the checks found.
        picture: What the tool looks like.
    """
    told = (*_rows(tool), *SERVES[tool.parameters.purpose](tool))
    rows = tuple((what, value) for what, value in told if value)
    poor = poor_table(findings)
    return Section(
        "At a glance",
        () if poor else ("No check warns or fails.",),
        (
            Table("Key figures", (Column(""), Column("")), rows),
            *(() if poor is None else (poor,)),
        ),
        figures=() if picture is None else (picture,),
    )


def _rows(tool: Tool) -> Iterator[tuple[str, str]]:
    """Yield what is asked first of a tool, and the answer."""
    outline = tool.body.outline
    yield "mount", _mount(tool)
    yield (
        "body",
        f"{shown(outline.length_mm, 'mm')} long, Ø{number(outline.diameter_mm)}; the whole tool "
        f"{number(total_mass_g(tool), 0)} g",
    )
    yield "bore and plunger", f"{_fit(tool.bore_limits)} and {_fit(tool.plunger_limits)}"
    yield "travel", _each(tool, lambda o: shown(o.travel_mm, "mm"))
    yield (
        "tip out of the nose",
        _each(
            tool,
            lambda o: (
                f"{number(o.projection_extended_mm)} mm forward, "
                f"{number(o.projection_compressed_mm)} mm pushed home"
            ),
        ),
    )
    yield "preload to full force", _each(tool, _force)


def follower_rows(tool: Tool) -> Iterator[tuple[str, str]]:
    """Yield which taps a follower serves, and how true."""
    for place, text in enumerate(_taps(tool)):
        yield "" if place else "taps", text
    yield "not served", ", ".join(_not_served(tool))
    yield "lean of the threads", _lean(tool)


def _mount(tool: Tool) -> str:
    shank = shank_of(tool.parameters.mount)
    if shank.draw_bar is not None:
        return f"{shank.name}, drawn home by a draw-bar {shank.draw_bar.thread}"
    if shank.socket is not None:
        return f"on an arbor with {shank.socket.name}"
    if shank.tang is not None:
        return f"{shank.name}, driven out by a drift"
    if shank.gripped is None:
        return f"{shank.name}, pushed out by the screw of the barrel"
    return f"{shank.name} Ø{number(shank.gripped.diameter_mm)} x {number(shank.gripped.length_mm)}"


def _fit(limits: Limits) -> str:
    return f"Ø{number(limits.nominal_mm)} {limits.text}"


def _each(tool: Tool, told: Callable[[Orientation], str]) -> str:
    """Return what holds for each end of the plunger, once where it is the same for all."""
    found = {o.name: told(o) for o in tool.orientations}
    if len(set(found.values())) == 1:
        return next(iter(found.values()))
    return "; ".join(f"{name} {text}" for name, text in found.items())


def _force(o: Orientation) -> str:
    if not isfinite(o.full_force_N):
        return "the springs have no room"
    return f"{number(o.preload_N, 1)} to {number(o.full_force_N, 1)} N"


def _taps(tool: Tool) -> tuple[str, ...]:
    """Return the taps that are served, those alike together, with what that takes."""
    alike: dict[str, list[str]] = {}
    for window in windows(tool):
        alike.setdefault(window.verdict, []).append(window.name)
    return tuple(f"{', '.join(names)}: {verdict}" for verdict, names in alike.items()) or ("none",)


def _not_served(tool: Tool) -> list[str]:
    served = {window.name for window in windows(tool)}
    return [name for name in dict.fromkeys(tap_names(tool)) if name not in served]


def _lean(tool: Tool) -> str:
    """Return the greatest 95 % lean of all taps, beside what is asked for."""
    known = [lean for lean in leans(tool) if lean.known]
    if not known:
        return "cannot be worked out"
    most = max(known, key=lambda lean: lean.most_deg())
    accept = tool.parameters.alignment.accept
    return (
        f"95 % lean less than {number(most.most_deg(), 2)}°, all less than "
        f"{number(most.lean_deg.worst, 2)}° ({most.label}, the worst); asked for: {accept}, "
        f"{number(CLASSES_DEG[accept], 2)}°"
    )


SERVES: Final[dict[Purpose, Callable[[Tool], Iterator[tuple[str, str]]]]] = {
    "tap follower": follower_rows,
    "pick-up centre": picking_card.rows,
    "support centre": supporting_card.rows,
}
"""What a tool does for its purpose, and how well, in pairs of what and how much."""
