"""The hole across the nose for set screw or pin, and the burr that it leaves in the bore."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import isnan, nan
from typing import Final

from generator.making.bench import LEAST_MM
from generator.making.job import Job, Made
from generator.making.operation import Ask, Grip, Operation, Size, Step
from generator.making.slot_setups import CLEAR_MM, LEAD_THREADS, HoleSetup, hole_setup
from generator.making.speeds import Machine
from generator.making.states import Workpiece
from generator.model.part import CrossHole
from generator.standards.rows import Thread

REAM_MM: Final = 0.2
"""What a drill leaves on the diameter of the pin's hole for the reamer; common practice."""

OFF_MM: Final = 0.2
"""What packing by hand may put a hole off the axis; engineering judgement."""


def across(job: Job) -> tuple[str, tuple[Ask, ...], tuple[str, ...]]:
    """Return how the nose is held for a hole across it, what that asks for, and what if not."""
    bench = job.bench
    if bench.shop.machines != "lathe":
        return (
            "On the mill: nose in V-blocks along the table, nose face against the end stop.",
            (),
            (),
        )
    held = (
        "Across the lathe: nose clamped on the cross-slide, its face against the end stop; "
        "drill in the headstock."
    )
    lost = (
        ()
        if bench.has("vertical slide")
        else (
            "No vertical slide: pack the nose in the tool-post to centre height, square with a "
            f"bar; hole off the axis by up to {bench.size(OFF_MM)}, which costs no coaxiality.",
        )
    )
    return held, (Ask("vertical slide"),), lost


def hole_across(job: Job, piece: Workpiece) -> Made:
    """Make the hole across the nose: tapped for the set screw, or reamed for a pin."""
    (hole,) = (
        cut for cut in job.part.cuts if isinstance(cut, CrossHole) and cut.name != "vent hole"
    )
    return _screw_hole(job, piece, hole) if hole.thread else _pin_hole(job, piece, hole)


def spotted(job: Job, hole: CrossHole, machine: Machine) -> tuple[Step, Step]:
    """Return the steps that find the place of a hole across the nose and spot it."""
    bench, what = job.bench, hole.name.removesuffix(" hole")
    set_up = "pin" if job.tool.parameters.cross_pin else "screw"
    return (
        Step(
            do=f"Find stop and middle: Set-up, {set_up} hole in the body; lock that slide",
            tool="edge finder or cutter, paper",
        ),
        bench.form(
            f"Spot where the {what} comes",
            "centre drill",
            material=job.part.material,
            diameter_mm=3.0,
            machine=machine,
            dial="0 = nose face",
            set_mm=hole.z_mm,
            limits_mm=bench.limits_mm(hole.z_mm),
        ),
    )


def _pin_hole(job: Job, piece: Workpiece, hole: CrossHole) -> Made:
    """Drill and ream the hole for the cross pin."""
    p, bench, material = job.tool.parameters, job.bench, job.part.material
    milled = bench.shop.machines != "lathe"
    machine: Machine = "mill" if milled else "lathe"
    held, asks, instead = across(job)
    drill = bench.drill_for(
        hole.diameter_mm - REAM_MM,
        0.5 * hole.diameter_mm,
        else_do="the next smaller, then file or a reamer in steps.",
    )
    reamer = bench.cutter(
        "reamer", hole.diameter_mm, else_do="drill to the pin's size and turn the pin to suit it."
    )
    outside_mm = 2 * job.part.outline.radius_at_mm(hole.z_mm, inside=False)
    far_mm = (outside_mm + p.bore.diameter_mm) / 2 - CLEAR_MM
    deep_mm = outside_mm if hole.both else far_mm
    drilled = bench.drill(
        "Drill through both walls" if hole.both else "Drill through one wall",
        material=material,
        diameter_mm=drill.size_mm,
        depth_mm=deep_mm,
        through=hole.both,
        machine=machine,
        flat=True,
    )
    if not hole.both:
        drilled = replace(
            drilled, stop="STOP: set the depth stop; the point must not reach the far wall."
        )
    off_mm = 0.01
    ream = Step(
        do="Pin hole: ream in the same setting, slow, oil; try the pin",
        tool=f"reamer Ø{bench.size(hole.diameter_mm, 3)}",
        kind="diameter",
        set_mm=hole.diameter_mm,
        low_mm=hole.diameter_mm - off_mm,
        high_mm=hole.diameter_mm + off_mm,
        stop="STOP: ream scrap first; a loose pin wanders out.",
    )
    return (
        Operation(
            part=job.part.name,
            title="Hole for the cross pin",
            station="mill" if milled else "lathe",
            holding=held,
            steps=(*spotted(job, hole, machine), drilled, ream),
            grips=(Grip("vice", p.body.nose_length_mm * 0.2, p.body.nose_length_mm),),
            sizes=(
                Size("length", hole.z_mm, hole.z_mm),
                Size("diameter", hole.z_mm, hole.diameter_mm, "pin Ø"),
            ),
            features=(hole.name,),
            asks=(drill.ask, reamer.ask, *asks),
            instead=(*(each.instead for each in (drill, reamer) if each.instead), *instead),
            cautions=("Clamp it: a drill that grabs in the bore spins the work.",),
        ),
        replace(piece, cuts=(*piece.cuts, hole)),
    )


