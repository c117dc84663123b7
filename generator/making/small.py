"""The operations of the small parts: plug, button, separators, set screw with a turned tip."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from generator.formulas.cutting import nearest_below
from generator.making.bench import Bench
from generator.making.from_bar import chamfer_steps, first_side, held_small, second_side
from generator.making.job import KEY, Job, Made, Maker, carried_out
from generator.making.operation import Ask, Grip, Operation, Route, Size, Step
from generator.making.states import Workpiece, blank
from generator.making.stock import STUB_MM, stock_mm
from generator.model.part import DriverSlot, HexSocket
from generator.model.parts import second_plug_mm
from generator.model.tool import Tool

HARD_RPM: Final = 1000.0
"""Speed for the tip of a hardened screw with carbide; engineering judgement, no source."""


def small_parts(tool: Tool, bench: Bench, route: Route) -> Iterator[Operation]:
    """Yield the operations of plug, button, separators and, if its tip is turned, set screw."""
    off = 2 if second_plug_mm(tool.parameters) else 1
    driven = (_driver,) if tool.abutment.cuts else ()
    job = Job(tool, tool.abutment, bench, route)
    yield from _made(job, (first_side, second_side, *driven), off)
    if tool.button is not None:
        yield from _made(Job(tool, tool.button, bench, route), (first_side, second_side), 1)
    if tool.separator is not None:
        job = Job(tool, tool.separator, bench, route)
        yield from _made(job, (first_side, second_side), len(tool.springs) - 1)
    crossing = tool.crossing
    if crossing is not None and tool.parameters.cross_pin is not None:
        yield from _made(Job(tool, crossing, bench, route), (_cut_pin,), 1)
    if crossing is not None and turned_tip(tool):
        job, outline = Job(tool, crossing, bench, route), crossing.outline
        bought = blank(
            crossing, diameter_mm=outline.diameter_mm, front_mm=0.0, rear_mm=outline.length_mm
        )
        bought = replace(bought, cuts=crossing.cuts).finished("thread", "axis")
        yield from carried_out(job, bought, (_tip,))


def turned_tip(tool: Tool) -> bool:
    """Tell whether he gave a size of his own for the tip of the set screw."""
    return tool.parameters.set_screw is not None and not {
        "set_screw.tip_mm",
        "set_screw.tip_length_mm",
    } <= set(tool.derived)


def _made(job: Job, makers: tuple[Maker, ...], off: int) -> Iterator[Operation]:
    start = blank(
        job.part, diameter_mm=stock_mm(job.part), front_mm=-1.0, rear_mm=job.length_mm + STUB_MM
    ).finished("axis")
    for each in carried_out(job, start, makers):
        yield replace(each, title=f"{each.title}, {off} off") if off > 1 else each


def _driver(job: Job, piece: Workpiece) -> Made:
    """Cut what turns the plug."""
    bench, part = job.bench, job.part
    (cut,) = part.cuts
    width_mm = (
        cut.width_mm
        if isinstance(cut, DriverSlot)
        else cut.across_flats_mm
        if isinstance(cut, HexSocket)
        else 0.0
    )
    depth_mm = 0.0 if not isinstance(cut, DriverSlot | HexSocket) else cut.depth_mm
    low_mm, high_mm = bench.limits_mm(depth_mm)
    asks: list[Ask] = []
    instead: list[str] = []
    slotted = isinstance(cut, DriverSlot)
    if slotted:
        saw = Step(
            do=f"Cut the slot across, {bench.size(width_mm)} wide, centred",
            tool=f"saw or file {bench.size(width_mm)} wide",
            dial="0 = rear face",
            set_mm=depth_mm,
            low_mm=low_mm,
            high_mm=high_mm,
        )
        steps = [saw]
    else:
        drill = bench.drill_for(
            round(1.02 * width_mm, 1), width_mm, else_do="drill at the flats and file the corners."
        )
        asks.append(drill.ask)
        instead += [drill.instead] if drill.instead else []
        steps = [
            bench.drill(
                "Drill for the hexagon",
                material=part.material,
                diameter_mm=drill.size_mm,
                depth_mm=depth_mm,
                through=False,
                flat=True,
            ),
            Step(
                do="Press a sharpened key of that size in, square, by the vice",
                tool=f"hexagon {bench.size(width_mm)}",
                set_mm=depth_mm,
                low_mm=low_mm,
                high_mm=high_mm + 0.5,
            ),
        ]
    steps.append(Step(do="Deburr; run the die or a nut over the thread once more."))
    return (
        Operation(
            part=part.name,
            title=f"{part.title}: {'slot' if slotted else 'hexagon'} to turn it",
            station="bench",
            holding="Thread between two nuts or in a split nut, in the vice.",
            left="front",
            zero_mm=job.length_mm,
            steps=tuple(steps),
            grips=(Grip("vice", 0.0, job.length_mm * 0.6),),
            sizes=(Size("length", job.length_mm - depth_mm, depth_mm),),
            features=(cut.name,),
            asks=tuple(asks),
            instead=tuple(instead),
        ),
        replace(piece, cuts=(*piece.cuts, cut)),
    )


def _cut_pin(job: Job, piece: Workpiece) -> Made:
    """Cut the pin from ground bar, or a dowel to length, and break its ends."""
    bench, part, held = job.bench, job.part, held_small(job)
    length_mm = job.length_mm
    low_mm, high_mm = bench.limits_mm(length_mm)
    names = job.present("front face", "front chamfer", "outside", "rear chamfer", "rear face")
    steps = (
        Step(
            do="Dowel or ground bar of the pin's size: measure it; it is not turned",
            tool="micrometer",
            kind="diameter",
            set_mm=part.outline.diameter_mm,
            low_mm=part.outline.diameter_mm - 0.01,
            high_mm=part.outline.diameter_mm + 0.01,
        ),
        Step(
            do="Saw or grind off, face both ends to length",
            tool="saw, file or wheel",
            set_mm=length_mm,
            low_mm=low_mm,
            high_mm=high_mm,
        ),
        *chamfer_steps(bench, job, "front chamfer"),
        *chamfer_steps(bench, job, "rear chamfer"),
    )
    after = piece.faced(front_mm=0.0, rear_mm=length_mm).finished(*names)
    return (
        Operation(
            part=part.name,
            title="Cross pin: to length",
            station="lathe",
            holding=f"{held.word} on the bar; a hard dowel in the fingers, on the wheel.",
            left="rear",
            steps=steps,
            grips=(Grip(held.hold, length_mm * 0.6, length_mm),),
            sizes=(Size("length", length_mm, length_mm),),
            features=names,
            asks=held.asks,
            instead=held.instead,
            cautions=(KEY,),
        ),
        after,
    )


def _tip(job: Job, piece: Workpiece) -> Made:
    """Turn the tip of a bought set screw to his own size."""
    p, bench, part = job.tool.parameters, job.bench, job.part
    held = held_small(job)
    assert p.set_screw is not None
    tip_mm, long_mm = p.set_screw.tip_mm, p.set_screw.tip_length_mm
    low_mm, high_mm = bench.limits_mm(long_mm)
    flank = ", flank at 45°" if part.outline.has("flank") else ""
    rpm = nearest_below(p.workshop.lathe_rpm, HARD_RPM) or min(p.workshop.lathe_rpm)
    names = job.present("tip", "dog", "dog shoulder", "flank")
    steps = (
        Step(do="Screw it into a tapped split bush, tip outward, locked by a nut."),
        Step(
            do=f"Turn the tip Ø{bench.size(tip_mm)}{flank}; the screw is hard",
            tool="carbide tool",
            rpm=rpm,
            wanted_rpm=HARD_RPM,
            feed="by hand, light",
            dial=bench.cross_dial(part.outline.diameter_mm, tip_mm),
            kind="diameter",
            set_mm=tip_mm,
            low_mm=tip_mm - 0.1,
            high_mm=tip_mm,
        ),
        Step(
            do="Tip to length",
            tool="carbide tool",
            dial="0 = tip",
            set_mm=long_mm,
            low_mm=low_mm,
            high_mm=high_mm,
        ),
        Step(do="Stone the edge of the tip; nothing may score the slot.", tool="fine stone"),
    )
    return (
        Operation(
            part=part.name,
            title="Set screw: turn its tip",
            station="lathe",
            holding=f"{held.word} on a tapped split bush.",
            left="rear",
            steps=steps,
            grips=(
                Grip(
                    held.hold,
                    part.outline.length_mm * 0.6,
                    part.outline.length_mm,
                ),
            ),
            sizes=(Size("diameter", long_mm / 2, tip_mm), Size("length", long_mm, long_mm)),
            features=names,
            asks=held.asks,
            instead=held.instead,
            cautions=(KEY,),
        ),
        piece.finished(*names),
    )
