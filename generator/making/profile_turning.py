"""Operations of a lathe that takes the profiles: each side in one tool path."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from generator.formulas import taper
from generator.making.job import KEY, SEMI_MM, Job, Made
from generator.making.nose_side import face_nose
from generator.making.operation import Grip, Operation, Size, Step
from generator.making.rear_side import rear_holding
from generator.making.sizes import STAND_OUT_MM
from generator.making.states import Workpiece, cylinder
from generator.model.shank import shank_of

LEFT_MM: Final = 0.03
"""Left on the radius by the path before the taper is fitted; engineering judgement, no source."""

PATH: Final = "STOP: run it in the air, well clear of the work, with the hand on the feed hold."


def _profile(job: Job) -> str:
    return f"{job.part.name}-turning.dxf, layer PROFILE_HALF"


def _load(job: Job, reach: str) -> Step:
    return Step(
        do=f"Load the profile, {reach}; nose radius set, G41/G42 on",
        tool="finishing insert",
        dial=_profile(job),
    )


def front_profile(job: Job, piece: Workpiece) -> Made:
    """Face and turn the nose side by its profile."""
    operation, after = face_nose(job, piece)
    p, bench = job.tool.parameters, job.bench
    nose_mm, rough_mm = p.body.nose_diameter_mm, job.rough_nose_mm
    hand = {step.do.split(" ")[0]: step for step in operation.steps}
    steps: tuple[Step, ...] = (
        _load(job, f"to Z-{bench.size(p.body.nose_length_mm, 1)}"),
        replace(hand["Face"], dial="Z0 = this face", feed=bench.feed("fine turning")),
        bench.turn(
            f"Rough cycle as G71, {bench.size(SEMI_MM)} left on the diameter",
            material=job.part.material,
            from_mm=after.part.outline.diameter_mm if after is piece else piece.diameter_mm,
            to_mm=nose_mm + SEMI_MM,
            rough=True,
        ),
        replace(
            bench.turn(
                "Finish cycle as G70: nose and its chamfer, one pass",
                material=job.part.material,
                from_mm=nose_mm + SEMI_MM,
                to_mm=nose_mm,
            ),
            stop=PATH,
        ),
    )
    return (
        replace(
            operation,
            title="Side 1: nose, by its profile",
            steps=steps,
            cautions=(KEY, "Guard shut while a path runs."),
            sizes=tuple(size for size in operation.sizes if size.size_mm != rough_mm),
        ),
        after,
    )


def rear_profile(job: Job, piece: Workpiece) -> Made:
    """Turn the whole rear side by its profile on the mandrel; fit the taper by its stand-off."""
    held, grip, asks, instead = rear_holding(job, bored=True)
    job = replace(job, bench=job.bench.held(held))
    p, bench, material = job.tool.parameters, job.bench, job.part.material
    mount_mm, nose_mm, length_mm = (
        shank_of(p.mount).diameter_mm,
        p.body.nose_length_mm,
        job.length_mm,
    )
    names = job.present(
        *("shoulder", "shank", "barrel", "taper", "rear shoulder", "extension", "tang neck"),
        "parallel body",
        "rear chamfer",
    )
    cut = [
        _load(job, "turned end for end"),
        bench.turn(
            f"Rough cycle as G71, {bench.size(SEMI_MM)} left on the diameter",
            material=material,
            from_mm=piece.outside_mm(length_mm),
            to_mm=mount_mm + SEMI_MM,
            rough=True,
        ),
        replace(
            bench.turn(
                f"Finish cycle as G70 in one path, {bench.size(LEFT_MM)} left on the radius",
                material=material,
                from_mm=mount_mm + SEMI_MM,
                to_mm=mount_mm + 2 * LEFT_MM,
                limits_mm=(mount_mm + LEFT_MM, mount_mm + 3 * LEFT_MM),
            ),
            stop=PATH,
        ),
    ]
    fitted, sizes = _fitted(job, cut[2])
    cut += fitted
    steps = tuple(cut)
    after = piece.turned(cylinder(nose_mm, length_mm, mount_mm + SEMI_MM)).finished(*names)
    return (
        Operation(
            part=job.part.name,
            title="Side 2: rear, by its profile on the mandrel",
            station="lathe",
            holding=held,
            left="front",
            zero_mm=length_mm,
            steps=steps,
            grips=(grip, Grip("centre", length_mm - p.body.recess_mm, length_mm)),
            sizes=tuple(sizes),
            features=names,
            asks=asks,
            instead=instead,
            cautions=("Guard shut while a path runs.", "Mandrel tight before every start."),
        ),
        after,
    )


def _fitted(job: Job, path: Step) -> tuple[list[Step], list[Size]]:
    """Return the steps that bring the mount to size after the first path, and what is drawn."""
    p, bench, length_mm = job.tool.parameters, job.bench, job.length_mm
    shank = shank_of(p.mount)
    mount_mm = shank.diameter_mm
    if shank.taper is None:
        again = bench.turn(
            "Offset X by what is left and repeat the finish path",
            material=job.part.material,
            from_mm=mount_mm + 2 * LEFT_MM,
            to_mm=mount_mm,
        )
        middle_mm = length_mm - (length_mm - p.body.nose_length_mm) / 3
        return [again], [Size("diameter", middle_mm, mount_mm)]
    rate = shank.taper.rate
    out_mm, gauge_mm = shank.stand_out_mm, job.part.outline.plane_mm("gauge plane")
    left_mm = taper.axial_shift_mm(radial_mm=LEFT_MM, taper=rate)
    per_mm = taper.axial_shift_mm(radial_mm=0.01, taper=rate)
    stand_off = Step(
        do="Blue in the socket; stand-off of the shoulder by depth rod",
        tool="blue, depth rod",
        set_mm=out_mm + left_mm,
        low_mm=out_mm + left_mm / 2,
        high_mm=out_mm + 2 * left_mm,
    )
    again = replace(
        path,
        do="Offset X by the rest and repeat the finish path",
        dial=f"{bench.size(0.02)} on the diameter sinks it {bench.size(per_mm)}",
        kind="length",
        set_mm=out_mm,
        low_mm=out_mm - STAND_OUT_MM,
        high_mm=out_mm + STAND_OUT_MM,
        stop="STOP: contact 75 % and heavier at the large end? Else the angle is wrong.",
    )
    sizes = [
        Size("diameter", gauge_mm, shank.taper.gauge_diameter_mm),
        Size("length", gauge_mm, length_mm - gauge_mm),
    ]
    return [stand_off, again], sizes
