"""Small turned parts: all that can be reached from the bar, parted off, then the second face."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from generator.making.bench import Bench, Chosen
from generator.making.job import KEY, SWARF, Job, Made
from generator.making.operation import Ask, Grip, Hold, Operation, Size, Step
from generator.making.states import Workpiece, cylinder, named, outside
from generator.making.stock import STUB_MM, stock_mm

PARTED_MM: Final = 0.3
"""What is left on the length where a part is parted off; common practice, no source."""

DIE_MM: Final = 0.1
"""What the bar is turned under the major diameter before a die; common practice, no source."""

RUBBED_MM: Final = 0.1
"""The same of a disc that is rubbed flat by hand; engineering judgement."""

THIN_MM: Final = 3.0
"""A disc thinner than this is rubbed flat, since no chuck holds it; engineering judgement."""


@dataclass(frozen=True, slots=True)
class Held:
    """How a small part is held.

    Attributes:
        word: The chuck, as a sentence begins.
        hold: What it is on a sketch.
        asks: What it needs.
        instead: What to do where it is not in the kit.
    """

    word: str
    hold: Hold
    asks: tuple[Ask, ...]
    instead: tuple[str, ...] = ()


def held_small(job: Job) -> Held:
    """Return how a small part is held: a collet first."""
    holds: tuple[tuple[str, Hold], ...] = (
        ("collets", "collet"),
        ("3-jaw chuck", "jaws"),
        ("4-jaw chuck", "jaws"),
    )
    for thing, hold in holds:
        if job.bench.has(thing):
            word = "Collet" if thing == "collets" else f"{thing[0].upper()}{thing[1:]}"
            return Held(word, hold, (Ask(thing),))
    lost = "No chuck in the list: any that grips the bar."
    return Held("Chuck", "jaws", (Ask("3-jaw chuck"),), (lost,))


def _left_mm(job: Job) -> float:
    """Return what is left for the second face."""
    return RUBBED_MM if job.length_mm < THIN_MM else PARTED_MM


def _outer(job: Job) -> str:
    return "thread" if job.part.outline.has("thread") else "rim"


def _hole(job: Job) -> str:
    """Return the name of the air hole, "" where there is none."""
    return next((name for name in ("vent", "hole") if job.part.outline.has(name)), "")


def _hole_drill(job: Job) -> Chosen | None:
    if not _hole(job):
        return None
    hole_mm = job.part.outline.surface(_hole(job)).diameter_mm
    return job.bench.drill_for(
        hole_mm, 0.5 * hole_mm, else_do="the next larger that leaves half the face."
    )


def first_side(job: Job, piece: Workpiece) -> Made:
    """Turn all that can be reached from the bar, and part off."""
    part, held = job.part, held_small(job)
    job = replace(job, bench=job.bench.held(held.word))
    size_mm = part.outline.surface(_outer(job)).diameter_mm
    drill = _hole_drill(job)
    threads = tuple(f"{thread.designation} thread" for thread in part.threads)
    label = f"{part.threads[0].designation}, Ø" if part.threads else ""
    out = f"{held.word} on the bar, {job.bench.size(job.length_mm + 8, 0)} out."
    if stock_mm(part) > job.bench.shop.spindle_bore_mm:
        out += " The bar does not pass the spindle: saw off what the jaws need."
    asks = held.asks if drill is None else (*held.asks, drill.ask)
    lost = (drill.instead,) if drill is not None and drill.instead else ()
    off_mm = job.length_mm + _left_mm(job)
    names = ("front face", "front chamfer", _outer(job), _hole(job), "recess")
    return (
        Operation(
            part=part.name,
            title=f"{part.title}: from the bar",
            station="lathe",
            holding=out,
            left="rear",
            steps=tuple(_first_steps(job, piece, drill)),
            grips=(Grip(held.hold, job.length_mm + 6, job.length_mm + STUB_MM),),
            sizes=(
                Size("diameter", job.length_mm / 2, size_mm, label),
                Size("length", off_mm, off_mm),
            ),
            features=(*job.present(*names), *threads),
            asks=asks,
            instead=(*held.instead, *lost),
            cautions=(KEY, SWARF),
        ),
        _parted(job, piece, off_mm),
    )


def _first_steps(job: Job, piece: Workpiece, drill: Chosen | None) -> Iterator[Step]:
    """Yield the steps from the bar."""
    bench, outline, material = job.bench, job.part.outline, job.part.material
    size_mm = outline.surface(_outer(job)).diameter_mm
    yield bench.face(
        "Face until clean", material=material, diameter_mm=piece.diameter_mm, dial="0 = this face"
    )
    yield from _outside_steps(job, piece, size_mm)
    if drill is not None:
        yield bench.drill(
            "Drill the air hole",
            material=material,
            diameter_mm=drill.size_mm,
            depth_mm=job.length_mm + 1.0,
            through=True,
        )
    if outline.has("recess"):
        mouth_mm = outline.surface("recess").diameter_mm
        yield bench.form(
            "Countersink the recess 60°",
            "60° countersink",
            material=material,
            diameter_mm=mouth_mm,
            kind="diameter",
            set_mm=mouth_mm,
            limits_mm=bench.limits_mm(mouth_mm),
        )
    yield bench.face(
        "Part off",
        material=material,
        diameter_mm=size_mm,
        tool="parting tool",
        dial="0 = front face",
        length_mm=job.length_mm + _left_mm(job),
    )


def _outside_steps(job: Job, piece: Workpiece, size_mm: float) -> Iterator[Step]:
    """Yield the steps of the outside: its diameter, its chamfer, its thread."""
    bench, material = job.bench, job.part.material
    threaded = bool(job.part.threads)
    yield bench.turn(
        f"Turn the outside, {bench.size(job.length_mm + 3, 1)} long",
        material=material,
        from_mm=piece.diameter_mm,
        to_mm=size_mm - (DIE_MM if threaded else 0.0),
        limits_mm=(size_mm - 2 * DIE_MM, size_mm) if threaded else bench.limits_mm(size_mm),
    )
    yield from chamfer_steps(bench, job, "front chamfer")
    for thread in job.part.threads:
        yield Step(
            do=f"Thread {thread.designation} with the die, guided by the tailstock, by hand",
            tool=f"die {thread.designation}",
        )


def chamfer_steps(bench: Bench, job: Job, name: str) -> Iterator[Step]:
    """Yield the chamfering of an edge, if it has one."""
    outline = job.part.outline
    if outline.has(name):
        yield bench.face(
            f"Chamfer the edge, {bench.size(outline.surface(name).length_mm)} at 45°",
            material=job.part.material,
            diameter_mm=outline.diameter_mm,
            tool="45° tool",
        )


def _parted(job: Job, piece: Workpiece, off_mm: float) -> Workpiece:
    """Return the part as it falls from the bar."""
    whole = tuple(
        replace(run, front_mm=0.0, rear_mm=off_mm)
        for run in named(outside(job.part.outline), (_outer(job),))
    )
    after = piece.faced(front_mm=0.0, rear_mm=off_mm).turned(whole)
    hole = _hole(job)
    if hole:
        hole_mm = job.part.outline.surface(hole).small_diameter_mm
        after = after.bored(cylinder(0.0, off_mm, hole_mm, hole))
    after = after.finished("front chamfer", _outer(job), "recess", hole)
    return replace(after, threads=job.part.threads)


def second_side(job: Job, piece: Workpiece) -> Made:
    """Face the parted side to length."""
    bench, part, held = job.bench, job.part, held_small(job)
    thin = job.length_mm < THIN_MM
    limits = bench.limits_mm(job.length_mm)
    rubbed = Step(
        do="Rub flat to thickness on emery over glass, in figures of eight",
        tool="emery 400",
        set_mm=job.length_mm,
        low_mm=limits[0],
        high_mm=limits[1],
    )
    faced = bench.face(
        "Face to length",
        material=part.material,
        diameter_mm=part.outline.diameter_mm,
        dial="0 = front face",
        length_mm=job.length_mm,
    )
    gripped = "by the thread in a split nut" if part.threads else "on the rim"
    steps = (
        rubbed if thin else faced,
        *chamfer_steps(bench, job, "rear chamfer"),
        Step(do="Deburr both faces; no burr to be felt.", tool="countersink, by hand"),
    )
    names = job.present("rear face", "rear chamfer")
    return (
        Operation(
            part=part.name,
            title=f"{part.title}: second face",
            station="bench" if thin else "lathe",
            holding="In the fingers, on emery over a plate."
            if thin
            else f"{held.word}, {gripped}.",
            left="front",
            steps=steps,
            grips=() if thin else (Grip(held.hold, 0.0, job.length_mm * 0.6),),
            sizes=(Size("length", job.length_mm, job.length_mm),),
            features=names,
            asks=() if thin else held.asks,
            instead=() if thin else held.instead,
            cautions=() if thin else (KEY,),
        ),
        piece.faced(rear_mm=job.length_mm).finished(*names),
    )