def _screw_hole(job: Job, piece: Workpiece, hole: CrossHole) -> Made:
    """Drill and tap the hole for the set screw through one wall."""
    p, bench = job.tool.parameters, job.bench
    milled = bench.shop.machines != "lathe"
    drill = bench.drill_for(
        hole.diameter_mm,
        Thread.find(hole.thread).minor_least_mm,
        else_do="file or scrape the hole to the tapping size with the tap's taper end.",
    )
    held, slide, lost = across(job)
    asks: list[Ask] = [drill.ask, *slide]
    instead = [*([drill.instead] if drill.instead else []), *lost]
    machine: Machine = "mill" if milled else "lathe"
    steps = (
        *spotted(job, hole, machine),
        *_drilled(job, hole, drill.size_mm, machine),
    )
    return (
        Operation(
            part=job.part.name,
            title="Hole for the set screw",
            station="mill" if milled else "lathe",
            holding=held,
            steps=steps,
            grips=(Grip("vice", p.body.nose_length_mm * 0.2, p.body.nose_length_mm),),
            sizes=(
                Size("length", hole.z_mm, hole.z_mm),
                Size("diameter", hole.z_mm, drill.size_mm, f"{hole.thread}, drill Ø"),
            ),
            features=(hole.name,),
            asks=tuple(asks),
            instead=tuple(instead),
            cautions=("Clamp it: a drill that grabs in the bore spins the work.",),
        ),
        replace(piece, cuts=(*piece.cuts, hole)),
    )


def _drilled(job: Job, hole: CrossHole, drill_mm: float, machine: Machine) -> Iterator[Step]:
    """Yield drilling and tapping, to the depths of the set-up."""
    bench, setup = job.bench, hole_setup(job.tool)
    if setup is not None and hole.ledge_mm:
        yield from _ledged(job, hole, setup, machine)
        return
    if setup is None:
        yield Step(do="There is no wall for the screw here: see the checks.")
        return
    blocked = isnan(setup.set_mm)
    least_mm = setup.least_mm
    depth_mm = max(setup.most_mm, LEAST_MM) if blocked else setup.set_mm
    drilled = bench.drill(
        "Plug the bore with brass rod; drill through one wall" if blocked else "Drill one wall",
        material=job.part.material,
        diameter_mm=drill_mm,
        depth_mm=depth_mm,
        through=False,
        machine=machine,
        flat=True,
    )
    yield replace(
        drilled,
        stop="STOP: set the depth stop; the point must not reach the far wall.",
        dial=f"0 = point on the nose; stop at {bench.size(depth_mm)}",
        set_mm=nan if blocked else depth_mm,
        low_mm=nan if blocked else least_mm,
        high_mm=nan if blocked else setup.most_mm,
    )
    deep = f"front end {bench.size(setup.tap_least_mm, 1)} deep"
    short = setup.tap_least_mm > setup.tap_most_mm
    kind = "second tap" if setup.lead_threads == LEAD_THREADS else "bottoming tap"
    yield Step(
        do=f"Tap {setup.thread} by hand, started in the spindle, half turns back",
        tool=f"{kind} {setup.thread}{', front end ground off' if short else ''}",
        dial=f"{deep}, {bench.size(setup.tap_most_mm, 1)} at most" if not short else "one wall",
    )


