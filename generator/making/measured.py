"""What measured sizes make of a tool, and what to do with the cuts that remain."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from typing import Final, Literal

from generator.checks.finding import Finding
from generator.inputs.measured import Measured, MeasuredInner
from generator.inputs.parameters import Parameters
from generator.inputs.tables import Bore, Plunger
from generator.making.as_measured import Made, as_measured
from generator.making.cuts import cuts
from generator.making.inspection import FORCE_SHARE, grams
from generator.making.remedy import Search, at_once, goal, preload_restored, remedy
from generator.making.sizes import (
    BODY,
    BUSH,
    BUTTON,
    DISC,
    PIN,
    PLUG,
    PLUNGER,
    SCREW,
    SEPARATOR,
    SPRINGS,
    Size,
    keys_of,
    sizes,
    spring_sizes,
    value_at,
)
from generator.making.variants import Variant, variants
from generator.model.shank import shank_of
from generator.model.tool import Tool, design, register_limits
from generator.units import number, shown
from generator.use.bands import Span

Judged = Literal["in", "rework", "over: keep with these changes", "over: keep", "scrap"]

COSTS: Final = (SEPARATOR, BUTTON, DISC, SCREW, PIN, PLUG, SPRINGS, BUSH, PLUNGER, BODY)
"""What is made or bought anew, the cheapest first; engineering judgement."""

TRIES: Final = 500
FEW_TRIES: Final = 150
LEAST_TRIES: Final = 20
"""Tools that a search for one remedy may look at in all; fewer for parts made anew; and what is
always left for one more way."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A measured value.

    Attributes:
        size: What was measured, with its limits.
        value: What it measures.
        verdict: What becomes of it.
        unit: Its unit.
    """

    size: Size
    value: float
    verdict: Judged
    unit: str = "mm"


@dataclass(frozen=True, slots=True)
class Change:
    """A number to be changed before it is cut, set or bought.

    Attributes:
        path: The parameter.
        part: The part that it is on.
        what: What it is called.
        was_mm: What it is drawn as.
        becomes_mm: What it becomes.
        asked_mm: What the parameter then says. It differs for the plug of a body that is not of its
            length behind the nose: becomes_mm counts from the real rear end.
        limits: What it may be, where that is narrower than the sheet says; None elsewhere.
    """

    path: str
    part: str
    what: str
    was_mm: float
    becomes_mm: float
    asked_mm: float
    limits: Span | None = None


@dataclass(frozen=True, slots=True)
class Rework:
    """A size that is still to be cut to its limits.

    Attributes:
        size: The size.
        value_mm: What it measures.
        to_mm: What it is to be cut to.
        note: How, where it is not plain.
    """

    size: Size
    value_mm: float
    to_mm: float
    note: str = ""


@dataclass(frozen=True, slots=True)
class Actual:
    """What measured sizes make of a tool.

    Attributes:
        drawn: The tool as drawn.
        so_far: The tool with the measured sizes, and nothing else changed.
        after: The tool when what is said here is done.
        entries: Every measured value with its verdict.
        reworks: Sizes with metal still on.
        changes: Numbers to change before they are cut.
        notes: What else is to be done or known.
        failing: What fails on the tool so far and does not on the drawn one.
        left: What still is worse than on the drawn tool after all changes.
        scrap: Parts that no remaining cut can save, the cheapest way out.
        rear_short_mm: How much less than in its parameters the plug's depth is from the real rear.
    """

    drawn: Tool
    so_far: Tool
    after: Tool
    entries: tuple[Entry, ...]
    reworks: tuple[Rework, ...]
    changes: tuple[Change, ...]
    notes: tuple[str, ...]
    failing: tuple[Finding, ...]
    left: tuple[Finding, ...]
    scrap: tuple[str, ...]
    rear_short_mm: float

    @property
    def usable(self) -> bool:
        """Whether the tool comes right without a part made anew."""
        return not self.scrap

    @property
    def parameters(self) -> Parameters:
        """The parameters with everything that is said here done."""
        return self.after.parameters


@dataclass(frozen=True, slots=True)
class _Solved:
    """A remedy that was found."""

    parameters: Parameters
    made: Made
    variant: Variant


def actual(tool: Tool, measured: Measured) -> Actual:
    """Return what measured sizes make of a tool, and the cheapest way to make it come right.

    A remedy is found by a bounded search over what is not made yet: see `making.remedy`. Where
    there is none, parts are taken as made anew in the order of their cost until there is.
    """
    plain = as_measured(tool, measured)
    so_far = design(plain.parameters)
    solved = _solve(tool, measured, TRIES)
    scrap: tuple[str, ...] = ()
    rest = measured
    if solved is None:
        scrap, rest, solved = _remade(tool, measured)
    found = solved or _Solved(plain.parameters, plain, Variant(plain, ()))
    after = design(found.parameters)
    base = as_measured(tool, rest).parameters
    reworks = tuple(_reworks(tool, rest))
    changes = tuple(_changes(base, found, rest))
    aim = goal(tool, strict=True)
    return Actual(
        drawn=tool,
        so_far=so_far,
        after=after,
        entries=tuple(_entries(tool, measured, scrap, changed=bool(changes))),
        reworks=reworks,
        changes=changes,
        notes=(
            *found.variant.notes,
            *_spigot_to_suit(tool, measured),
            *_short_of(tool, after, found, measured),
        ),
        failing=Search(aim, plain).worse(so_far),
        left=Search(aim, found.made).worse(after),
        scrap=scrap,
        rear_short_mm=found.made.rear_short_mm,
    )


def _solve(tool: Tool, measured: Measured, tries: int) -> _Solved | None:
    """Return the cheapest remedy: one without new warnings, else one without failures.

    While every size is within its limits, a warning is no reason to change anything.
    """
    ways = variants(tool, measured)
    if _as_drawn(tool, measured):
        return _Solved(ways[0].made.parameters, ways[0].made, ways[0])
    wanted = (False,) if _all_in(tool, measured) else (True, False)
    pool = tries
    for strict in wanted:
        aim = goal(tool, strict=strict)
        for search_on in (False, True):
            for way in ways:
                search = Search(aim, way.made, pool)
                found = (remedy if search_on else at_once)(search, tool, measured)
                pool = max(search.left, LEAST_TRIES)
                if found is not None:
                    return _Solved(found, way.made, way)
    return None


def _all_in(tool: Tool, measured: Measured) -> bool:
    """Tell whether everything that was measured is within its limits."""
    return all(entry.verdict == "in" for entry in _entries(tool, measured, (), changed=False))


def _as_drawn(tool: Tool, measured: Measured) -> bool:
    """Tell whether every measured size is nominal or still to be cut, so that nothing changes."""
    if measured.springs or measured.scale:
        return False
    return all(
        value is None or value == size.limits.nominal or size.verdict(value) == "rework"
        for size in sizes(tool)
        for value in (getattr(measured, size.key),)
    )


def _spigot_to_suit(tool: Tool, measured: Measured) -> Iterator[str]:
    """Yield what is done about a register that was bored too large: its bush is turned to it."""
    bush, register_mm = tool.parameters.bush, measured.register_mm
    if bush is None or register_mm is None or not _register_over(tool, measured):
        return
    _, spigot = register_limits(bush)
    low_mm, high_mm = (register_mm + each / 1000 for each in (spigot.lower_um, spigot.upper_um))
    fits = f"{number(low_mm, 3)} to {number(high_mm, 3)} mm"
    if measured.spigot_mm is None or measured.spigot_mm >= low_mm - 1e-9:
        yield f"Turn the spigot to the register as it is: {fits}."
    else:
        yield (
            f"The spigot plays {shown(register_mm - measured.spigot_mm, 'mm')} in the register, "
            f"and the run-out goes with it: turn another bush, its spigot {fits}."
        )


def _register_over(tool: Tool, measured: Measured) -> bool:
    """Tell whether the register was bored larger than drawn."""
    bush, register_mm = tool.parameters.bush, measured.register_mm
    if bush is None or register_mm is None:
        return False
    hole, _ = register_limits(bush)
    return register_mm > hole.nominal_mm + hole.upper_um / 1000 + 1e-9


def _short_of(tool: Tool, after: Tool, found: _Solved, measured: Measured) -> Iterator[str]:
    """Yield what keeps the preload from coming back to the drawn one, where it does not."""
    wanted = preload_restored(tool, found.parameters)
    if wanted == found.parameters or wanted.plug is None:
        return
    drawn_N = {o.which: o.preload_N for o in tool.orientations}
    told = ", ".join(
        f"{o.name} {shown(o.preload_N, 'N')} in place of {shown(drawn_N[o.which], 'N')}"
        for o in after.orientations
    )
    search = Search(goal(after, strict=True), found.made)
    worse = [f.check for f in search.worse(design(wanted))]
    why = "the plug is locked" if measured.plug_sunk_mm is not None else "; ".join(worse)
    yield (
        f"Preload: {told}. A plug {shown(wanted.plug.sunk_mm, 'mm')} below the rear end would "
        f"bring it back; what stands in the way: {why or 'other findings'}."
    )


def _remade(tool: Tool, measured: Measured) -> tuple[tuple[str, ...], Measured, _Solved | None]:
    """Return the cheapest parts to make anew, what is measured on the others, and the remedy."""
    bushed = tool.bush is not None
    made = [part for part in COSTS if _measured_on(measured, part, bushed=bushed)]
    for part in made:
        rest = without(measured, part, bushed=bushed)
        solved = _solve(tool, rest, FEW_TRIES)
        if solved is not None:
            return (part,), rest, solved
    gone: tuple[str, ...] = ()
    rest = measured
    for part in reversed(made):
        gone, rest = (*gone, part), without(rest, part, bushed=bushed)
        if len(gone) > 1 and (solved := _solve(tool, rest, FEW_TRIES)) is not None:
            return gone, rest, solved
    return tuple(made), rest, None


def _measured_on(measured: Measured, part: str, *, bushed: bool) -> bool:
    if part == SPRINGS:
        return bool(measured.springs or measured.scale)
    return any(getattr(measured, key) is not None for key in keys_of(part, bushed=bushed))


def without(measured: Measured, part: str, *, bushed: bool = False) -> Measured:
    """Return measured sizes without those of a part, as if it were not made yet."""
    if part == SPRINGS:
        return replace(measured, springs=(), scale=())
    gone = dict.fromkeys(keys_of(part, bushed=bushed))
    return replace(measured, **gone)  # type: ignore[arg-type]  # all of these may be None


def _reworks(tool: Tool, measured: Measured) -> Iterator[Rework]:
    for size in sizes(tool):
        value = getattr(measured, size.key)
        if value is None or size.verdict(value) != "rework":
            continue
        if size.key == "spigot_mm" and _register_over(tool, measured):
            continue  # it is turned to the register, not to the drawing
        note = ""
        if size.key == "stand_out_mm" and (cone := shank_of(tool.parameters.mount).taper):
            off_um = (value - size.limits.nominal) * cone.rate / 2 * 1000
            note = f"take {off_um:.0f} um off the radius of the taper, then blue it again"
        yield Rework(size, value, size.limits.nominal, note)


def _changes(before: Parameters, found: _Solved, measured: Measured) -> Iterator[Change]:
    """Yield what differs between what is drawn or measured and what was found."""
    after = found.parameters
    for path, key, part, what in (
        ("bore.diameter_mm", "bore_mm", BODY, "bore"),
        ("plunger.diameter_mm", "plunger_mm", PLUNGER, "diameter of the bar"),
    ):
        table = path.split(".")[0]
        fitted, former = getattr(after, table), getattr(before, table)
        if _fit(fitted) == _fit(former):
            continue
        limits = None
        if fitted.limits_um is not None:
            low_um, high_um = fitted.limits_um
            limits = Span(
                fitted.diameter_mm + low_um / 1000,
                fitted.diameter_mm,
                fitted.diameter_mm + high_um / 1000,
            )
        was_mm = getattr(measured, key)
        was_mm = former.diameter_mm if was_mm is None else was_mm
        yield Change(path, part, what, was_mm, fitted.diameter_mm, fitted.diameter_mm, limits)
    known = {cut.path: (cut.part, cut.what) for cut in cuts(before, Measured())}
    for path, (part, what) in known.items():
        was_mm, asked_mm = value_at(before, path), value_at(after, path)
        becomes_mm = asked_mm
        if path == "plug.sunk_mm" and measured.plug_sunk_mm is None:
            becomes_mm = round(asked_mm - found.made.rear_short_mm, 6)
        if abs(was_mm - becomes_mm) > 1e-9:
            yield Change(path, part, what, was_mm, becomes_mm, asked_mm)


def _fit(fitted: Bore | Plunger) -> tuple[object, ...]:
    return fitted.diameter_mm, fitted.tolerance, fitted.limits_um


def _entries(
    tool: Tool, measured: Measured, scrap: tuple[str, ...], *, changed: bool
) -> Iterator[Entry]:
    """Yield every measured value with its verdict."""

    def judged(size: Size, value: float) -> Judged:
        plain = size.verdict(value)
        if plain == "over" and size.part in scrap:
            return "scrap"
        if plain == "over":
            return "over: keep with these changes" if changed else "over: keep"
        return "in" if plain == "in" else "rework"

    for size in sizes(tool):
        value = getattr(measured, size.key)
        if value is not None:
            yield Entry(size, value, judged(size, value))
    springs = {size.key: size for size in spring_sizes(tool)}
    for key, told in _told_of_springs(measured):
        for field in fields(MeasuredInner):
            value = getattr(told, field.name)
            if value is not None:
                size = springs[f"{key}.{field.name}"]
                unit = "N/mm" if field.name == "rate_N_per_mm" else "mm"
                yield Entry(size, value, judged(size, value), unit)
    for size, value in _scale_sizes(tool, measured):
        yield Entry(size, value, judged(size, value), "g")


def _told_of_springs(measured: Measured) -> Iterator[tuple[str, MeasuredInner]]:
    for place, told in enumerate(measured.springs, 1):
        yield f"springs[{place}]", told
        if told.inner is not None:
            yield f"springs[{place}].inner", told.inner


def _scale_sizes(tool: Tool, measured: Measured) -> Iterator[tuple[Size, float]]:
    """Yield each reading of the scale with what it should be on the drawn tool."""
    ends = {o.which: o for o in tool.orientations}
    for place, one in enumerate(measured.scale, 1):
        o = ends[one.end]
        due_g = grams(o.force_N(o.projection_extended_mm - one.projection_mm))
        yield (
            Size(
                key=f"scale[{place}].scale_g",
                part=SPRINGS,
                what=f"{o.name}: scale at {one.projection_mm:g} mm out",
                path="",
                limits=Span(due_g * (1 - FORCE_SHARE), due_g, due_g * (1 + FORCE_SHARE)),
                metal="none",
            ),
            one.scale_g,
        )
