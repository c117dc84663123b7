"""Milling the shank after turning: flats for a set screw of the holder, a slot for a key."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil
from typing import Final

from generator.making.bench import Chosen
from generator.making.job import Job, Made
from generator.making.operation import Ask, Grip, Operation, Size, Step
from generator.making.slot_setups import FLAT_CUTTERS_MM, PAPER_MM, STEP_IN, STEP_MM
from generator.making.speeds import Machine
from generator.making.states import Workpiece
from generator.model.milled import KEY_PLAY_UM, milled, over_flat
from generator.model.part import Slot
from generator.units import MM_PER_INCH

FILED_MM: Final = 0.1
"""What a filed flat may be off in depth; engineering judgement."""


def mill_shank(job: Job, piece: Workpiece) -> Made:
    """Mill what the shank has besides its turned surfaces: flats, or a slot for a key."""
    bench, cut = job.bench, milled(job.tool)
    assert cut is not None
    on_mill = bench.shop.machines != "lathe"
    cutter = _cutter(job, cut)
    asks = (cutter.ask, *(() if on_mill else (Ask("vertical slide"),)))
    instead = [cutter.instead] if cutter.instead else []
    if not on_mill and not bench.has("vertical slide"):
        instead.append(_by_hand(job, cut))
    steps = _flat_steps(job, cut, cutter) if cut.square else _slot_steps(job, cut, cutter)
    what = f"{_word(cut).capitalize()} on the shank"
    over, middle_mm = over_flat(job.tool), cut.front_mm + cut.length_mm / 2
    deep = (
        Size("diameter", middle_mm, cut.depth_mm, "deep ")
        if over is None
        else Size("diameter", middle_mm, over.nominal_mm, f"over {_word(cut)} ")
    )
    return (
        Operation(
            part=job.part.name,
            title=what if cut.square else "Key slot in the shank",
            station="mill" if on_mill else "lathe",
            holding=_holding(on_mill=on_mill),
            zero_mm=job.length_mm,
            steps=tuple(steps),
            grips=(Grip("vice", *_gripped(job, cut)),),
            sizes=(
                *(
                    Size("length", at_mm, job.length_mm - at_mm)
                    for at_mm in (cut.front_mm, cut.rear_mm)
                    if at_mm < job.length_mm - 1e-6
                ),
                deep,
            ),
            features=(cut.name,),
            asks=asks,
            instead=tuple(instead),
            cautions=(
                "The shank is finished: copper or brass between it and every clamp.",
                "Clamp it: a cutter that grabs rolls the work over.",
            ),
        ),
        replace(piece, cuts=(*piece.cuts, cut)),
    )


def _word(cut: Slot) -> str:
    return "flats" if cut.both else "flat"


def _holding(*, on_mill: bool) -> str:
    if on_mill:
        return (
            "On the mill: shank in V-blocks along the table, copper between, rear face against "
            "the end stop."
        )
    return (
        "On the vertical slide: shank in a V-block, level, rear face against a stop; cutter in "
        "the headstock."
    )


def _gripped(job: Job, cut: Slot) -> tuple[float, float]:
    """Return where the sketch shows the work held: beside the cut, where there is more room."""
    nose_mm = job.tool.parameters.body.nose_length_mm
    if cut.front_mm - nose_mm >= job.length_mm - cut.rear_mm:
        return nose_mm + 1.0, max(cut.front_mm - 2.0, nose_mm + 2.0)
    return cut.rear_mm + 2.0, job.length_mm - 1.0


def _cutter(job: Job, cut: Slot) -> Chosen:
    """Return the cutter: as wide as a key slot; for a flat the largest that takes two passes."""
    bench = job.bench
    if not cut.square:
        below = [size for size in bench.shop.end_mills_mm if size < cut.width_mm]
        otherwise = (
            f"Ø{bench.size(max(below))} down the middle, then a pass along either wall."
            if below
            else "buy or borrow one; none in the list enters the slot."
        )
        return bench.cutter("end mill", _key_cutter_mm(job, cut), else_do=otherwise)
    listed = bench.shop.end_mills_mm or FLAT_CUTTERS_MM
    size_mm = max(
        (each for each in listed if each <= cut.length_mm / 2),
        default=min(*listed, cut.length_mm),
    )
    return Chosen(size_mm, Ask("end mill", size_mm))


def _key_cutter_mm(job: Job, cut: Slot) -> float:
    """Return the cutter of a key slot: one he has that cuts within limits, else its width."""
    most_mm = cut.width_mm + KEY_PLAY_UM / 1000
    listed = job.bench.shop.end_mills_mm or FLAT_CUTTERS_MM
    fitting = [size for size in listed if cut.width_mm <= size <= most_mm]
    return fitting[0] if fitting else cut.width_mm


def _by_hand(job: Job, cut: Slot) -> str:
    if cut.square:
        return (
            "No vertical slide: saw both ends to just short of the depth and file between them, "
            f"the shank in V-blocks; flat to {job.bench.size(FILED_MM)}. No cost in coaxiality."
        )
    return (
        "No vertical slide: shank across the bed in the tool-post, packed to centre height. No "
        "cost in coaxiality."
    )


def _spun(job: Job, cutter: Chosen, kind: str) -> Step:
    """Return a cut with the cutter, at its speed; what it does is still to be told."""
    bench = job.bench
    machine: Machine = "lathe" if bench.shop.machines == "lathe" else "mill"
    spin = bench.milling(material=job.part.material, diameter_mm=cutter.size_mm, machine=machine)
    return Step(
        do="",
        tool=f"{kind} Ø{bench.size(cutter.size_mm, 3)}",
        rpm=spin.rpm,
        wanted_rpm=spin.wanted_rpm,
        feed=bench.table_feed(spin.rpm),
        dial="0 = rear face",
    )


def _flat_steps(job: Job, cut: Slot, cutter: Chosen) -> Iterator[Step]:
    """Yield the steps of one flat, or of two opposite each other."""
    bench = job.bench
    spun = _spun(job, cutter, "end mill")
    near_mm, far_mm = job.length_mm - cut.rear_mm, job.length_mm - cut.front_mm
    over = over_flat(job.tool)
    assert over is not None
    yield Step(
        do="Touch the rear face, then the top of the shank, paper between",
        tool="paper, cutter",
        dial=f"axis to face: half the cutter and {bench.size(PAPER_MM)}",
    )
    half_mm = cutter.size_mm / 2
    for do, at_mm in (
        ("Feed across the shank, the cutter's axis at", near_mm + half_mm),
        ("Across again, beside it, the axis up to", far_mm - half_mm),
    ):
        low_mm, high_mm = bench.limits_mm(at_mm)
        yield replace(spun, do=do, set_mm=at_mm, low_mm=low_mm, high_mm=high_mm)
    wide_um = over.upper_um - over.lower_um
    ways = [("Pass by pass, {}, until flat to far side reads", over.nominal_mm)]
    if cut.both:
        ways = [
            (ways[0][0], over.nominal_mm + cut.depth_mm),
            ("Roll it over, first flat on a parallel; mill the other: over both", over.nominal_mm),
        ]
    for do, size_mm in ways:
        yield replace(
            spun,
            do=do.format(_passes(job, cut)),
            dial="0 = top of the shank",
            set_mm=size_mm - wide_um / 2000,
            low_mm=size_mm - wide_um / 1000,
            high_mm=size_mm,
            stop="STOP: the bore lies below; measure before the last pass.",
        )
    yield _stoned()


def _slot_steps(job: Job, cut: Slot, cutter: Chosen) -> Iterator[Step]:
    """Yield the steps of a slot for a key, open at the rear."""
    bench = job.bench
    spun = _spun(job, cutter, "slot drill")
    aside_mm = cut.floor_mm(job.part.outline) + cut.depth_mm + cutter.size_mm / 2 + PAPER_MM
    yield Step(
        do="Touch the side of the shank, paper between; over the middle: wind by",
        tool="paper, cutter",
        set_mm=aside_mm,
        low_mm=aside_mm - PAPER_MM,
        high_mm=aside_mm + PAPER_MM,
    )
    end_mm = job.length_mm - cut.front_mm - cut.width_mm / 2
    low_mm, high_mm = bench.limits_mm(end_mm)
    yield replace(
        spun,
        do="Cut in from the rear face, the cutter's axis up to",
        set_mm=end_mm,
        low_mm=low_mm,
        high_mm=high_mm,
        stop="STOP: not beyond, the key needs no more and the wall does.",
    )
    low_mm, high_mm = bench.limits_mm(cut.depth_mm)
    yield replace(
        spun,
        do=f"Pass by pass to the depth, {_passes(job, cut)}",
        dial="0 = top of the shank",
        set_mm=cut.depth_mm,
        low_mm=cut.depth_mm,
        high_mm=high_mm,
    )
    yield Step(
        do="Open the walls, if need be: the key or a gauge block slides",
        tool="slot drill or fine file",
        set_mm=cut.width_mm,
        low_mm=cut.width_mm,
        high_mm=cut.width_mm + KEY_PLAY_UM / 1000,
    )
    yield _stoned()


def _passes(job: Job, cut: Slot) -> str:
    """Return how deep each pass is, or how many there are."""
    step_mm = STEP_IN * MM_PER_INCH if job.bench.inch else STEP_MM
    count = ceil(cut.depth_mm / step_mm - 1e-6)
    return f"{count} of {job.bench.size(step_mm)} or less"


def _stoned() -> Step:
    return Step(
        do="Stone the edges: nothing may stand above the shank",
        tool="fine stone",
        stop="STOP: a burr here keeps the shank from its seat and puts it out of true.",
    )