def _ledged(job: Job, hole: CrossHole, setup: HoleSetup, machine: Machine) -> Iterator[Step]:
    """Yield drilling and tapping of a hole that keeps a ledge at the bore."""
    bench, material = job.bench, job.part.material
    deep_mm = setup.wall_mm - hole.ledge_mm
    through_mm = max(LEAST_MM, min(setup.most_mm, setup.wall_mm + hole.through_mm))
    yield replace(
        bench.drill(
            "Drill through one wall for the tip",
            material=material,
            diameter_mm=hole.through_mm,
            depth_mm=through_mm,
            through=False,
            machine=machine,
            flat=True,
        ),
        stop="STOP: set the depth stop; the point must not reach the far wall.",
    )
    low_mm, high_mm = deep_mm - LEDGE_OFF_MM, deep_mm + LEDGE_OFF_MM
    yield Step(
        do="Counterbore for the thread, flat: the ledge stays",
        tool=f"slot drill or flat drill Ø{bench.size(hole.diameter_mm)}",
        dial="0 = top of the nose",
        set_mm=deep_mm,
        low_mm=low_mm,
        high_mm=high_mm,
        stop="STOP: this depth sets the gap under the tip for good.",
    )
    yield Step(
        do=f"Tap {setup.thread} to the ledge by hand, bottoming tap last",
        tool=f"taper and bottoming tap {setup.thread}",
    )


LEDGE_OFF_MM: Final = 0.05
"""How close the ledge is cut, so that the gap stays within its limits; engineering judgement."""


def deburr(job: Job, piece: Workpiece) -> Made:
    """Take the burr of the screw hole out of the bore; wash; try."""
    p, bench = job.tool.parameters, job.bench
    limits = job.tool.bore_limits
    bore_mm = p.bore.diameter_mm
    limits_mm = (bore_mm + limits.lower_um / 1000, bore_mm + limits.upper_um / 1000)
    crossed = [cut.name for cut in job.part.cuts if isinstance(cut, CrossHole)]
    right = "through" if p.disc is None else "to the bottom"
    past = f"past the {crossed[0]}" if crossed else "through"
    return (
        Operation(
            part=job.part.name,
            title="Deburr the bore, wash and try",
            station="bench",
            holding="In the hand, or the nose between soft jaws.",
            steps=(
                Step(
                    do=f"Pass the reamer by hand {past}, turning forward",
                    tool=bench.reamer(bore_mm, limits_mm),
                    kind="diameter",
                    set_mm=bore_mm + max(0.0, limits.lower_um) / 1000,
                    low_mm=limits_mm[0],
                    high_mm=limits_mm[1],
                ),
                Step(
                    do=f"Break every other edge {bench.size(0.2)}; leave both bevels as they are.",
                    tool="fine file",
                ),
                Step(do=f"Wash, wipe with a clean rag {right}, oil lightly."),
                Step(
                    do=f"Try the plunger bar: it drops {right} by its own weight."
                    if crossed
                    else "Try the stem, or bar of its size: it drops through by its own weight.",
                    stop="STOP: if it sticks, find the burr; do not file the plunger.",
                ),
            ),
            features=(),
            cautions=("No air line: it drives chips into eyes and slides.",),
            asks=(bench.cutter("reamer", bore_mm, else_do="").ask,),
            instead=()
            if not bench.cutter("reamer", bore_mm, else_do="").instead
            else ("No reamer: take the burr off with a scraper or a stone on a stick.",),
        ),
        piece,
    )
