"""The rear thread of the body; and the bought arbor that spares its taper."""

from __future__ import annotations

from typing import Final

from generator.making.bench import Bench
from generator.making.job import JAW_MM, Job, Made
from generator.making.operation import Ask, Grip, Hold, Operation, Size, Step
from generator.making.rear_side import CENTRE, MOUTH, bevel, rear_holding, rear_mouth
from generator.making.states import Workpiece, cylinder
from generator.model import parts
from generator.model.shank import shank_of
from generator.standards.rows import Thread


def tap_rear(job: Job, piece: Workpiece) -> Made:
    """Open the rear end for its thread, and tap it."""
    p, bench, bored = job.tool.parameters, job.bench, not job.rear_first
    row = _row(job)
    thread = next(each for each in job.part.threads if each.surface == "rear thread")
    hole_mm, length_mm = parts.rear_hole_mm(p), job.length_mm
    full_mm, deep_mm = parts.rear_full_thread_mm(p), parts.rear_hole_depth_mm(p)
    steps, asks, instead = _opened(job)
    after = piece
    if steps:
        hole = cylinder(length_mm - deep_mm, length_mm, hole_mm, "rear thread")
        after = after.bored(hole).finished("drill point")
    if not bored:
        steps += rear_mouth(job)
        after = after.bored(bevel(job))
    held, hold, holding = _held(job)
    return (
        Operation(
            part=job.part.name,
            title=f"Rear thread {row.name}",
            station="lathe",
            holding=held,
            left="front",
            zero_mm=length_mm,
            steps=(*steps, *_tapped(row, full_mm, deep_mm)),
            grips=(Grip(hold, 0.0, min(JAW_MM, p.body.nose_length_mm)),),
            sizes=(
                Size("length", length_mm - deep_mm, deep_mm),
                Size("length", length_mm - full_mm, full_mm),
                Size("diameter", length_mm - full_mm / 2, hole_mm, f"{row.name}, Ø"),
            ),
            features=(
                *job.present("drill point", "rear thread", *(() if bored else MOUTH)),
                f"{thread.designation} thread",
            ),
            asks=(*asks, holding),
            instead=(*instead, *_short_tap(job, full_mm + row.pitch_mm), *_any_chuck(bench)),
            cautions=("Spindle in neutral and power off while tapping by hand.",),
        ),
        after.finished("rear thread", "rear recess", "rear bevel").threaded(thread),
    )


def _row(job: Job) -> Thread:
    plug = job.tool.parameters.plug
    assert plug is not None  # called for a body with a rear thread
    return Thread.find(plug.thread)


def pocket(job: Job, piece: Workpiece) -> Made:
    """Bore the spring pocket from the rear, down to the step that keeps the head in."""
    p, bench, material = job.tool.parameters, job.bench, job.part.material
    length_mm, pocket_mm = job.length_mm, parts.pocket_mm(p)
    assert p.shoulder is not None
    step_mm = p.shoulder.guide_mm
    deep_mm = length_mm - step_mm
    chosen = bench.drill_for(
        pocket_mm - POCKET_MM, 0.5 * pocket_mm, else_do="the next smaller, then the boring tool."
    )
    held, grip, asks, instead = rear_holding(job, bored=not job.rear_first)
    bench = bench.held(held)
    low_mm, high_mm = bench.limits_mm(deep_mm)
    steps = (
        bench.drill(
            "Drill, short of the step",
            material=material,
            diameter_mm=chosen.size_mm,
            depth_mm=deep_mm - SHORT_OF_STEP_MM,
            through=False,
            stop="STOP: depth stop set? Deeper takes away the step.",
        ),
        bench.turn(
            "Bore the pocket, or a flat-ended drill of its size",
            material=material,
            from_mm=chosen.size_mm,
            to_mm=pocket_mm,
            limits_mm=(pocket_mm, pocket_mm + POCKET_OVER_MM),
            inside=True,
        ),
        Step(
            do="Face the step, square and sharp in the corner, from the rear face",
            tool="boring tool or flat-ended counterbore",
            dial="0 = rear face",
            set_mm=deep_mm,
            low_mm=low_mm,
            high_mm=high_mm,
            stop="STOP: this length is the guide; calipers from the nose first.",
        ),
    )
    reach_mm = bench.shop.drill_reach_mm
    if reach_mm < deep_mm:
        instead = (
            *instead,
            f"The drill reaches {bench.size(reach_mm, 1)} of {bench.size(deep_mm, 1)}: silver-"
            "solder its shank into a longer rod, a little thinner than the drill.",
        )
    return (
        Operation(
            part=job.part.name,
            title="Spring pocket, from the rear",
            station="lathe",
            holding=held,
            left="front",
            zero_mm=length_mm,
            steps=steps,
            grips=(grip,),
            sizes=(
                Size("diameter", (step_mm + length_mm) / 2, pocket_mm),
                Size("length", step_mm, deep_mm),
            ),
            features=job.present("spring pocket", "step"),
            asks=(chosen.ask, *asks),
            instead=(*((chosen.instead,) if chosen.instead else ()), *instead),
            cautions=("Draw the drill right out often: packed swarf breaks it.",),
        ),
        piece.bored(cylinder(step_mm, length_mm, pocket_mm, "spring pocket")),
    )


