"""Operations on the nose side of a body that takes a bush: its pocket, its register, its thread."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from generator.checks.making import bored_mm
from generator.formulas import cone
from generator.inputs.tables import NoseBush
from generator.making.bench import Bench
from generator.making.job import Job, Made
from generator.making.nose_side import PILOT, TRUE_START, drilled_mm, front_holding, mouth_steps
from generator.making.operation import Operation, Size, Step
from generator.making.states import Workpiece, cylinder
from generator.model import bush as bushes
from generator.model import parts
from generator.model.tips import DRILL_POINT_DEG
from generator.model.tool import register_limits
from generator.standards.rows import Thread

POCKET_OVER_MM: Final = 0.1
"""What the pocket may be larger than drawn; engineering judgement."""

UNDER_POCKET_MM: Final = 0.5
"""Left on the diameter of the pocket for its last drill or reamer; common practice, no source."""


def _bush(job: Job) -> NoseBush:
    bush = job.tool.parameters.bush
    assert bush is not None  # called for a body that takes a bush
    return bush


def drill_pocket(job: Job, piece: Workpiece) -> Made:
    """Drill the spring pocket from the nose, and bring it to size."""
    held, grip, _, _ = front_holding(job, piece)
    job = replace(job, bench=job.bench.held(held))
    p, bench, material = job.tool.parameters, job.bench, job.part.material
    pocket_mm, depth_mm = parts.pocket_mm(p), drilled_mm(job, piece)
    through = depth_mm >= piece.rear_mm - 1e-9
    first = bench.drill_for(
        round(PILOT * pocket_mm, 1), 0.0, else_do="start with the smallest drill there is."
    )
    under = bench.drill_for(
        pocket_mm - UNDER_POCKET_MM, 0.5 * pocket_mm, else_do="the next smaller, then bore it out."
    )
    steps = [bench.centre_drill(pocket_mm, material=material)]
    asks = [under.ask]
    if first.size_mm < under.size_mm and not first.instead:
        steps.append(_drilled(job, "Pilot", first.size_mm, depth_mm, through=through))
        asks.append(first.ask)
    blind = p.disc is not None
    names = ("spring pocket", *(("drill point",) if blind else ()))
    met = through or (job.rear_first and not blind)
    steps += [
        _drilled(job, "Drill under size", under.size_mm, depth_mm, through=met),
        bench.turn(
            f"Bore the first {bench.size(TRUE_START * pocket_mm, 0)} true, to size",
            material=material,
            from_mm=under.size_mm,
            to_mm=pocket_mm,
            limits_mm=(pocket_mm, pocket_mm + POCKET_OVER_MM),
            inside=True,
        ),
        bench.form(
            "The rest to size, led by the true start: D-bit, reamer or drill",
            f"D-bit, reamer or drill Ø{bench.size(pocket_mm)}",
            material=material,
            diameter_mm=pocket_mm,
            kind="diameter",
            set_mm=pocket_mm,
            limits_mm=(pocket_mm, pocket_mm + POCKET_OVER_MM),
        ),
    ]
    after = piece.bored(cylinder(0.0, depth_mm, pocket_mm, "spring pocket")).finished(*names[1:])
    return (
        Operation(
            part=job.part.name,
            title="Spring pocket, from the nose",
            station="lathe",
            holding=held,
            steps=tuple(steps),
            grips=(grip,),
            features=job.present(*names),
            asks=tuple(asks),
            sizes=(
                Size("diameter", depth_mm / 2, pocket_mm),
                Size("length", depth_mm, depth_mm),
            ),
            cautions=("Oil, and draw the drill right out at each mark: packed swarf breaks it.",),
            instead=(*((under.instead,) if under.instead else ()), *_short(job, depth_mm)),
        ),
        after,
    )


def _drilled(job: Job, do: str, size_mm: float, depth_mm: float, *, through: bool) -> Step:
    return job.bench.drill(
        do,
        material=job.part.material,
        diameter_mm=size_mm,
        depth_mm=depth_mm,
        through=through,
    )


def _short(job: Job, depth_mm: float) -> tuple[str, ...]:
    """Return what to do where the drill does not reach; head and springs do not mind a step."""
    reach_mm, pocket_mm = job.bench.shop.drill_reach_mm, parts.pocket_mm(job.tool.parameters)
    point_mm = cone.drill_point_mm(diameter_mm=pocket_mm, angle_deg=DRILL_POINT_DEG)
    if reach_mm >= min(depth_mm, bored_mm(job.tool)) + point_mm:
        return ()
    return (
        f"The drill reaches {job.bench.size(reach_mm, 1)}: the rest from the rear. The register is "
        "bored here, so it costs no coaxiality; take the step out where the head runs.",
    )


def seat_bush(job: Job, piece: Workpiece) -> Made:
    """Bore the register, cut the thread behind it, and bevel the mouth, in the same holding."""
    held, grip, _, _ = front_holding(job, piece)
    job = replace(job, bench=job.bench.held(held))
    p, bench, bush = job.tool.parameters, job.bench, _bush(job)
    row, (register, _) = Thread.find(bush.thread), register_limits(bush)
    deep_mm, mouth_mm = bushes.register_depth_mm(bush), bush.register_mm + p.body.bevel_mm
    limits_mm = tuple(
        bush.register_mm + each / 1000 for each in (register.lower_um, register.upper_um)
    )
    names = (
        *("front drill point", "nose thread", "thread bevel", "register floor", "register"),
        *("front recess", "front recess floor", "front bevel"),
    )
    hole_mm, pocket_mm = bushes.hole_mm(p, bush), parts.pocket_mm(p)
    steps = [
        *_opened(job, bush),
        replace(
            bench.turn(
                f"Bore the register, {bench.size(deep_mm)} deep, floor square",
                material=job.part.material,
                from_mm=hole_mm,
                to_mm=bush.register_mm,
                limits_mm=(limits_mm[0], limits_mm[1]),
                inside=True,
            ),
            stop="STOP: last cuts by a plug gauge, or by a spigot turned for it.",
        ),
        _depth("Depth of the register, from the nose face", bench, deep_mm),
        *_thread_steps(job, bush),
    ]
    sizes = [
        Size("diameter", deep_mm / 2, bush.register_mm),
        Size("length", deep_mm, deep_mm),
        Size("diameter", deep_mm + 4 * row.pitch_mm, hole_mm, f"{row.name}, Ø"),
    ]
    if p.body.bevel_mm > 0:
        steps += mouth_steps(job, mouth_mm, rim_mm=mouth_mm + 0.5, face="front face")
        sizes.append(Size("diameter", p.body.recess_mm + 0.1, mouth_mm))
    after = piece
    if hole_mm > pocket_mm:
        after = after.bored(
            cylinder(0.0, bushes.hole_depth_mm(p, bush), hole_mm, "nose thread")
        ).finished("front drill point")
    after = after.bored(cylinder(0.0, deep_mm, bush.register_mm, "register")).finished(*names)
    thread = bushes.nose_thread(p, bush)
    return (
        Operation(
            part=job.part.name,
            title=f"Register and thread {row.name} for the bush",
            station="lathe",
            holding=held,
            steps=tuple(steps),
            grips=(grip,),
            sizes=tuple(sizes),
            features=(*job.present(*names), f"{thread.designation} thread"),
            cautions=(
                "Same holding as the nose face: do not loosen the work before the bevel is cut.",
                "Spindle in neutral and power off while tapping by hand.",
            ),
        ),
        after.threaded(thread),
    )


def deburr_pocket(job: Job, piece: Workpiece) -> Made:
    """Take the burrs out of pocket and threads; wash; try."""
    bench, p = job.bench, job.tool.parameters
    assert p.shoulder is not None
    head_mm = p.shoulder.head_diameter_mm
    return (
        Operation(
            part=job.part.name,
            title="Deburr the pocket, wash and try",
            station="bench",
            holding="In the hand, or the nose between soft jaws.",
            steps=(
                Step(do="Scrape or stone the burrs of both threads out of the pocket."),
                Step(
                    do=f"Break every other edge {bench.size(0.2)}; leave both bevels as they are.",
                    tool="fine file",
                ),
                Step(do="Wash, pull a clean rag through, oil lightly."),
                Step(
                    do=f"Try a bar Ø{bench.size(head_mm)} as the head: it drops through from the "
                    "nose.",
                    stop="STOP: if it sticks, find the burr; do not file the head.",
                ),
            ),
            cautions=("No air line: it drives chips into eyes and slides.",),
        ),
        piece,
    )


def _opened(job: Job, bush: NoseBush) -> tuple[Step, ...]:
    """Return how the pocket is opened for the thread; nothing where it is the tapping hole."""
    p, bench = job.tool.parameters, job.bench
    hole_mm, deep_mm = bushes.hole_mm(p, bush), bushes.hole_depth_mm(p, bush)
    if hole_mm <= parts.pocket_mm(p):
        return ()
    low_mm, high_mm = bench.limits_mm(hole_mm)
    return (
        bench.turn(
            f"Open for the thread, {bench.size(deep_mm)} deep, by drill or boring tool",
            material=job.part.material,
            from_mm=parts.pocket_mm(p),
            to_mm=hole_mm,
            limits_mm=(max(low_mm, hole_mm - 0.05), min(high_mm, hole_mm + 0.1)),
            inside=True,
        ),
    )


def _thread_steps(job: Job, bush: NoseBush) -> tuple[Step, ...]:
    """Return the bevel before the thread, and the thread."""
    p, bench, row = job.tool.parameters, job.bench, Thread.find(bush.thread)
    full_mm = bushes.full_thread_mm(p, bush)
    bevel = bench.form(
        "Lead into the thread by 60°, on the register's floor",
        "60° countersink or boring tool",
        material=job.part.material,
        diameter_mm=row.major_mm,
        kind="diameter",
        set_mm=row.major_mm,
        limits_mm=(row.major_mm, row.major_mm + 0.2),
    )
    tap = Step(
        do=f"Screw-cut, or tap led by the tailstock, {row.name}, full to depth",
        tool=f"internal threading tool or taps {row.name}",
        dial="0 = nose face",
        set_mm=full_mm,
        low_mm=full_mm,
        high_mm=bushes.hole_depth_mm(p, bush),
    )
    return (bevel, tap) if bushes.entry_mm(p, bush) > 0 else (tap,)


def _depth(do: str, bench: Bench, deep_mm: float) -> Step:
    low_mm, high_mm = bench.limits_mm(deep_mm)
    return Step(
        do=do,
        tool="depth gauge",
        dial="0 = nose face",
        set_mm=deep_mm,
        low_mm=low_mm,
        high_mm=high_mm,
    )
