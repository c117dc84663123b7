"""Operations on the rear side of the body: its face, the mount, the rear thread."""

from __future__ import annotations

from dataclasses import replace
from math import radians, tan
from typing import Final

from generator.making.job import JAW_MM, KEY, SWARF, Job, Made, chucked
from generator.making.nose_side import mouth_steps, turned_nose
from generator.making.operation import Ask, Grip, Operation, Size, Step
from generator.making.states import Profile, Run, Workpiece, cylinder
from generator.model import mouths
from generator.model.shank import shank_of


def rear_holding(job: Job, *, bored: bool) -> tuple[str, Grip, tuple[Ask, ...], tuple[str, ...]]:
    """Return how the nose is held with the rear end outward."""
    p, bench = job.tool.parameters, job.bench
    shop, to_mm = bench.shop, min(JAW_MM, p.body.nose_length_mm)
    if not bored:
        thing, grip, asks = chucked(job, 0.0, to_mm)
        missing = () if bench.has(thing) else ("No chuck in the list: a faceplate with a V-block.",)
        return f"{thing[0].upper()}{thing[1:]}: nose end in the jaws.", grip, asks, missing
    three = (
        f"No 4-jaw chuck, steady or mandrel: the 3-jaw holds it off by up to "
        f"{bench.size(shop.three_jaw_mm)}, which goes into bore and mount.",
    )
    if job.route.key == "3-jaw":
        return (
            "3-jaw chuck on the nose, copper under the jaws.",
            Grip("jaws", 0.0, to_mm),
            (Ask("3-jaw chuck"),),
            three,
        )
    if job.route.key == "mandrel" or (job.route.key == "centres" and bench.has("mandrel")):
        text = "Expanding mandrel in the bore from the nose, run true in the headstock."
        return (
            text,
            Grip("mandrel", 0.0, 0.5 * job.length_mm),
            (Ask("mandrel"),),
            (() if bench.has("mandrel") else three),
        )
    if bench.has("4-jaw chuck") or job.route.key == "4-jaw":
        text = (
            "4-jaw chuck on the outside turned with the bore, clocked to "
            f"{bench.size(shop.clocked_mm, 3)} at both ends."
        )
        return (
            text,
            Grip("jaws", 0.0, to_mm),
            (Ask("4-jaw chuck"),),
            (() if bench.has("4-jaw chuck") else three),
        )
    if bench.has("steady"):
        text = "Nose in the chuck, rear end in the fixed steady, set to the turned outside."
        return text, Grip("jaws", 0.0, to_mm), (Ask("steady"),), ()
    return (
        "3-jaw chuck on the outside turned with the bore.",
        Grip("jaws", 0.0, to_mm),
        (Ask("3-jaw chuck"),),
        three,
    )


def bevel(job: Job) -> Profile:
    """Return the rear bevel as a whole cone, as it is before the hole is opened."""
    outline = job.part.outline
    if not outline.has("rear bevel"):
        return ()
    run = outline.surface("rear bevel")
    large_mm = run.diameter_mm / 2
    depth_mm = large_mm / tan(radians(mouths.BEVEL_DEG / 2))
    return (Run(run.rear_mm - depth_mm, run.rear_mm, 0.0, large_mm, "rear bevel"),)


def rear_mouth(job: Job) -> list[Step]:
    """Return the steps that cut recess and bevel at the rear mouth."""
    outline = job.part.outline
    mouth_mm = outline.surface("rear bevel").diameter_mm
    recessed = outline.has("rear recess")
    rim_mm = outline.surface("rear recess").diameter_mm if recessed else mouth_mm
    return mouth_steps(job, mouth_mm, rim_mm=rim_mm, face="rear face")


MOUTH: Final = ("rear recess", "rear recess floor", "rear bevel")
CENTRE: Final = ("rear bevel", "rear centre", "rear centre point", "vent")


def rear_centre(job: Job) -> list[Step]:
    """Return the steps that centre a solid rear end, and drill its vent where it has one."""
    bench, outline, material = job.bench, job.part.outline, job.part.material
    bevel, vented = outline.surface("rear bevel"), outline.has("vent")
    steps = [
        bench.form(
            "Centre drill, its cone to size: keep it to the end",
            f"centre drill Ø{bench.size(bevel.small_diameter_mm)}",
            material=material,
            diameter_mm=bevel.diameter_mm,
            kind="diameter",
            set_mm=bevel.diameter_mm,
            limits_mm=bench.limits_mm(bevel.diameter_mm),
        )
    ]
    if vented:
        vent = outline.surface("vent")
        steps.append(
            bench.drill(
                "Vent, into the bore" if not job.rear_first else "Vent, as deep as the bore meets",
                material=material,
                diameter_mm=vent.diameter_mm,
                depth_mm=job.length_mm - vent.front_mm,
                through=False,
                stop="STOP: draw it right out each few millimetres; it clogs and breaks.",
            )
        )
    return steps