POCKET_MM: Final = 0.5
"""Left on the diameter of the pocket for the boring tool; common practice, no source."""

POCKET_OVER_MM: Final = 0.1
"""What the pocket may be larger than drawn; engineering judgement."""

SHORT_OF_STEP_MM: Final = 3.0
"""Kept between the drill's lips and the step; engineering judgement."""


def _held(job: Job) -> tuple[str, Hold, Ask]:
    """Return how the nose is held; its run-out does no harm here."""
    harmless = "only the thread is cut, so its run-out does no harm."
    chucks = [thing for thing in ("3-jaw chuck", "4-jaw chuck") if job.bench.has(thing)]
    if not chucks and job.bench.has("collets"):
        return f"Nose in a collet; {harmless}", "collet", Ask("collets")
    chuck = Ask(chucks[0] if chucks else "3-jaw chuck")
    return f"Nose in the {chuck.what}, copper under the jaws; {harmless}", "jaws", chuck


def _any_chuck(bench: Bench) -> tuple[str, ...]:
    if any(bench.has(thing) for thing in ("collets", "3-jaw chuck", "4-jaw chuck")):
        return ()
    return ("Any chuck that holds the nose serves; its run-out does no harm here.",)


def _opened(job: Job) -> tuple[list[Step], list[Ask], list[str]]:
    """Return how the hole is opened for the thread; nothing where the bore is the tapping hole."""
    p, bench, bored = job.tool.parameters, job.bench, not job.rear_first
    hole_mm, deep_mm = parts.rear_hole_mm(p), parts.rear_hole_depth_mm(p)
    open_already = bored or (p.shoulder is not None and p.bush is None)
    if open_already and hole_mm <= parts.pocket_mm(p):
        return [], [], []
    drill = bench.drill_for(
        hole_mm,
        _row(job).minor_least_mm,
        else_do=f"bore it out to Ø{bench.size(hole_mm)} with the boring tool.",
    )
    step = bench.drill(
        "Open for the thread, to full Ø",
        material=job.part.material,
        diameter_mm=drill.size_mm,
        depth_mm=deep_mm,
        through=False,
        opened="the rear face" if open_already else "",
        stop="STOP: depth stop set? Deeper takes away the bore that guides.",
    )
    return [step], [drill.ask], [drill.instead] if drill.instead else []


def _tapped(row: Thread, full_mm: float, deep_mm: float) -> tuple[Step, ...]:
    return (
        Step(
            do=f"Tap {row.name}, guided by the tailstock centre, by hand",
            tool=f"taper tap {row.name}",
            dial="0 = rear face",
        ),
        Step(
            do="Tap to the full depth; oil, half turns back, clear often",
            tool=f"plug tap {row.name}",
            dial="0 = rear face",
            set_mm=full_mm,
            low_mm=full_mm,
            high_mm=deep_mm,
        ),
    )


def _short_tap(job: Job, need_mm: float) -> tuple[str, ...]:
    """Return what to do where the tap does not reach; its reach is NaN where nobody knows it."""
    bench, reach_mm = job.bench, job.tool.parameters.workshop.tap_reach_mm
    if not reach_mm < need_mm:
        return ()
    return (
        f"The tap reaches {bench.size(reach_mm, 1)} of {bench.size(need_mm, 1)}: grind its shank "
        "under the hole, or lower plug.sunk_mm. No cost in coaxiality.",
    )


def arbor(job: Job, piece: Workpiece) -> Made:
    """Choose the bought arbor in place of a turned taper."""
    p = job.tool.parameters
    names = job.present(
        *("taper", "shoulder", "rear shoulder", "extension", "rear chamfer", "rear face"),
        *("tang neck", "parallel body", *(CENTRE if p.disc is not None else ())),
    )
    tang = ", its tang kept" if shank_of(p.mount).tang else "; saw off a tang"
    pulled = ", tapped for the draw-bar" if shank_of(p.mount).draw_bar else ""
    return (
        Operation(
            part=job.part.name,
            title="Choose and check the bought arbor",
            station="bench",
            holding="On the bench, then in the socket.",
            steps=(
                Step(do=f"Blank-end arbor, soft head{pulled}{tang}."),
                Step(do="Blue in the socket: 75 % or more, heavier at the large end", tool="blue"),
                Step(
                    do="Overall length as drawn, head long enough for the nose?",
                    set_mm=job.length_mm,
                    low_mm=job.length_mm - 0.3,
                    high_mm=job.length_mm + 2.0,
                ),
            ),
            features=names,
        ),
        piece.faced(rear_mm=job.length_mm).finished(*names),
    )
