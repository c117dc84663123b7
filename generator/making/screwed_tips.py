"""The operations of tips that screw into the stem, and of the hole and the flats of the stem."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from typing import Final

from generator.inputs.screwed_tips import ScrewedTips
from generator.making.bench import Bench
from generator.making.from_bar import DIE_MM, held_small
from generator.making.inspect_tips import ALIKE_MM, register_deep, spigot_long
from generator.making.job import KEY, SWARF, Job, Made, Maker, carried_out
from generator.making.operation import Ask, Grip, Operation, Route, Size, Step
from generator.making.plunger import bonded_ball, form_steps, tip_names
from generator.making.states import Workpiece, blank
from generator.making.stock import STUB_MM, stock_mm
from generator.model import screwed
from generator.model.part import SideFlat
from generator.model.tips import End
from generator.model.tool import Tool
from generator.standards.bands import ToleranceZone

PARTED_MM: Final = 0.5
"""Left in front of the working end where a tip is parted off; common practice, no source."""

ROUGH_MM: Final = 0.3
"""Left on the spigot for the last cut; common practice, no source."""

FLATS_OFF_MM: Final = 0.1
"""What the flats may be narrower than drawn, for a spanner to go on; common practice, no source."""


def stem_hole(job: Job, piece: Workpiece) -> Made:
    """Drill, tap and counterbore the stem in the holding in which it was turned."""
    tips, bench, material = _asked(job.tool), job.bench, job.part.material
    row, held = screwed.row_of(tips), held_small(job)
    bench = bench.held(held.word)
    drill = bench.drill_for(
        row.tapping_drill_mm,
        row.minor_least_mm,
        else_do="the next larger up to the thread's limit.",
    )
    deep_mm, register_mm = screwed.register_deep_mm(tips), tips.register_mm
    limits_mm = _limits_mm(tips.hole_tolerance, register_mm)
    deep = register_deep(job.tool.parameters, tips)
    steps = (
        bench.drill(
            "Drill for the tip's thread",
            material=material,
            diameter_mm=drill.size_mm,
            depth_mm=screwed.hole_deep_mm(tips),
            through=False,
        ),
        replace(
            bench.turn(
                "Counterbore the register, true and with a sharp bottom",
                material=material,
                from_mm=row.tapping_drill_mm,
                to_mm=register_mm,
                limits_mm=limits_mm,
                inside=True,
            ),
            stop="STOP: try a spigot, or a plug gauge turned to its size, first.",
        ),
        Step(
            do="Depth of the register: a little deeper than the spigot is long",
            tool="depth gauge",
            dial="0 = front face",
            set_mm=deep_mm,
            low_mm=deep.least,
            high_mm=deep.greatest,
        ),
        bench.face(
            f"Chamfer its mouth, {bench.size(tips.edge_mm)} at 45°",
            material=material,
            diameter_mm=register_mm,
            tool="45° tool",
        ),
        Step(
            do=f"Tap {row.name}, second and bottoming, square by the tailstock, by hand",
            tool=f"tap {row.name}",
            dial="0 = front face",
            set_mm=tips.tapped_mm,
            low_mm=tips.tapped_mm,
            high_mm=screwed.hole_deep_mm(tips),
        ),
        Step(
            do="Front face square and clean once more, no burr: every tip bears on it",
            tool="facing tool",
            stop="STOP: now, before anything is measured from this face.",
        ),
    )
    names = job.present(
        "front bevel", "tip register", "tip register floor", "tip thread", "front drill point"
    )
    s = job.tool.parameters.shoulder
    assert s is not None  # the rules ask for it
    return (
        Operation(
            part=job.part.name,
            title="Hole for the tips, in the same holding",
            station="lathe",
            holding=f"{held.word} as before: not let go since the stem was turned.",
            left="rear",
            steps=steps,
            grips=(Grip(held.hold, s.stem_mm + s.head_length_mm + 8, job.length_mm),),
            sizes=(
                Size("diameter", deep_mm / 2, register_mm),
                Size("length", deep_mm, deep_mm),
            ),
            features=(*names, f"{row.name} thread"),
            asks=(*held.asks, drill.ask),
            instead=(*held.instead, *((drill.instead,) if drill.instead else ())),
            cautions=(KEY, "Blow nothing out: turn the stem downward and tap it; chips by a wire."),
        ),
        replace(piece.finished(*names), threads=job.part.threads),
    )


def flats(job: Job, piece: Workpiece) -> Made:
    """Mill or file the two spanner flats beside the joint."""
    (cut,) = (each for each in job.part.cuts if isinstance(each, SideFlat))
    bench, across_mm = job.bench, 2 * cut.off_mm
    diameter_mm = job.part.outline.radius_at_mm(cut.front_mm + cut.length_mm / 2, inside=False) * 2
    over_mm = diameter_mm / 2 + cut.off_mm
    milled = bench.shop.machines != "lathe"
    low_mm, high_mm = bench.limits_mm(over_mm)
    long_low_mm, long_high_mm = bench.limits_mm(cut.length_mm)
    stem = cut.front_mm <= 0
    inner_mm = cut.rear_mm + 2 if stem else 0.0
    outer_mm = job.length_mm - 4 if stem else max(1.0, cut.front_mm - 1)
    return (
        Operation(
            part=job.part.name,
            title="Spanner flats" if stem else f"{job.part.title}: spanner flats",
            station="mill" if milled else "bench",
            holding=(
                "In a V-block on the mill, the joint end free; a stop on the bar's end."
                if milled
                else "In a V-block or split bush in the vice, the joint end free; by file."
            ),
            left="rear" if stem else "front",
            zero_mm=0.0 if stem else cut.rear_mm,
            steps=(
                Step(
                    do="First flat: down until a micrometer over flat and far side reads",
                    tool="end mill" if milled else "fine file",
                    set_mm=over_mm,
                    low_mm=low_mm,
                    high_mm=high_mm,
                ),
                Step(
                    do="Turn half round, first flat level; second flat to",
                    tool="end mill" if milled else "fine file",
                    set_mm=across_mm,
                    low_mm=across_mm - FLATS_OFF_MM,
                    high_mm=across_mm,
                ),
                Step(
                    do="Length of both, from the joint; they end square",
                    set_mm=cut.length_mm,
                    low_mm=long_low_mm,
                    high_mm=long_high_mm,
                ),
                Step(
                    do="Stone the edges; nothing may stand over the round or the face",
                    tool="fine stone",
                    stop="STOP: a burr here scores the bore." if stem else "",
                ),
            ),
            grips=(Grip("vice", inner_mm, outer_mm),),
            sizes=(
                Size("length", cut.rear_mm if stem else cut.front_mm, cut.length_mm),
                Size("diameter", cut.front_mm + cut.length_mm / 2, across_mm, "across flats "),
            ),
            features=(cut.name,),
        ),
        replace(piece, cuts=(*piece.cuts, cut)),
    )


def tips(tool: Tool, bench: Bench, route: Route) -> Iterator[Operation]:
    """Yield the operations of every tip: its joint from the bar, its working end in the stem."""
    for part, end in zip(tool.tips, screwed.tip_ends(tool.parameters), strict=True):
        job = Job(tool, part, bench, route)
        bar = blank(
            part, diameter_mm=stock_mm(part), front_mm=-STUB_MM, rear_mm=job.length_mm + 1.0
        ).finished("axis")
        bond: tuple[Maker, ...] = (bonded_ball,) if end.ball_mm else ()
        yield from carried_out(job, bar, (_joint, partial(_working_end, end=end), flats, *bond))


def _asked(tool: Tool) -> ScrewedTips:
    asked = tool.parameters.screwed_tips
    assert asked is not None  # called for a tool with screwed tips
    return asked


def _limits_mm(zone: str, size_mm: float) -> tuple[float, float]:
    upper_um, lower_um = ToleranceZone.limits_um(zone, size_mm)
    return size_mm + lower_um / 1000, size_mm + upper_um / 1000


def _joint(job: Job, piece: Workpiece) -> Made:
    """Turn head, spigot and stud in one holding, the joint outward, and part off."""
    asked, part, held = _asked(job.tool), job.part, held_small(job)
    bench, material, length_mm = job.bench.held(held.word), part.material, job.length_mm
    row, spigot_mm = screwed.row_of(asked), asked.register_mm
    behind_mm = asked.register_length_mm + asked.stud_mm
    long = spigot_long(job.tool.parameters, asked)
    fit_mm = _limits_mm(asked.spigot_tolerance, spigot_mm)
    rough_mm = spigot_mm + ROUGH_MM
    steps = (
        bench.face(
            "Face until clean",
            material=material,
            diameter_mm=piece.diameter_mm,
            dial="0 = end of the stud",
        ),
        bench.turn(
            f"Turn the head, {bench.size(length_mm + 4, 1)} long",
            material=material,
            from_mm=piece.diameter_mm,
            to_mm=asked.diameter_mm,
        ),
        bench.turn(
            f"Rough spigot and stud, {bench.size(behind_mm, 1)} long to the shoulder",
            material=material,
            from_mm=asked.diameter_mm,
            to_mm=rough_mm,
            rough=True,
        ),
        bench.turn(
            f"Turn for the stud, {bench.size(asked.stud_mm, 1)} long",
            material=material,
            from_mm=rough_mm,
            to_mm=row.major_mm - DIE_MM,
            limits_mm=(row.major_mm - 2 * DIE_MM, row.major_mm),
        ),
        Step(
            do="Chamfer its end; die, guided by the tailstock, up to the spigot",
            tool=f"die {row.name}",
        ),
        replace(
            bench.turn(
                "Finish spigot and shoulder, the corner sharp or a little under",
                material=material,
                from_mm=rough_mm,
                to_mm=sum(fit_mm) / 2,
                limits_mm=fit_mm,
            ),
            stop="STOP: enters the stem's register without play to be felt?",
        ),
        Step(
            do="Length of the spigot, to the shoulder",
            tool="facing tool",
            dial="0 = end of the spigot",
            set_mm=asked.register_length_mm,
            low_mm=long.least,
            high_mm=long.greatest,
        ),
        bench.face(
            "Part off",
            material=material,
            diameter_mm=asked.diameter_mm,
            tool="parting tool",
            dial="0 = end of the stud",
            length_mm=length_mm + PARTED_MM,
        ),
    )
    names = job.present(
        *("head", "seat", "tip spigot", "spigot end", "stud", "rear chamfer", "rear face")
    )
    after = piece.faced(front_mm=-PARTED_MM, rear_mm=length_mm).finished(*names)
    head = part.outline.surface("head")
    ahead = replace(
        after,
        outer=tuple(
            replace(run, front_r_mm=head.diameter_mm / 2, rear_r_mm=head.diameter_mm / 2)
            if run.rear_mm <= head.front_mm + 1e-9
            else run
            for run in after.outer
        ),
        threads=part.threads,
    )
    return (
        Operation(
            part=part.name,
            title=f"{part.title}: its joint, from the bar",
            station="lathe",
            holding=f"{held.word} on the bar, {bench.size(length_mm + 8, 0)} out.",
            left="front",
            zero_mm=length_mm,
            steps=steps,
            grips=(Grip(held.hold, -STUB_MM, -6.0),),
            sizes=(
                Size("diameter", asked.length_mm + asked.register_length_mm / 2, spigot_mm),
                Size("length", asked.length_mm, behind_mm),
            ),
            features=(*names, f"{row.name} thread"),
            asks=held.asks,
            instead=held.instead,
            cautions=(KEY, SWARF),
        ),
        ahead,
    )


def _working_end(job: Job, piece: Workpiece, *, end: End) -> Made:
    """Form the working end of a tip, screwed home in the stem that it belongs to."""
    asked, bench, material = _asked(job.tool), job.bench, job.part.material
    collets = bench.has("collets")
    held = (
        "Tip screwed home in the finished plunger, its stem in a collet, flats outside."
        if collets
        else "Tip screwed home in the finished plunger, its stem in a split bush bored in place."
    )
    bench = bench.held(held)
    faced = bench.face(
        "Face the end until the tip is as long as all its like",
        material=material,
        diameter_mm=asked.diameter_mm,
        dial="calipers, tip to the shoulder",
        length_mm=asked.length_mm,
        stop="STOP: this length is the stroke's; all tips have the same.",
    )
    low_mm, high_mm = asked.length_mm - ALIKE_MM, asked.length_mm + ALIKE_MM
    steps = [
        replace(faced, low_mm=low_mm, high_mm=high_mm),
        *form_steps(bench, material, end),
    ]
    names = tip_names(job, "front")
    sizes = [Size("length", asked.length_mm, asked.length_mm)]
    asks, instead = [Ask("collets")], []
    if not collets:
        instead.append("No collets: bore a split bush in place for the stem, never the jaws.")
    if end.hollow is not None:
        pilot = bench.drill_for(
            end.hollow.pilot_mm,
            0.5 * end.hollow.pilot_mm,
            else_do="use the next centre drill; its pilot may be deeper.",
        )
        asks.append(pilot.ask)
        instead += [pilot.instead] if pilot.instead else []
        sizes.append(Size("diameter", 0.0, end.hollow.mouth_mm, f"{end.hollow.angle_deg:g}°, Ø"))
    elif end.point is not None:
        sizes.append(Size("diameter", 0.0, end.point.flat_mm, "flat Ø"))
    return (
        Operation(
            part=job.part.name,
            title=f"{job.part.title}: its working end",
            station="lathe",
            holding=held,
            left="rear",
            steps=tuple(steps),
            grips=(Grip("collet" if collets else "jaws", asked.length_mm, job.length_mm),),
            sizes=tuple(sizes),
            features=names,
            asks=tuple(asks),
            instead=tuple(instead),
            cautions=(KEY, SWARF),
        ),
        piece.faced(front_mm=0.0).finished(*names),
    )
