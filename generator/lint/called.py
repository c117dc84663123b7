"""Call-outs as equations: which surfaces, holes and threads of a part each is about."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from generator.lint.equations import Equation
from generator.lint.features import Hole
from generator.lint.grammar import Statement, read_row
from generator.lint.page import Leader, Page
from generator.lint.sheet import Point
from generator.lint.sizes import Cut, Sizes
from generator.lint.surfaces import AIM_MM, HANDLERS, Told, slack_of
from generator.lint.views import MainView

OF_HOLES: Final = ("thread", "cross drill", "drill", "diameter", "ledge")
"""The rows that are about a hole across the axis where the leader rests on one."""


@dataclass(frozen=True, slots=True)
class Said:
    """What one number of a call-out says.

    Attributes:
        equation: The equation; None where the row is not understood or about nothing drawn.
        row: The row.
        at: Where the leader points.
        number: The number written.
        drawn: The number drawn.
        slack: How far apart they may be.
    """

    equation: Equation | None
    row: str
    at: Point
    number: float = 0.0
    drawn: float = 0.0
    slack: float = 0.0


def called(page: Page, sizes: Sizes, unit_mm: float) -> Iterator[Said]:
    """Yield what the call-outs of a part say, number by number.

    Args:
        page: The sheet.
        sizes: The sizes of the part.
        unit_mm: Length of the unit that the sheet is dimensioned in.
    """
    for leader in page.leaders:
        view = next((v for v in (sizes.view, *sizes.details) if v.holds(leader.tip, AIM_MM)), None)
        if view is None:
            continue
        z, r = view.of_part(leader.tip)
        for row in leader.rows:
            statement = read_row(row.text, unit_mm)
            if statement is None:
                yield Said(None, row.text, leader.tip)
            elif statement.kind != "finish":
                yield from _said(sizes, view, leader, statement, (z, abs(r)))


def _said(
    sizes: Sizes, view: MainView, leader: Leader, statement: Statement, point: Point
) -> Iterator[Said]:
    told = list(_told(sizes, view, statement, point))
    if not told:
        yield Said(None, statement.text, leader.tip)
    for each in told:
        equation = Equation((each.form,), statement.text, leader.tip, statement.is_reference)
        yield Said(
            equation,
            statement.text,
            leader.tip,
            each.number,
            each.drawn,
            each.slack,
        )


def _told(sizes: Sizes, view: MainView, statement: Statement, point: Point) -> Iterator[Told]:
    """Yield what a row says; nothing where nothing is drawn that it could be about."""
    hole = _hole_at(sizes, view, point)
    if hole is not None and statement.kind in OF_HOLES:
        yield from _of_hole(hole, statement)
        return
    handler = HANDLERS.get(statement.kind)
    if handler is not None:
        yield from handler(sizes, view, statement, point)


def _hole_at(sizes: Sizes, view: MainView, point: Point) -> Cut | None:
    """Return the hole across the axis that a tip rests on."""
    near = AIM_MM / view.scale
    for cut in sizes.cuts:
        hole = cut.feature
        if (
            isinstance(hole, Hole)
            and abs(point[0] - hole.z) < 1.6 * hole.half + near / 4
            and point[1] < hole.r + near
        ):
            return cut
    return None


def _of_hole(cut: Cut, statement: Statement) -> Iterator[Told]:
    hole, of = cut.feature, cut.unknowns
    assert isinstance(hole, Hole)
    if statement.kind == "thread":
        if "thread" in of:
            yield Told({of["thread"]: 1.0}, 0.0, 0.0, 0.0)
        return
    slack = slack_of(statement, 0)
    if statement.kind == "ledge":
        if "ledge" in of:
            yield Told({of["diameter"]: 1.0}, statement.numbers[0], 2 * hole.half, slack)
            thick = slack_of(statement, 1)
            yield Told({of["ledge"]: 1.0}, statement.numbers[1], hole.ledge, thick)
        return
    if hole.narrow:
        yield Told({of["narrow"]: 1.0}, statement.numbers[0], 2 * hole.narrow, slack)
        yield Told({of["depth"]: 1.0}, 0.0, 0.0, 0.0)
        return
    yield Told({of["diameter"]: 1.0}, statement.numbers[0], 2 * hole.half, slack)
    if statement.kind != "diameter":
        yield Told({of["depth"]: 1.0}, 0.0, 0.0, 0.0)
