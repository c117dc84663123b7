"""The operations of the nose bush: all that must agree in one setting, then flange and flats."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from generator.inputs.tables import NoseBush
from generator.making.bench import Bench
from generator.making.from_bar import DIE_MM, PARTED_MM, Held, held_small
from generator.making.job import KEY, SWARF, Job, Made, carried_out
from generator.making.nose_side import TRUE_START
from generator.making.operation import Grip, Operation, Route, Size, Step
from generator.making.states import Workpiece, blank, cylinder
from generator.making.stock import KERF_MM, STUB_MM, stock_mm
from generator.model import bush as bushes
from generator.model.outline import Segment
from generator.model.part import Part, SideFlat
from generator.model.tool import Tool, register_limits
from generator.standards.rows import Thread

STUB_LEFT_MM: Final = PARTED_MM + KERF_MM
"""What of the bar is turned with the flange beyond its face: what is parted off."""


def nose_bush(tool: Tool, bench: Bench, route: Route) -> Iterator[Operation]:
    """Yield the operations of the nose bush, if the tool has one."""
    if tool.bush is None:
        return
    job = Job(tool, tool.bush, bench, route)
    start = blank(
        job.part, diameter_mm=stock_mm(job.part), front_mm=-STUB_MM, rear_mm=job.length_mm + 1.0
    ).finished("axis")
    yield from carried_out(job, start, (outside, bore, flange, flats))


def _asked(job: Job) -> tuple[NoseBush, float]:
    """Return the bush as asked for, and how far it goes into the nose."""
    p = job.tool.parameters
    assert p.bush is not None  # called for a tool that has one
    assert p.shoulder is not None
    return p.bush, p.shoulder.guide_mm


def _run(part: Part, name: str) -> Segment:
    return part.outline.surface(name)


def _from_bar(job: Job) -> tuple[Held, str, Grip]:
    held = held_small(job)
    text = f"{held.word} on the bar, {job.bench.size(job.length_mm + 8, 0)} out."
    return held, text, Grip(held.hold, -STUB_MM, -STUB_LEFT_MM - 2.0)


def outside(job: Job, piece: Workpiece) -> Made:
    """Turn flange, spigot, groove and thread from the bar, the thread outward."""
    part, (held, text, grip) = job.part, _from_bar(job)
    bush, deep_mm = _asked(job)
    bench, length_mm = job.bench.held(held.word), job.length_mm
    row, (_, spigot) = Thread.find(bush.thread), register_limits(bush)
    names = (
        *("rear face", "flange", "flange seat", "spigot", "spigot chamfer", "spigot end"),
        *("relief", "relief end", "thread", "rear chamfer"),
    )
    after = (
        piece.faced(rear_mm=length_mm)
        .turned(cylinder(-STUB_LEFT_MM, length_mm, bush.flange_diameter_mm, "flange"))
        .finished(*names)
    )
    return (
        Operation(
            part=part.name,
            title="Nose bush: outside, from the bar",
            station="lathe",
            holding=text,
            left="front",
            zero_mm=length_mm,
            steps=tuple(_outside_steps(bench, job, piece, bush)),
            grips=(grip,),
            sizes=(
                Size("diameter", bush.flange_mm / 2, bush.flange_diameter_mm),
                Size("diameter", _run(part, "spigot").front_mm + 0.5, spigot.nominal_mm),
                Size(
                    "diameter", _run(part, "thread").rear_mm - 1.0, row.major_mm, f"{row.name}, Ø"
                ),
                Size("length", bush.flange_mm, deep_mm),
                Size("length", _run(part, "thread").front_mm, _run(part, "thread").length_mm),
            ),
            features=(*job.present(*names), f"{row.name} thread"),
            asks=held.asks,
            instead=held.instead,
            cautions=(KEY, SWARF, *_grabs(part)),
        ),
        replace(after, threads=part.threads),
    )


def _grabs(part: Part) -> tuple[str, ...]:
    """Return what copper alloys do to sharp tools."""
    if not part.material.startswith(("bronze", "brass")):
        return ()
    return ("Bronze and brass grab: no top rake on tools, dub the lips of drills.",)


def _outside_steps(bench: Bench, job: Job, piece: Workpiece, bush: NoseBush) -> Iterator[Step]:
    part, material, deep_mm = job.part, job.part.material, _asked(job)[1]
    row, (_, spigot) = Thread.find(bush.thread), register_limits(bush)
    relief = _run(part, "relief")
    yield bench.face(
        "Face until clean", material=material, diameter_mm=piece.diameter_mm, dial="0 = this face"
    )
    yield bench.turn(
        f"Turn the flange, {bench.size(job.length_mm + 3, 1)} long",
        material=material,
        from_mm=piece.diameter_mm,
        to_mm=bush.flange_diameter_mm,
    )
    low_mm, high_mm = bench.limits_mm(deep_mm)
    yield replace(
        bench.turn(
            f"Turn the spigot, {bench.size(deep_mm)} long, the seat square",
            material=material,
            from_mm=bush.flange_diameter_mm,
            to_mm=bush.register_mm + spigot.upper_um / 1000,
            limits_mm=(
                bush.register_mm + spigot.lower_um / 1000,
                bush.register_mm + spigot.upper_um / 1000,
            ),
        ),
        stop=f"STOP: length {bench.size(low_mm)} to {bench.size(high_mm)} sets how far the point "
        "comes out.",
    )
    yield bench.turn(
        f"Turn for the thread, {bench.size(_run(part, 'thread').length_mm + relief.length_mm)} "
        "long",
        material=material,
        from_mm=bush.register_mm,
        to_mm=row.major_mm - DIE_MM,
        limits_mm=(row.major_mm - 2 * DIE_MM, row.major_mm),
    )
    yield bench.form(
        f"Groove behind the thread, {bench.size(relief.length_mm)} wide",
        "grooving tool",
        material=material,
        diameter_mm=row.major_mm,
        kind="diameter",
        set_mm=relief.diameter_mm,
        limits_mm=bench.limits_mm(relief.diameter_mm),
    )
    yield bench.face(
        f"Chamfer the thread {bench.size(bushes.thread_edge_mm(bush))}, the spigot "
        f"{bench.size(bushes.SPIGOT_EDGE_MM)}, at 45°",
        material=material,
        diameter_mm=bush.register_mm,
        tool="45° tool",
    )
    yield Step(
        do=f"Screw-cut {row.name}, or the die led by the tailstock, to the groove",
        tool=f"threading tool or die {row.name}",
        stop="STOP: it screws into the body by hand, with play to feel; the spigot locates.",
    )


def bore(job: Job, piece: Workpiece) -> Made:
    """Drill and ream the bore in the same holding, and part off."""
    p, part, (held, text, grip) = job.tool.parameters, job.part, _from_bar(job)
    job = replace(job, bench=job.bench.held(held.word))
    bench, material, length_mm = job.bench, job.part.material, job.length_mm
    bore_mm, limits = p.bore.diameter_mm, job.tool.bore_limits
    chosen = bench.before_reaming(bore_mm)
    reamer = bench.cutter("reamer", bore_mm, else_do="bore to the limits with the boring tool.")
    mouth_mm = bore_mm + bushes.BORE_BEVEL_MM
    true_mm = min(TRUE_START * bore_mm, length_mm)
    limits_mm = (bore_mm + limits.lower_um / 1000, bore_mm + limits.upper_um / 1000)
    steps = (
        bench.centre_drill(bore_mm, material=material, most_mm=chosen.size_mm),
        bench.drill(
            "Drill under the reamer",
            material=material,
            diameter_mm=chosen.size_mm,
            depth_mm=length_mm + STUB_LEFT_MM,
            through=False,
        ),
        Step(
            do=f"Touch out the first {bench.size(true_mm, 0)} true, if the drill ran off",
            tool="small boring tool, or D-bit",
        ),
        bench.ream(
            "Ream, slow, one pass in",
            material=material,
            limits_mm=limits_mm,
            size_mm=bore_mm,
        ),
        _mouth(bench, part, mouth_mm),
        bench.face(
            "Part off, the flange thicker by what is faced",
            material=material,
            diameter_mm=part.outline.diameter_mm,
            tool="parting tool",
            dial="0 = rear face",
            length_mm=length_mm + PARTED_MM,
        ),
    )
    after = (
        piece.bored(cylinder(-STUB_LEFT_MM, length_mm, bore_mm, "bore"))
        .finished("rear bevel")
        .faced(front_mm=-PARTED_MM)
    )
    lost = tuple(each.instead for each in (chosen, reamer) if each.instead)
    return (
        Operation(
            part=part.name,
            title="Nose bush: bore, same holding",
            station="lathe",
            holding=text,
            left="front",
            zero_mm=length_mm,
            steps=steps,
            grips=(grip,),
            sizes=(
                Size("diameter", length_mm / 2, bore_mm),
                Size("length", -PARTED_MM, length_mm + PARTED_MM),
            ),
            features=job.present("bore", "rear bevel"),
            asks=(*held.asks, chosen.ask, reamer.ask),
            instead=(*held.instead, *lost),
            cautions=(
                "Do not loosen it before the bore is reamed: bore and spigot agree only so.",
                "Never turn a reamer backward. Catch the bush on a rod when it is parted off.",
            ),
        ),
        after,
    )


def _mouth(bench: Bench, part: Part, mouth_mm: float) -> Step:
    return bench.form(
        "Bevel the mouth 60°",
        "60° countersink",
        material=part.material,
        diameter_mm=mouth_mm,
        kind="diameter",
        set_mm=mouth_mm,
        limits_mm=bench.limits_mm(mouth_mm),
    )


def flange(job: Job, piece: Workpiece) -> Made:
    """Face the flange to its thickness, the bush screwed home in the body, and bevel its mouth."""
    part, (bush, _) = job.part, _asked(job)
    held = held_small(job)
    bench, mouth_mm = job.bench.held(held.word), 2 * part.outline.corners[-1].r_mm
    names = ("front face", "front chamfer", "front bevel")
    steps = (
        Step(
            do="Blue on the seat; screw it home in the body: blue all round",
            tool="marking blue",
            stop="STOP: blue on one side only? The seat or the nose is not square.",
        ),
        bench.face(
            "Face the flange to its thickness",
            material=part.material,
            diameter_mm=bush.flange_diameter_mm,
            dial="calipers over flange and seat, bush out",
            length_mm=bush.flange_mm,
        ),
        bench.face(
            f"Chamfer the flange, {bench.size(bushes.FLANGE_EDGE_MM)} at 45°",
            material=part.material,
            diameter_mm=bush.flange_diameter_mm,
            tool="45° tool",
        ),
        _mouth(bench, part, mouth_mm),
        Step(
            do="Indicator on a pin in the bore, body turned in its own mount",
            tool="0.01 indicator",
            set_mm=0.0,
            low_mm=0.0,
            high_mm=job.tool.parameters.making.runout_mm,
        ),
    )
    return (
        Operation(
            part=part.name,
            title="Nose bush: flange, screwed home in the body",
            station="lathe",
            holding=f"{held.word} on the finished body, copper under jaws; the bush home in it.",
            steps=steps,
            grips=(Grip(held.hold, _run(part, "thread").front_mm, job.length_mm),),
            sizes=(Size("length", bush.flange_mm, bush.flange_mm),),
            features=job.present(*names),
            asks=held.asks,
            instead=held.instead,
            cautions=(KEY, "Right-hand thread: light cuts, and the spindle never in reverse."),
        ),
        piece.faced(front_mm=0.0).finished(*names),
    )


def flats(job: Job, piece: Workpiece) -> Made:
    """Mill or file the flats for the spanner."""
    bench, part = job.bench, job.part
    (cut,) = (each for each in part.cuts if isinstance(each, SideFlat))
    across_mm = 2 * cut.off_mm
    low_mm, high_mm = bench.limits_mm(across_mm)
    milled = bench.shop.machines != "lathe"
    over_mm = (part.outline.diameter_mm + across_mm) / 2
    steps = (
        Step(
            do="First flat: down until it reads over flat and far side",
            tool="end mill" if milled else "file, and a square",
            set_mm=over_mm,
            low_mm=over_mm - (high_mm - low_mm) / 4,
            high_mm=over_mm + (high_mm - low_mm) / 4,
        ),
        Step(
            do="Turn half round, flat on a parallel; second flat to width",
            tool="end mill" if milled else "file, and calipers",
            set_mm=across_mm,
            low_mm=low_mm,
            high_mm=high_mm,
            stop="STOP: try the spanner; it must not rock.",
        ),
        Step(do="Deburr; nothing may stand up on the seat.", tool="fine stone"),
    )
    return (
        Operation(
            part=part.name,
            title="Nose bush: flats for the spanner",
            station="mill" if milled else "bench",
            holding="By the spigot in a split bush, in the vice; never by the thread.",
            steps=steps,
            grips=(Grip("vice", cut.length_mm, job.length_mm),),
            sizes=(Size("diameter", cut.length_mm / 2, across_mm, "A/F "),),
            features=(cut.name,),
            asks=(),
            cautions=("Clamp it well; clear the chips by brush.",),
        ),
        replace(piece, cuts=(*piece.cuts, cut)),
    )
