"""The operations of a plunger with a head behind its stem: turned from bar, both ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from generator.inputs.tables import Shoulder
from generator.making import screwed_tips
from generator.making.bench import Bench
from generator.making.from_bar import held_small
from generator.making.job import KEY, SWARF, Job, Made, Maker, carried_out
from generator.making.nose_side import bar, saw
from generator.making.operation import Ask, Grip, Operation, Route, Size, Step
from generator.making.plunger import bonded_ball, form_steps, tip_names
from generator.making.states import Workpiece
from generator.model import parts
from generator.model.tool import Tool

FINISH_MM: Final = 0.3
"""Left on the stem for the last cuts; common practice, no source."""

SLENDER: Final = 4.0
"""Diameters that a stem may stand out without a centre; common practice, no source."""

CENTRE_STUB_MM: Final = 4.0
"""Left in front of a point for the tailstock's centre; engineering judgement."""


def headed(tool: Tool, bench: Bench, route: Route) -> Iterator[Operation]:
    """Yield the operations of a plunger with a head."""
    job = Job(tool, tool.plunger, bench, route)
    joint: tuple[Maker, ...] = (screwed_tips.stem_hole,) if tool.tips else ()
    last: tuple[Maker, ...] = (bonded_ball,) if tool.ball else ()
    if tool.tips:
        last = (screwed_tips.flats,)
    yield from carried_out(job, bar(job), (saw, stem, *joint, head, *last))


def _shoulder(tool: Tool) -> Shoulder:
    shoulder = tool.parameters.shoulder
    assert shoulder is not None  # called for a plunger with a head
    return shoulder


def stem(job: Job, piece: Workpiece) -> Made:
    """Turn head and stem from the bar, and form the tip in the same holding."""
    p, part, held = job.tool.parameters, job.part, held_small(job)
    bench, asked = job.bench.held(held.word), _shoulder(job.tool)
    out_mm = asked.stem_mm + asked.head_length_mm + 8
    front = ("front face",) if job.tool.tips else tip_names(job, "front")
    names = (*front, *job.present("guide", "shoulder", "head"))
    slender = asked.stem_mm > SLENDER * p.plunger.diameter_mm
    holding = f"{held.word} on the bar, {bench.size(out_mm, 0)} out."
    if slender:
        holding += " Tailstock centre in the end while the stem is turned."
    after = piece.faced(front_mm=0.0).finished(*names)
    return (
        Operation(
            part=part.name,
            title=f"Head{', stem and tip' if not job.tool.tips else ' and stem'}, from the bar",
            station="lathe",
            holding=holding,
            left="rear",
            steps=tuple(_stem_steps(job, bench, piece, asked, slender=slender)),
            grips=(
                Grip(held.hold, out_mm, job.length_mm),
                *((Grip("centre", 0.0, -1.0),) if slender else ()),
            ),
            sizes=(
                Size("diameter", asked.stem_mm / 2, p.plunger.diameter_mm),
                Size("diameter", asked.stem_mm + asked.head_length_mm / 2, asked.head_diameter_mm),
                Size("length", asked.stem_mm, asked.stem_mm),
            ),
            features=names,
            asks=(*held.asks, *((Ask("centres"),) if slender else ())),
            instead=(
                *held.instead,
                *(
                    ("No centres: turn the stem in short lengths, each finished before the next.",)
                    if slender and not bench.has("centres")
                    else ()
                ),
            ),
            cautions=(KEY, SWARF),
        ),
        after,
    )


