"""Designs side by side: what differs in their files, what they do, and what the checks say."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass
from itertools import islice
from math import ceil, isfinite
from typing import Any, Final

from generator.checks.finding import Finding, Verdict
from generator.documents.bench import PAPERS
from generator.documents.bill import bill, total_mass_g
from generator.documents.cover import SERVES
from generator.documents.document import Chapter, Document
from generator.documents.drawing import Figure
from generator.documents.plot import Axes, Sign, axis, figure, key
from generator.documents.table import Column, Section, Table
from generator.documents.tool_sheets import parameters_hash
from generator.model.shank import shank_of
from generator.model.tool import Tool
from generator.units import number, shown
from generator.use.alignment import leans
from generator.use.picking import picks
from generator.use.seats import tap_names
from generator.use.settings import cards
from generator.use.supporting import holds
from generator.use.windows import windows
from generator.version import VERSION

DASH: Final = "\N{EN DASH}"
STEP_MM: Final = 2.0
BETTER: Final = " *"
LEFT_OUT: Final = ("title", "name")
STYLES: Final = ("outline", "thin", "hidden", "centre", "scale", "phantom")


@dataclass(frozen=True, slots=True)
class Compared:
    """One of the designs that are compared.

    Attributes:
        name: What its column is called.
        tool: The tool.
        findings: What the checks find.
    """

    name: str
    tool: Tool
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Result:
    """Something that a tool does.

    Attributes:
        name: What it is, with its unit.
        value: Returns it; NaN where there is none.
        most: Whether more is better; None where neither is.
    """

    name: str
    value: Callable[[Tool], float]
    most: bool | None = None


def _of(which: int, name: str) -> Callable[[Tool], float]:
    """Return what an orientation has, by its place; NaN for one that is not there."""

    def value(tool: Tool) -> float:
        there = which < len(tool.orientations)
        return float(getattr(tool.orientations[which], name)) if there else float("nan")

    return value


def _left_mm(tool: Tool) -> float:
    return max((each.left_mm.most for each in picks(tool)), default=float("nan"))


def _held(tool: Tool) -> float:
    """Return how many times the side load a support centre holds."""
    return min(
        (each.held_N / each.load_N for each in holds(tool) if each.load_N > 0),
        default=float("nan"),
    )


def _served(tool: Tool) -> float:
    taps = tool.parameters.taps
    return float(sum(w.served for w in windows(tool))) if taps else float("nan")


def _lean_deg(tool: Tool) -> float:
    return max((each.most_deg() for each in leans(tool)), default=float("nan"))


def _before_spindle_mm(tool: Tool) -> float:
    p = tool.parameters
    out_mm = max(o.projection_compressed_mm for o in tool.orientations)
    return shank_of(p.mount).out_mm + p.body.nose_length_mm + out_mm


def _settings(tool: Tool) -> float:
    default = 0 if tool.parameters.taps else float("nan")
    return float(max((len(card.settings_mm) for card in cards(tool)), default=default))


RESULTS: Final = (
    Result("taps served", _served, most=True),
    Result("travel, mm", _of(0, "travel_mm"), most=True),
    Result("preload, N", _of(0, "preload_N")),
    Result("preload reversed, N", _of(1, "preload_N")),
    Result("force pushed home, N", _of(0, "full_force_N")),
    Result("force pushed home, reversed, N", _of(1, "full_force_N")),
    Result("rate, N/mm", lambda t: t.rate_N_per_mm, most=False),
    Result("stands out, forward, mm", _of(0, "projection_extended_mm")),
    Result("stands out, pushed home, mm", _of(0, "projection_compressed_mm")),
    Result("length before the spindle, mm", _before_spindle_mm, most=False),
    Result("length of the body, mm", lambda t: t.body.outline.length_mm, most=False),
    Result("guide over diameter", _of(0, "guide_ratio"), most=True),
    Result("settings for the deepest hole", _settings, most=False),
    Result("lean of the worst thread, 95 %, deg", _lean_deg, most=False),
    Result("place found within, 95 %, mm", _left_mm, most=False),
    Result("side load held over what there is", _held, most=True),
    Result("mass, g", total_mass_g, most=False),
    Result(
        "parts to buy", lambda t: float(sum(i.quantity for i in bill(t) if not i.made)), most=False
    ),
)


def compared(tools: Sequence[tuple[str, Tool, tuple[Finding, ...]]]) -> tuple[Compared, ...]:
    """Return the designs, each named by its pack, or by its file where two packs share a name."""
    names = [tool.name for _, tool, _ in tools]
    return tuple(
        Compared(tool.name if names.count(tool.name) == 1 else file, tool, findings)
        for file, tool, findings in tools
    )


def compare_sections(designs: Sequence[Compared]) -> tuple[Section, ...]:
    """Return the comparison in sections."""
    return (
        _parameters(designs),
        _results(designs),
        _verdicts(designs),
        _forces(designs),
        _summary(designs),
    )


def _columns(first: str, designs: Sequence[Compared]) -> tuple[Column, ...]:
    return (Column(first), *(Column(one.name, "number") for one in designs))


def flat(described: Any, prefix: str = "") -> Iterator[tuple[str, str]]:
    """Yield every key of some parameters, dotted as in the messages, and its value as text."""
    for field in fields(described):
        value, name = getattr(described, field.name), f"{prefix}{field.name}"
        if is_dataclass(value):
            yield from flat(value, f"{name}.")
        elif isinstance(value, tuple) and value and is_dataclass(value[0]):
            for place, each in enumerate(value, 1):
                yield from flat(each, f"{name}[{place}].")
        elif isinstance(value, float):
            yield name, number(value, 4) if isfinite(value) else ""
        elif value not in (None, "", (), {}):
            yield name, str(value) if not isinstance(value, tuple) else ", ".join(map(str, value))


def _told(tool: Tool) -> dict[str, str]:
    """Return every key and its value; taps by their names, since each file lists its own."""
    p = tool.parameters
    told = {name: text for name, text in flat(p) if not name.startswith("taps[")}
    for name, tap in zip(tap_names(tool), p.taps, strict=True):
        told |= {f"taps[{name}].{key}": text for key, text in flat(tap)}
    return told


def differing(designs: Sequence[Compared]) -> tuple[tuple[str, ...], ...]:
    """Return the keys whose values differ, each with the value of every design.

    A value that is derived stands in brackets. Of taps those are told that all designs follow.
    """
    told = [_told(one.tool) for one in designs]
    keys = dict.fromkeys(name for each in told for name in each)
    rows = []
    for name in keys:
        values = [each.get(name, "") for each in told]
        lacks = name.startswith("taps[") and any(name not in each for each in told)
        if name in LEFT_OUT or lacks or len(set(values)) == 1:
            continue
        derived = [
            f"({value})" if value and name in one.tool.derived else value or DASH
            for value, one in zip(values, designs, strict=True)
        ]
        rows.append((name, *derived))
    return tuple(rows)


def _parameters(designs: Sequence[Compared]) -> Section:
    rows = differing(designs)
    told = "Derived values stand in brackets." if rows else "No parameter differs."
    return Section("Parameters that differ", (told,), (Table("", _columns("key", designs), rows),))


def _results(designs: Sequence[Compared]) -> Section:
    rows = []
    for result in RESULTS:
        values = [result.value(one.tool) for one in designs]
        if any(value == value for value in values):
            rows.append((result.name, *_marked(values, result.most)))
    return Section(
        "Results",
        ("The better of each is marked with a star where one is.",),
        (
            Table("", _columns("result", designs), tuple(rows)),
            Table(
                _serves_title(designs),
                (Column("design"), Column("taps" if _all_follow(designs) else "serves")),
                tuple((one.name, _serves(one)) for one in designs),
            ),
            Table(
                "To buy",
                (Column("design"), Column("parts")),
                tuple((one.name, _buys(one)) for one in designs),
            ),
        ),
    )


def _all_follow(designs: Sequence[Compared]) -> bool:
    return all(one.tool.parameters.taps for one in designs)


def _serves_title(designs: Sequence[Compared]) -> str:
    return "Taps served over the whole stroke" if _all_follow(designs) else "What each is for"


def _serves(one: Compared) -> str:
    """Return the taps that a follower serves; of any other tool what it finds or steadies."""
    purpose = one.tool.parameters.purpose
    if purpose != "tap follower":
        return "; ".join(f"{what} {value}" for what, value in islice(SERVES[purpose](one.tool), 1))
    return ", ".join(window.name for window in windows(one.tool) if window.served)


def _buys(one: Compared) -> str:
    bought = [item for item in bill(one.tool) if not item.made]
    return "; ".join(f"{i.quantity} {i.name.lower()}: {i.designation}" for i in bought)


def _marked(values: Sequence[float], most: bool | None) -> Iterator[str]:
    """Yield values as text, the best with a star where they differ."""
    texts = [number(value, 3) if isfinite(value) else DASH for value in values]
    there = [value for value in values if isfinite(value)]
    best = None
    if most is not None and len(set(texts)) > 1 and there:
        best = max(there) if most else min(there)
    for text in texts:
        yield text + BETTER * (best is not None and text == number(best, 3))


def _found(one: Compared) -> dict[str, Finding]:
    return {finding.check: finding for finding in one.findings}


def _verdicts(designs: Sequence[Compared]) -> Section:
    """Return the checks whose verdicts or values differ, each with its margin."""
    found = [_found(one) for one in designs]
    names = dict.fromkeys(name for each in found for name in each)
    rows, same = [], 0
    for name in names:
        cells = [_verdict(each.get(name)) for each in found]
        if len(set(cells)) == 1:
            same += 1
        else:
            rows.append((name, *cells))
    told = f"{same} checks say the same of all. Behind each value stands what is left to its limit."
    return Section(
        "Verdicts and margins", (told,), (Table("", _columns("check", designs), tuple(rows)),)
    )


def _verdict(finding: Finding | None) -> str:
    """Return value, margin and verdict of a finding."""
    if finding is None:
        return DASH
    level = finding.limit.passes
    text = finding.value_text
    if isfinite(level) and isfinite(finding.value) and finding.limit.unit != "flag":
        sign = 1 if finding.limit.relation == "at least" else -1
        text += f" ({sign * (finding.value - level):+.3g})"
    return text if finding.verdict is Verdict.PASS else f"{text} {finding.verdict}"


def _forces(designs: Sequence[Compared]) -> Section:
    """Return the force of each design, pushed in by steps."""
    longest_mm = max(o.travel_mm for one in designs for o in one.tool.orientations)
    steps = [STEP_MM * n for n in range(ceil(longest_mm / STEP_MM - 1e-9) + 1)]
    columns = [
        (f"{one.name}, {o.name}" if len(one.tool.orientations) > 1 else one.name, o)
        for one in designs
        for o in one.tool.orientations
    ]
    rows = tuple(
        (
            number(step),
            *(
                shown(o.force_N(step), "N").removesuffix(" N") if step <= o.travel_mm else DASH
                for _, o in columns
            ),
        )
        for step in steps
    )
    heads = (Column("pushed in, mm", "number"), *(Column(name, "number") for name, _ in columns))
    return Section("Force over the stroke, N", (), (Table("", heads, rows),))


def _summary(designs: Sequence[Compared]) -> Section:
    """Return in words what each design is best and worst in."""
    lines = []
    for one in designs:
        best, worst = [], []
        for result in RESULTS:
            values = {each.name: result.value(each.tool) for each in designs}
            there = {number(value, 3) for value in values.values() if isfinite(value)}
            own = values[one.name]
            if result.most is None or len(there) < 2 or not isfinite(own):
                continue
            finite = [value for value in values.values() if isfinite(value)]
            top, bottom = (max(finite), min(finite)) if result.most else (min(finite), max(finite))
            name = result.name.split(",")[0]
            if number(own, 3) == number(top, 3):
                best.append(name)
            elif number(own, 3) == number(bottom, 3):
                worst.append(name)
        warned = sum(f.verdict is Verdict.WARN for f in one.findings)
        failed = sum(f.verdict is Verdict.FAIL for f in one.findings)
        told = f"{one.name}: {warned} warnings, {failed} failures"
        told += f"; best in {', '.join(best)}" if best else ""
        told += f"; last in {', '.join(worst)}" if worst else ""
        lines.append(f"{told}.")
    return Section("In short", tuple(lines), ())


def compare_data(designs: Sequence[Compared]) -> dict[str, Any]:
    """Return the comparison as plain data; None where there is no value."""
    return {
        "designs": [one.name for one in designs],
        "parameters": {name: list(values) for name, *values in differing(designs)},
        "results": {
            result.name: [_plain(result.value(one.tool)) for one in designs] for result in RESULTS
        },
        "checks": {
            name: [
                None
                if (f := each.get(name)) is None
                else {"verdict": str(f.verdict), "value": _plain(f.value)}
                for each in map(_found, designs)
            ]
            for name in dict.fromkeys(f.check for one in designs for f in one.findings)
        },
    }


def _plain(value: float) -> float | None:
    return round(value, 9) if isfinite(value) else None


def force_comparison(designs: Sequence[Compared]) -> Figure:
    """Return the force of each design over its stroke, first end out, in one plot."""
    curves = [(one.name, one.tool.orientations[0]) for one in designs]
    most_mm = max(o.travel_mm for _, o in curves)
    most_N = max((o.full_force_N for _, o in curves if isfinite(o.full_force_N)), default=1.0)
    axes = Axes(
        x=axis("pushed in, mm", 0.0, most_mm, room_mm=140.0),
        y=axis("force, N", 0.0, most_N),
        width_mm=140.0,
        height_mm=80.0,
    )
    marks = list(axes.frame())
    for (_, o), style in zip(curves, STYLES, strict=False):
        corners = [o.room_extended_mm - length_mm for length_mm, _ in o.curve.points]
        inside = sorted(mm for mm in corners if 0 < mm < o.travel_mm)
        points = [(mm, o.force_N(mm)) for mm in (0.0, *inside, o.travel_mm)]
        marks += axes.line([point for point in points if isfinite(point[1])], style)
    named = [(name, style) for (name, _), style in zip(curves, STYLES, strict=False)]
    entries: list[tuple[Sign, str, str]] = [("line", style, name) for name, style in named]
    marks += key(entries, left_mm=0.0, bottom_mm=86.0, room_mm=140.0)
    return figure(
        "forces",
        "Force over the stroke",
        "The force of each design as its plunger is pushed in, the end at work as drawn.",
        marks,
        axes.scale_lines(),
    )


def compare_document(designs: Sequence[Compared]) -> Document:
    """Return the comparison as a document of its own."""
    first = designs[0].tool
    every = [finding for one in designs for finding in one.findings]
    counts = {v: sum(f.verdict is v for f in every) for v in Verdict}
    sections = compare_sections(designs)
    pictured = Section("Force of each", (), (), figures=(force_comparison(designs),))
    return Document(
        title=" against ".join(one.name for one in designs),
        name="comparison",
        revision=first.parameters.making.revision,
        parameters_hash=parameters_hash(first),
        version=VERSION,
        verdict=max((f.verdict for f in every), key=list(Verdict).index),
        summary=f"{counts[Verdict.WARN]} warn, {counts[Verdict.FAIL]} fail",
        banner=(),
        paper=PAPERS[first.parameters.making.sheets],
        chapters=(
            Chapter("In short", (sections[-1], pictured)),
            Chapter("Side by side", sections[:-1], fine=True),
        ),
    )
