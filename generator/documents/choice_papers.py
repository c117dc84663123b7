"""What a choice tells: the designs side by side, what binds each, and where the rest went."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from generator.choice.candidate import Piece, small_parts_bar
from generator.choice.choosing import Choice, Design
from generator.choice.ground import UNPAIRED
from generator.choice.matters import MEASURES
from generator.documents.table import Column, Section, Table
from generator.inputs.commented import commented
from generator.inputs.drawer import Matter
from generator.inputs.tables import MorseMount, R8Mount, StraightMount
from generator.inputs.written import table_of
from generator.model.shank import shank_of
from generator.units import number, shown
from generator.use.seats import tap_names


def choice_sections(choice: Choice) -> tuple[Section, ...]:
    """Return what is told of a choice, for the terminal."""
    if not choice.designs:
        return excluded_section(choice), _lacking(choice)
    return (
        Section("Designs", (), (_designs(choice),)),
        *(_section(choice, one) for one in choice.designs),
        excluded_section(choice),
    )


def _lacking(choice: Choice) -> Section:
    """Return what would make a design possible."""
    rule = next((name for name, _ in choice.excluded.most_common() if name != UNPAIRED), UNPAIRED)
    told = choice.lacking or ("No single purchase and no single changed limit would help.",)
    return Section(
        "No design",
        (f'Nothing fits. The rule that excludes most is "{rule}".', *told),
        (),
    )


def _designs(choice: Choice) -> Table:
    """Return the designs with what they reach of all that may matter."""
    order = _order(choice)
    return Table(
        "",
        (Column("design", "number"), *(Column(_heading(one), "number") for one in order)),
        tuple(
            (str(one.place), *(_value(one, matter) for matter in order)) for one in choice.designs
        ),
    )


def _order(choice: Choice) -> tuple[Matter, ...]:
    """Return all that may matter, what does first."""
    return tuple(dict.fromkeys((*choice.shop.wishes.matters, *MEASURES)))


def _heading(matter: Matter) -> str:
    measure = MEASURES[matter]
    return f"{measure.title}, {measure.unit}" if measure.unit else measure.title


def _value(one: Design, matter: Matter) -> str:
    """Return what a design reaches, with a star where none of the others is better."""
    return number(one.values[matter], 3 if matter == "lean" else 1) + " *" * (matter in one.best)


def _section(choice: Choice, one: Design) -> Section:
    rows = tuple((name, text) for name, text in drawer_rows(choice, one))
    binds = tuple(
        (MEASURES[matter].title, bind.step, bind.rule or "no check, but see what it gives up")
        for matter in _order(choice)
        if (bind := one.binds.get(matter))
    )
    return Section(
        f"Design {one.place}",
        (one.gives_up, *_accepted(one)),
        (
            Table("From the drawer", (Column("part"), Column("which")), rows),
            Table(
                "What stands in the way of more",
                (Column("of"), Column("a step further"), Column("breaks")),
                binds,
            ),
        ),
    )


def _accepted(one: Design) -> Iterator[str]:
    """Yield the warnings that come with a design."""
    warned = [f.check for f in one.findings if f.verdict == "warn"]
    if warned:
        yield f"Warnings that you accept: {'; '.join(warned)}."


def drawer_rows(choice: Choice, one: Design) -> Iterator[tuple[str, str]]:
    """Yield what a design takes from the drawer, part by part."""
    c = one.candidate
    screw = one.tool.parameters.set_screw
    assert screw is not None  # what is chosen is kept in by a set screw
    yield "serves", ", ".join(tap_names(one.tool))
    yield "mount", _mount(one)
    yield (
        "body",
        (
            f"bar {shown(c.body.diameter_mm, 'mm')}, {c.body.material}; nose "
            f"{shown(c.nose_diameter_mm, 'mm')} by {shown(c.lengths.nose_mm, 'mm')}"
        ),
    )
    yield "bore", f"reamer {shown(c.fit.reamer.diameter_mm, 'mm')}, {one.tool.bore_limits.text}"
    yield (
        "plunger",
        (
            f"bar {shown(c.fit.bar.diameter_mm, 'mm')}, {one.tool.plunger_limits.text}, "
            f"{c.fit.bar.material}; {' and '.join(c.style)}; "
            f"{shown(c.lengths.plunger_mm, 'mm')} long"
        ),
    )
    yield (
        "set screw",
        (
            f"{screw.thread} by {shown(screw.length_mm, 'mm')}, {screw.point}; "
            f"slot {shown(c.retention.width_mm, 'mm')} wide, {shown(c.lengths.slot_mm, 'mm')} long"
        ),
    )
    for n, piece in enumerate(c.row, 1):
        yield f"spring {n}" if len(c.row) > 1 else "spring", spring_text(piece)
    yield "rear thread", f"{c.rear.thread}; plug {shown(c.lengths.sunk_mm, 'mm')} below the end"
    small = small_parts_bar(choice.shop, c)
    yield "button", f"{shown(c.lengths.button_mm, 'mm')} thick"
    yield "small parts", f"bar {shown(small.diameter_mm, 'mm')}, {small.material}"
    for o in one.tool.orientations:
        forces = f"{shown(o.preload_N, 'N')} to {shown(o.full_force_N, 'N')}"
        out = (
            f"{shown(o.projection_extended_mm, 'mm')} to {shown(o.projection_compressed_mm, 'mm')}"
        )
        yield o.name, f"{forces}, stands out {out}"


def _mount(one: Design) -> str:
    mount = one.candidate.mount
    if isinstance(mount, StraightMount):
        return f"straight shank {shown(mount.diameter_mm, 'mm')}"
    if isinstance(mount, R8Mount):
        return "R8, draw-bar"
    of = mount.size if isinstance(mount, MorseMount) else shank_of(mount).name
    return f"{of}, {mount.kind.removeprefix('morse ')}"


def spring_text(piece: Piece) -> str:
    """Return which spring of the drawer it is, and how far it is cut down."""
    s = piece.stock
    sizes = f"{number(s.wire_mm)} x {number(s.outside_mm)} x {number(s.free_mm)} mm"
    named = f"{s.label}: {sizes}" if s.label else sizes
    return named + (f", cut down to {shown(piece.cut_to_mm, 'mm')}" if piece.cut_to_mm else "")


def excluded_section(choice: Choice) -> Section:
    """Return how many combinations each rule excludes."""
    rows = [(name, count) for name, count in choice.excluded.most_common() if count]
    rows += [("cannot better a design that was found", choice.surpassed)]
    rows += [("make a design", choice.feasible)]
    return Section(
        "Combinations",
        (f"The drawer holds {grouped(choice.combinations)} combinations.",),
        (
            Table(
                "",
                (Column("excluded by"), Column("combinations", "number")),
                tuple((name, grouped(count)) for name, count in rows),
            ),
        ),
    )


def grouped(count: int) -> str:
    """Return a large number in groups of three figures.

    Example:
        >>> grouped(1234567)
        '1 234 567'
    """
    return f"{count:,}".replace(",", " ")


def choice_data(choice: Choice) -> dict[str, Any]:
    """Return a choice as plain data."""
    return {
        "title": choice.shop.title,
        "matters": list(choice.shop.wishes.matters),
        "combinations": choice.combinations,
        "excluded": {name: count for name, count in choice.excluded.most_common() if count},
        "surpassed": choice.surpassed,
        "feasible": choice.feasible,
        "unbettered": choice.unbettered,
        "lacking": list(choice.lacking),
        "designs": [
            {
                "name": one.parameters.name,
                "values": {key: round(value, 6) for key, value in one.values.items()},
                "best_in": list(one.best),
                "binds": {
                    key: {"step": bind.step, "breaks": bind.rule} for key, bind in one.binds.items()
                },
                "gives_up": one.gives_up,
                "drawer": dict(drawer_rows(choice, one)),
            }
            for one in choice.designs
        ],
    }


def heading(choice: Choice, one: Design) -> str:
    """Return the text at the head of a design's parameter file."""
    reached = "; ".join(
        f"{MEASURES[matter].title} {MEASURES[matter].shown(one.values[matter])}"
        for matter in _order(choice)
    )
    bound = "; ".join(
        f"{bind.step}: {bind.rule}" for bind in one.binds.values() if bind.rule and bind.step
    )
    springs = "; ".join(spring_text(piece) for piece in one.candidate.row)
    return (
        f"Chosen from the drawer of {choice.shop.title}: design {one.place} of "
        f"{len(choice.designs)}. {reached}. {one.gives_up} Springs: {springs}. "
        f"What stands in the way of more: {bound}."
    )


def choice_files(choice: Choice) -> dict[str, str]:
    """Return the parameter file of each design, by the name of the file."""
    return {
        f"design-{one.place}.toml": commented(table_of(one.parameters), heading(choice, one))
        for one in choice.designs
    }


def starting_text(choice: Choice) -> str:
    """Return the first parameter file of a newcomer."""
    one = choice.designs[0]
    asked = replace(one.parameters, name="", title=f"Tap follower {choice.shop.title}")
    heading = (
        "A first tool for your machine and your taps, of bars, reamers, screws and springs that "
        "most shops have. It passes. Put in what you really have, above all the springs, the "
        "reaches of drill, reamer and tap, and the travel of the compound slide, and check again."
    )
    return commented(table_of(asked), heading)
