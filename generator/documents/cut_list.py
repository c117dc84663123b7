"""How the bars are cut: pieces of one bar in a row, where to saw, and what to buy."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from generator.documents.bill import off
from generator.documents.table import Column, Section, Table
from generator.making.stock import FACING_MM, KERF_MM, SKIN_MM, STUB_MM, finished_bar, stock_mm
from generator.model.tool import Tool
from generator.units import number

DASH: Final = "\N{EN DASH}"


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of a bar.

    Attributes:
        name: The part.
        finished_mm: Its finished length.
        mark_mm: Where the saw cut begins, from the free end of the bar.
    """

    name: str
    finished_mm: float
    mark_mm: float

    @property
    def sawn_mm(self) -> float:
        """The length as sawn: both ends are faced."""
        return self.finished_mm + FACING_MM


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar and all that is cut from it.

    Attributes:
        material: Its material.
        diameter_mm: Its diameter.
        finished: Whether its outside stays as it is bought.
        pieces: What is cut from it, from the free end, the longest first.
    """

    material: str
    diameter_mm: float
    finished: bool
    pieces: tuple[Piece, ...]

    @property
    def length_mm(self) -> float:
        """The bar to buy: every piece, a saw cut behind each, and one stub for the chuck."""
        return self.pieces[-1].mark_mm + KERF_MM + STUB_MM


def bars(tool: Tool) -> tuple[Bar, ...]:
    """Return the bars; parts of one material and diameter share one, and so one stub."""
    lengths: dict[tuple[str, float, bool], list[tuple[str, float]]] = {}
    for part in tool.made_parts:
        key = (part.material, stock_mm(part), part is tool.plunger and finished_bar(part))
        wanted = [(part.title, part.outline.length_mm)] * off(tool, part)
        lengths.setdefault(key, []).extend(wanted)
    return tuple(
        Bar(*key, tuple(_in_a_row(sorted(wanted, key=lambda each: -each[1]))))
        for key, wanted in lengths.items()
    )


def _in_a_row(wanted: list[tuple[str, float]]) -> Iterator[Piece]:
    """Yield pieces one behind the other."""
    start_mm = 0.0
    for name, finished_mm in wanted:
        piece = Piece(name, finished_mm, start_mm + finished_mm + FACING_MM)
        yield piece
        start_mm = piece.mark_mm + KERF_MM


def cut_list_section(tool: Tool) -> Section:
    """Return what to buy and how it is cut, for readers."""
    found = bars(tool)
    buy = Table(
        "Bars to buy",
        (
            Column("material"),
            Column("bar"),
            Column("length, mm", "number"),
            Column("for"),
        ),
        tuple((bar.material, _bar(bar), number(bar.length_mm), _parts(bar)) for bar in found),
    )
    cut = Table(
        "How each bar is cut",
        (
            Column("bar"),
            Column("piece"),
            Column("finished, mm", "number"),
            Column("sawn, mm", "number"),
            Column("saw at, mm", "number"),
        ),
        tuple(row for bar in found for row in _rows(bar)),
    )
    return Section("Cut list", (_line(),), (buy, cut))


def _line() -> str:
    return (
        f"Sawn: finished length and {number(FACING_MM / 2)} mm of facing at each end. Saw at: from "
        f"the bar's free end to the near side of the cut, a cut being {number(KERF_MM)} mm wide. "
        f"A stub of {number(STUB_MM)} mm stays in the chuck. Bar: the next size at least "
        f"{number(SKIN_MM)} mm over the largest diameter; the plunger keeps the outside of its "
        "finished bar. Common practice, no source."
    )


def _bar(bar: Bar) -> str:
    return f"Ø{number(bar.diameter_mm)}{' finished' if bar.finished else ''}"


def _parts(bar: Bar) -> str:
    names = [piece.name for piece in bar.pieces]
    told = {name: names.count(name) for name in names}
    return ", ".join(f"{n} x {name}" if n > 1 else name for name, n in told.items())


def _rows(bar: Bar) -> Iterator[tuple[str, ...]]:
    named = f"{bar.material}, {_bar(bar)}"
    for piece in bar.pieces:
        yield (
            named,
            piece.name,
            number(piece.finished_mm),
            number(piece.sawn_mm),
            number(piece.mark_mm),
        )
        named = ""
    yield "", "stub in the chuck", DASH, number(STUB_MM), DASH
