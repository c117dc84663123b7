"""How far each number may move: a table, a plot of the margins, and both as a document."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import isfinite
from typing import Any, Final

from generator.checks.finding import Finding, Verdict
from generator.choice.leeway import End, Leeway
from generator.documents.bench import PAPERS
from generator.documents.document import Chapter, Document
from generator.documents.drawing import Figure, Line, Mark, Text
from generator.documents.plot import HEIGHT_MM, Axes, Axis, dot, figure, key
from generator.documents.table import Column, Section, Table
from generator.documents.tool_sheets import parameters_hash
from generator.model.tool import Tool
from generator.units import number
from generator.version import VERSION

DASH: Final = "\N{EN DASH}"
ROW_MM: Final = 4.6
NAMES_MM: Final = 62.0
BARS_MM: Final = 100.0
MOST_ROWS: Final = 34
LEAST_PERCENT, MOST_PERCENT = -50.0, 100.0


def leeway_sections(found: Sequence[Leeway]) -> tuple[Section, ...]:
    """Return the numbers with their ends, the tightest first, and those that no rule minds."""
    ordered = sorted(found, key=lambda one: one.tightest)
    bound = [one for one in ordered if isfinite(one.tightest)]
    free = [one.key for one in ordered if not isfinite(one.tightest)]
    lines = (
        "Each number is moved by itself down to half and up to twice its value; what was derived "
        "from it follows. Those with the least leeway come first.",
    )
    told = (f"No rule minds, within that: {', '.join(free)}.",) if free else ()
    return (
        Section("Leeway", lines, (_table(bound),)),
        Section("What a number moves", (), (_moves(bound),)),
        *((Section("Free", told),) if told else ()),
    )


def _table(found: Sequence[Leeway]) -> Table:
    columns = (
        Column("number"),
        Column("is", "number"),
        Column("down to", "number"),
        Column("below that"),
        Column("up to", "number"),
        Column("above that"),
    )
    return Table("", columns, tuple(_row(one) for one in found))


def _row(one: Leeway) -> tuple[str, ...]:
    value = _value(one.value)
    return (
        one.key,
        f"({value})" if one.derived else value,
        *_end(one.warns[0], one.fails[0]),
        *_end(one.warns[1], one.fails[1]),
    )


def _value(value: float) -> str:
    return number(value, 3)


def _end(warns: End, fails: End) -> tuple[str, str]:
    """Return where a rule breaks, and which; where it fails later, that too."""
    if not warns.rule:
        return DASH, ""
    if fails == warns:
        return _value(warns.value), f"{warns.rule} fails"
    later = f"; from {_value(fails.value)} {fails.rule} fails" if fails.rule else ""
    return _value(warns.value), f"{warns.rule}{later}"


def _moves(found: Sequence[Leeway]) -> Table:
    names = dict.fromkeys(name for one in found for name in one.moves)
    columns = (
        Column("number"),
        Column("moved by", "number"),
        *(Column(name, "number") for name in names),
    )
    rows = tuple(
        (
            one.key,
            f"+{number(one.unit, 4)}",
            *(f"{one.moves[name]:+.3g}" if name in one.moves else DASH for name in names),
        )
        for one in found
        if one.moves
    )
    return Table("", columns, rows)


def leeway_data(found: Sequence[Leeway]) -> list[dict[str, Any]]:
    """Return the leeways as plain data; None where no rule breaks."""

    def end(one: End) -> dict[str, Any] | None:
        return {"value": one.value, "rule": one.rule} if one.rule else None

    return [
        {
            "key": one.key,
            "value": one.value,
            "derived": one.derived,
            "step": one.step,
            "warns": {"down": end(one.warns[0]), "up": end(one.warns[1])},
            "fails": {"down": end(one.fails[0]), "up": end(one.fails[1])},
            "moved_by": one.unit,
            "moves": {name: round(more, 9) for name, more in one.moves.items()},
        }
        for one in found
    ]


def leeway_figures(found: Sequence[Leeway]) -> tuple[Figure, ...]:
    """Return the margins as bars, the tightest on top, so many on a page as have room."""
    bound = [one for one in sorted(found, key=lambda one: one.tightest) if isfinite(one.tightest)]
    pages = [bound[n : n + MOST_ROWS] for n in range(0, len(bound), MOST_ROWS)]
    return tuple(
        _figure(page, n, f"{n} of {len(pages)}" if len(pages) > 1 else "")
        for n, page in enumerate(pages, 1)
    )


def _figure(found: Sequence[Leeway], place: int, told: str) -> Figure:
    axes = Axes(
        x=Axis("change, %", LEAST_PERCENT, MOST_PERCENT, 25.0),
        y=Axis("", 0.0, float(len(found)), 1.0),
        width_mm=BARS_MM,
        height_mm=ROW_MM * len(found),
        left_mm=NAMES_MM,
    )
    marks: list[Mark] = list(axes.frame(left=False))
    for row, one in enumerate(found):
        marks += _bar(axes, one, len(found) - row - 0.5)
    marks.append(Line(axes.at(0.0, 0.0), axes.at(0.0, len(found)), "outline"))
    marks += key(
        [("tone", "middle", "no check gets worse"), ("tone", "warm", "warns, but does not fail")],
        left_mm=NAMES_MM,
        bottom_mm=axes.top_mm + 2.0,
        room_mm=BARS_MM,
    )
    return figure(
        f"leeway-{place}",
        f"Margins {told}".rstrip(),
        "How far each number may move by itself, in parts of its value, before a check gets worse; "
        "a mark at the edge stands for more than that.",
        marks,
        axes.scale_lines(across=False),
    )


def _bar(axes: Axes, one: Leeway, y: float) -> Iterator[Mark]:
    """Yield the bar of one number: to where it warns, and on to where it fails."""
    low, high = (_percent(one, end, side) for side, end in enumerate(one.warns))
    low_fail, high_fail = (_percent(one, end, side) for side, end in enumerate(one.fails))
    if low_fail < low:
        yield axes.bar((low_fail, low), (y - 0.3, y + 0.3), "warm")
    if high_fail > high:
        yield axes.bar((high, high_fail), (y - 0.3, y + 0.3), "warm")
    if high > low:
        yield axes.bar((low, high), (y - 0.3, y + 0.3), "middle")
    for percent in (low, high):
        if LEAST_PERCENT < percent < MOST_PERCENT:
            yield dot(axes.at(percent, y), 0.9)
    base = axes.y_mm(y) - HEIGHT_MM / 2
    yield Text((NAMES_MM - 2.0, base), one.key, HEIGHT_MM, "right")


def _percent(one: Leeway, end: End, side: int) -> float:
    """Return an end in per cent of the value; the edge of the plot for none."""
    if not end.rule:
        return (LEAST_PERCENT, MOST_PERCENT)[side]
    return 100 * (end.value - one.value) / one.value


def leeway_document(tool: Tool, findings: tuple[Finding, ...], found: Sequence[Leeway]) -> Document:
    """Return the leeways as a document of its own."""
    p = tool.parameters
    counts = {verdict: sum(f.verdict is verdict for f in findings) for verdict in Verdict}
    figures = tuple(Section(one.title, (), (), figures=(one,)) for one in leeway_figures(found))
    return Document(
        title=f"{p.title}: leeway",
        name=tool.name,
        revision=p.making.revision,
        parameters_hash=parameters_hash(tool),
        version=VERSION,
        verdict=max((f.verdict for f in findings), key=list(Verdict).index),
        summary=", ".join(f"{count} {verdict}" for verdict, count in counts.items()),
        banner=(),
        paper=PAPERS[p.making.sheets],
        chapters=(
            Chapter("Margins", figures),
            Chapter("Numbers and rules", leeway_sections(found), fine=True),
        ),
    )
