"""What is measured on the nose bush: its bore, its spigot, its flange and its thread."""

from __future__ import annotations

from collections.abc import Iterator

from generator.making.line import Line, general, truth
from generator.making.sizes import Size
from generator.model.bush import BUSH_RUNOUT_MM
from generator.model.tool import Tool
from generator.standards.rows import Thread
from generator.units import number
from generator.use.bands import Span


def bush_lines(tool: Tool, known: dict[str, Size]) -> Iterator[Line]:
    """Yield what is measured on the nose bush; nothing where there is none."""
    p, bush = tool.parameters, tool.parameters.bush
    if bush is None:
        return
    bore = known["bore_mm"]
    yield Line.of(
        bore,
        f"pin {number(bore.limits.least, 3)} goes right through, pin "
        f"{number(bore.limits.greatest, 3)} goes in nowhere; else the finished stem itself",
    )
    yield Line.of(known["spigot_mm"], "micrometer, at both ends and across")
    yield Line.of(
        known["guide_length_mm"], "depth gauge or calipers, seat of the flange to the rear end"
    )
    yield Line.of(known["flange_mm"], "micrometer over flange and seat, at three places")
    yield Line("length of the spigot", general(p, bush.register_length_mm), "depth gauge")
    yield Line("across the flats", general(p, bush.flats_mm), "calipers; the spanner fits")
    yield Line(
        "run-out of the bore to the spigot",
        Span(0.0, 0.0, BUSH_RUNOUT_MM),
        "on a close pin between centres, or the pin in a collet: indicator on the spigot",
    )
    row = Thread.find(bush.thread)
    yield truth("thread", f"{row.name}: goes home in the body by hand, with play to feel")
    yield truth("seat of the flange", "blued against the nose face and turned: blue all round")
