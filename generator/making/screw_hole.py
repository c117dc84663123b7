"""The hole for the set screw, and the burr that it leaves in the bore."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import isnan, nan

from generator.making.bench import LEAST_MM
from generator.making.job import Job, Made
from generator.making.operation import Ask, Grip, Operation, Size, Step
from generator.making.slot_setups import LEAD_THREADS, hole_setup
from generator.making.speeds import Machine
from generator.making.states import Workpiece
from generator.model.part import CrossHole
from generator.standards.rows import Thread


def screw_hole(job: Job, piece: Workpiece) -> Made:
    """Drill and tap the hole for the set screw through one wall."""
    p, bench, material = job.tool.parameters, job.bench, job.part.material
    (hole,) = (cut for cut in job.part.cuts if isinstance(cut, CrossHole))
    milled = bench.shop.machines != "lathe"
    drill = bench.drill_for(
        hole.diameter_mm,
        Thread.find(p.set_screw.thread).minor_least_mm,
        else_do="file or scrape the hole to the tapping size with the tap's taper end.",
    )
    off_mm = 0.2
    asks: list[Ask] = [drill.ask]
    instead = [drill.instead] if drill.instead else []
    if milled:
        held = "On the mill: nose in V-blocks along the table, nose face against the end stop."
    else:
        held = (
            "Across the lathe: nose clamped on the cross-slide, its face against the end stop; "
            "drill in the headstock."
        )
        asks.append(Ask("vertical slide"))
        if not bench.has("vertical slide"):
            instead.append(
                "No vertical slide: pack the nose in the tool-post to centre height, square with a "
                f"bar; hole off the axis by up to {bench.size(off_mm)}, which costs no coaxiality."
            )
    machine: Machine = "mill" if milled else "lathe"
    steps = (
        Step(
            do="Find stop and middle: Set-up, screw hole in the body; lock that slide",
            tool="edge finder or cutter, paper",
        ),
        bench.form(
            "Spot where the screw comes",
            "centre drill",
            material=material,
            diameter_mm=3.0,
            machine=machine,
            dial="0 = nose face",
            set_mm=hole.z_mm,
            limits_mm=bench.limits_mm(hole.z_mm),
        ),
        *_drilled(job, drill.size_mm, machine),
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


def _drilled(job: Job, drill_mm: float, machine: Machine) -> Iterator[Step]:
    """Yield drilling and tapping, to the depths of the set-up."""
    bench, setup = job.bench, hole_setup(job.tool)
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


def deburr(job: Job, piece: Workpiece) -> Made:
    """Take the burr of the screw hole out of the bore; wash; try."""
    p, bench = job.tool.parameters, job.bench
    limits = job.tool.bore_limits
    bore_mm = p.bore.diameter_mm
    limits_mm = (bore_mm + limits.lower_um / 1000, bore_mm + limits.upper_um / 1000)
    return (
        Operation(
            part=job.part.name,
            title="Deburr the bore, wash and try",
            station="bench",
            holding="In the hand, or the nose between soft jaws.",
            steps=(
                Step(
                    do="Pass the reamer by hand past the screw hole, turning forward",
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
                Step(do="Wash, pull a clean rag through, oil lightly."),
                Step(
                    do="Try the plunger bar: it drops through by its own weight.",
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