def face_rear(job: Job, piece: Workpiece) -> Made:
    """Face the second end to length; bevel its mouth if the bore is there."""
    p, bench, material = job.tool.parameters, job.bench, job.part.material
    bored = not job.rear_first
    held, grip, asks, instead = rear_holding(job, bored=bored)
    job = replace(job, bench=bench.held(held))
    bench, length_mm = job.bench, job.length_mm
    at_mm = piece.outside_mm(piece.rear_mm)
    if bored:
        first = bench.face(
            "Face to length",
            material=material,
            diameter_mm=at_mm,
            dial="calipers over both faces",
            length_mm=length_mm,
        )
    else:
        first = bench.face(
            "Face until clean; wind on no more than that",
            material=material,
            diameter_mm=at_mm,
            dial="0 = this face, for all lengths",
        )
    steps = [first]
    after = piece.faced(rear_mm=length_mm)
    rough_mm, at_end_mm = job.rough_nose_mm, after.outside_mm(length_mm)
    done = job.present("rear face")
    sizes = [Size("length", length_mm, length_mm)] if bored else []
    front_mm = grip.to_mm + 1.0 if not bored else 0.0
    whole = job.route.key != "mandrel"
    if whole and at_end_mm > rough_mm + 0.05:
        steps.append(
            bench.turn(
                _roughed_text(job, after, rough_mm),
                material=material,
                from_mm=at_end_mm,
                to_mm=rough_mm,
                rough=True,
            )
        )
        after = after.turned(cylinder(max(front_mm, grip.to_mm), length_mm, rough_mm))
    socket = shank_of(p.mount).socket
    if p.disc is not None and socket is None:
        steps += rear_centre(job)
        names = job.present(*CENTRE)
        after = after.finished(*names)
        done += names
        bevel_mm = job.part.outline.surface("rear bevel").diameter_mm
        sizes.append(Size("diameter", length_mm, bevel_mm))
    elif bored and socket is None:
        steps += rear_mouth(job)
        after = after.bored(bevel(job)).finished("rear recess")
        done += job.present(*MOUTH)
        mouth_mm = job.part.outline.surface("rear bevel").diameter_mm
        sizes.append(Size("diameter", length_mm - p.body.recess_mm, mouth_mm))
    elif not bored:
        small_mm = 0.3 * p.bore.diameter_mm
        steps.append(
            bench.form(
                "Centre drill, for the tailstock centre",
                f"centre drill Ø{bench.size(small_mm, 1)}",
                material=material,
                diameter_mm=max(2 * small_mm, 1.0),
            )
        )
        hole_mm = 0.8 * p.bore.diameter_mm
        deep_mm = hole_mm / 2 / tan(radians(30.0))
        after = after.bored((Run(length_mm - deep_mm, length_mm, 0.0, hole_mm / 2),))
    return (
        Operation(
            part=job.part.name,
            title="Face the rear end to length",
            station="lathe",
            holding=held,
            left="front",
            zero_mm=0.0 if bored else length_mm,
            steps=tuple(steps),
            grips=(grip,),
            sizes=tuple(sizes),
            features=done,
            asks=asks,
            instead=instead,
            cautions=(KEY, SWARF),
        ),
        after,
    )


def _roughed_text(job: Job, piece: Workpiece, rough_mm: float) -> str:
    """Return how much is roughed at the second end: what the jaws held, or all but that."""
    thick = [run.front_mm for run in piece.outer if 2 * run.front_r_mm > rough_mm + 0.05]
    if job.rear_first or min(thick, default=0.0) <= 0:
        return "Rough the outside as far as the jaws"
    long_mm = job.length_mm - min(thick)
    return f"Rough what was in the jaws, {job.bench.size(long_mm, 1)} long"


def between(job: Job, dog_front: bool) -> tuple[Grip, ...]:
    """Return the holding between centres, the dog on the nose or on the rear end."""
    p, length_mm = job.tool.parameters, job.length_mm
    dog = Grip("dog", 3.0, 10.0) if dog_front else Grip("dog", length_mm - 11.0, length_mm - 4.0)
    return (
        Grip("centre", p.body.recess_mm, 0.0),
        Grip("centre", length_mm - p.body.recess_mm, length_mm),
        dog,
    )


def nose_between(job: Job, piece: Workpiece) -> Made:
    """Turn the nose between centres."""
    p, bench = job.tool.parameters, job.bench
    steps, after, names = turned_nose(
        replace(job, bench=bench.held("between centres")), piece, piece.outside_mm(0.0)
    )
    missing = (
        ()
        if bench.has("centres")
        else (
            "No centres: 4-jaw chuck, clocked; off by up to "
            f"{bench.size(bench.shop.clocked_mm, 3)}.",
        )
    )
    return (
        Operation(
            part=job.part.name,
            title="Nose, between centres",
            station="lathe",
            holding="Between centres on the two bevels, dog on the rear end. Turn the headstock "
            "centre true in its place first; oil the tailstock centre.",
            steps=tuple(steps),
            left="rear",
            grips=between(job, False),
            features=names,
            sizes=(
                Size("diameter", p.body.nose_length_mm / 2, p.body.nose_diameter_mm),
                Size("length", p.body.nose_length_mm, p.body.nose_length_mm),
            ),
            asks=(Ask("centres"),),
            instead=missing,
            cautions=("Tie the dog to the driver; keep sleeves away from it.",),
        ),
        after,
    )