def _stem_steps(
    job: Job, bench: Bench, piece: Workpiece, asked: Shoulder, *, slender: bool
) -> Iterator[Step]:
    p, material = job.tool.parameters, job.part.material
    limits, stem_mm = job.tool.plunger_limits, p.plunger.diameter_mm
    own = not job.tool.tips
    stub = own and slender and parts.plunger_ends(p)[0].outer_mm > stem_mm / 4
    yield bench.face(
        "Face; centre drill lightly; leave a stub before the tip"
        if stub
        else "Face until clean" + ("; centre drill lightly" if slender else ""),
        material=material,
        diameter_mm=piece.diameter_mm,
        dial=f"0 = {'tip' if own else 'front face'}"
        + (f", {bench.size(CENTRE_STUB_MM)} behind this face" if stub else ""),
    )
    yield bench.turn(
        "Turn the head, as far as the bar stands out",
        material=material,
        from_mm=piece.diameter_mm,
        to_mm=asked.head_diameter_mm,
    )
    yield bench.turn(
        f"Rough the stem, {bench.size(asked.stem_mm - FINISH_MM, 1)} long",
        material=material,
        from_mm=asked.head_diameter_mm,
        to_mm=stem_mm + FINISH_MM,
        rough=True,
    )
    finished = bench.turn(
        "Finish the stem to the step, square; last hundredth with emery",
        material=material,
        from_mm=stem_mm + FINISH_MM,
        to_mm=stem_mm,
        limits_mm=(stem_mm + limits.lower_um / 1000, stem_mm + limits.upper_um / 1000),
    )
    yield replace(
        finished,
        stop=f"STOP: try it in the {'reamed bore' if job.tool.bush is None else 'bush'}; a thin "
        "stem is scrap." + (" Then the stub off." if stub else ""),
    )
    if own:
        yield from form_steps(bench, material, parts.plunger_ends(p)[0])


def head(job: Job, piece: Workpiece) -> Made:
    """Face the head to its length, and turn the tail behind it."""
    bench, part, asked = job.bench, job.part, _shoulder(job.tool)
    collets = bench.has("collets")
    held = "Collet" if collets else "Split bush on the stem, in the chuck"
    bench = bench.held(held)
    material, length_mm = part.material, job.length_mm
    names = job.present(
        "head chamfer", "rear head chamfer", "seat", "tail", "tail chamfer", "rear face"
    )
    seat_mm = asked.stem_mm + asked.head_length_mm
    low_mm, high_mm = bench.limits_mm(asked.head_length_mm)
    steps = (
        bench.face(
            "Face the tail's end to the whole length",
            material=material,
            diameter_mm=asked.head_diameter_mm,
            dial="calipers over both ends",
            length_mm=length_mm,
            stop="STOP: the tail's end sets the travel; long is better than short.",
        ),
        bench.turn(
            f"Turn the tail, {bench.size(asked.tail_length_mm, 2)} long",
            material=material,
            from_mm=asked.head_diameter_mm,
            to_mm=asked.tail_diameter_mm,
        ),
        Step(
            do="Head to its length, its rear face square: the spring sits on it",
            tool="facing tool",
            dial="calipers over the head",
            set_mm=asked.head_length_mm,
            low_mm=low_mm,
            high_mm=high_mm,
        ),
        bench.face(
            f"Chamfer head and tail, {bench.size(parts.HEAD_EDGE_MM)} at 45°",
            material=material,
            diameter_mm=asked.head_diameter_mm,
            tool="45° tool",
        ),
        Step(
            do="Wash, oil, in from the rear: it drops on the step by its own weight."
            if job.tool.bush is None
            else "Wash, oil, stem into the bush: it drops on its head by its own weight.",
            stop="STOP: blue on the head's front must mark all round.",
        ),
    )
    lost = "No collets: bore a split bush in place for the stem, or the tail is off its axis."
    return (
        Operation(
            part=part.name,
            title="Head to length, and the tail",
            station="lathe",
            holding=f"{held}{' on the stem' if collets else ''}, the head against it.",
            left="front",
            zero_mm=length_mm,
            steps=steps,
            grips=(Grip("collet" if collets else "jaws", 0.0, asked.stem_mm - 1.0),),
            sizes=(
                Size("diameter", (seat_mm + length_mm) / 2, asked.tail_diameter_mm),
                Size("length", seat_mm, asked.tail_length_mm),
            ),
            features=names,
            asks=(Ask("collets"),),
            instead=() if collets else (lost,),
            cautions=(KEY, SWARF),
        ),
        piece.faced(rear_mm=length_mm).finished(*names),
    )
