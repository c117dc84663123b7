"""The closed rear of a body with a blind bore: its centre and vent, a tang, an arbor's socket."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from generator.formulas import taper
from generator.making.bench import Bench
from generator.making.job import KEY, SWARF, Job, Made
from generator.making.operation import Grip, Operation, Size, Step
from generator.making.rear_side import rear_holding
from generator.making.screw_hole import across, spotted
from generator.making.states import Workpiece
from generator.model.part import CrossHole, SideFlat
from generator.model.shank import Socket, shank_of
from generator.units import MM_PER_INCH

BLUED_MM: Final = 0.2
"""Left in a tapered socket when it is first blued; common practice, no source."""

TRAVEL_MM: Final = 25.0


def mill_tang(job: Job, piece: Workpiece) -> Made:
    """Mill the two flats of the tang."""
    (cut,) = (each for each in job.part.cuts if isinstance(each, SideFlat))
    shank = shank_of(job.tool.parameters.mount)
    assert shank.tang is not None
    bench, neck_mm = job.bench, shank.tang.diameter_mm
    over_mm = neck_mm / 2 + cut.off_mm
    milled = bench.shop.machines != "lathe"
    low_mm, high_mm = bench.limits_mm(over_mm)
    held = (
        "On the mill: nose in V-blocks along the table, rear end free, a jack under the taper."
        if milled
        else "Across the lathe: body in the tool-post on packing at centre height, end mill in the "
        "headstock."
    )
    return (
        Operation(
            part=job.part.name,
            title="Flats of the tang",
            station="mill" if milled else "lathe",
            holding=held,
            left="front",
            zero_mm=job.length_mm,
            steps=(
                Step(
                    do="First flat: down until a micrometer over flat and far side reads",
                    tool=f"end mill, corner radius to {bench.size(shank.tang.root_radius_mm)}",
                    set_mm=over_mm,
                    low_mm=low_mm,
                    high_mm=high_mm,
                ),
                Step(
                    do="Turn half round, first flat on the parallel; second flat to",
                    set_mm=2 * cut.off_mm,
                    low_mm=2 * cut.off_mm - shank.tang.thickness_tolerance_mm,
                    high_mm=2 * cut.off_mm,
                    stop="STOP: both flats as far from the axis? Else the drift pushes aside.",
                ),
                Step(
                    do="Length of both flats, from the rear end",
                    set_mm=cut.length_mm,
                    low_mm=bench.limits_mm(cut.length_mm)[0],
                    high_mm=bench.limits_mm(cut.length_mm)[1],
                ),
                Step(do="Round the end of the tang and break its edges", tool="file"),
            ),
            grips=(Grip("vice", 0.0, job.tool.parameters.body.nose_length_mm),),
            sizes=(
                Size("length", cut.front_mm, cut.length_mm),
                Size("diameter", cut.front_mm + cut.length_mm / 2, 2 * cut.off_mm, "flats "),
            ),
            features=(cut.name,),
            cautions=(
                "Clamp on the nose, copper under it; the jack only steadies the finished taper.",
            ),
        ),
        replace(piece, cuts=(*piece.cuts, cut)),
    )


def bore_socket(job: Job, piece: Workpiece) -> Made:
    """Bore the rear end for its arbor: a taper, or a thread with its register."""
    shank = shank_of(job.tool.parameters.mount)
    socket = shank.socket
    assert socket is not None
    held, grip, asks, instead = rear_holding(job, bored=not job.rear_first)
    bench, material, length_mm = job.bench.held(held), job.part.material, job.length_mm
    drill = bench.drill_for(
        socket.foot_mm,
        0.5 * socket.foot_mm,
        else_do="the next smaller, then the boring tool.",
    )
    steps = [
        bench.drill(
            "Drill, to full Ø",
            material=material,
            diameter_mm=drill.size_mm,
            depth_mm=socket.depth_mm,
            through=False,
            stop="STOP: depth stop set? Deeper meets the bore.",
        ),
        *(_tapered(bench, socket, material) if socket.thread is None else ()),
        *(_threaded(bench, socket, material) if socket.thread is not None else ()),
    ]
    names = job.present(
        *("arbor register", "arbor register floor", "rear bevel"),
        *("arbor thread", "socket taper", "socket floor"),
    )
    threads = tuple(each for each in job.part.threads if each.surface == "arbor thread")
    run = job.part.outline.surface(socket.surface)
    return (
        Operation(
            part=job.part.name,
            title="Socket for the arbor",
            station="lathe",
            holding=held,
            left="front",
            zero_mm=length_mm,
            steps=tuple(steps),
            grips=(grip,),
            sizes=(
                Size("diameter", (run.front_mm + run.rear_mm) / 2, socket.foot_mm),
                Size("length", length_mm - socket.depth_mm, socket.depth_mm),
            ),
            features=(*names, *(f"{each.designation} thread" for each in threads)),
            asks=(drill.ask, *asks),
            instead=(*((drill.instead,) if drill.instead else ()), *instead),
            cautions=(KEY, SWARF),
        ),
        replace(piece.finished(*names), threads=(*piece.threads, *threads)),
    )


def _tapered(bench: Bench, socket: Socket, material: str) -> Iterator[Step]:
    rate = (socket.mouth_mm - socket.foot_mm) / socket.depth_mm
    travel_mm = MM_PER_INCH if bench.inch else TRAVEL_MM
    rise_mm = taper.dial_rise_mm(travel_mm=travel_mm, taper=rate)
    yield Step(
        do="Set the compound by the arbor itself, true in the headstock",
        tool="indicator",
        dial=f"no reading along its taper; on a true bar {bench.size(rise_mm, 3)} in "
        f"{bench.size(travel_mm)}",
    )
    yield bench.turn(
        "Bore the taper by the compound until clean",
        material=material,
        from_mm=socket.foot_mm,
        to_mm=socket.mouth_mm - BLUED_MM,
        inside=True,
    )
    yield Step(
        do="Blue with the arbor: 75 %, heavier at the mouth; stand-off?",
        tool="blue, arbor",
        stop="STOP: contact at one end only? Set the slide again; do not cut on.",
    )
    yield bench.turn(
        "Finish until the arbor goes in to its large end",
        material=material,
        from_mm=socket.mouth_mm - BLUED_MM,
        to_mm=socket.mouth_mm,
        inside=True,
    )


def _threaded(bench: Bench, socket: Socket, material: str) -> Iterator[Step]:
    assert socket.thread is not None
    if socket.register_mm > 0:
        yield bench.turn(
            f"Bore the arbor's register, {bench.size(socket.register_length_mm, 1)} deep; try it",
            material=material,
            from_mm=socket.foot_mm,
            to_mm=socket.register_mm,
            inside=True,
        )
    yield bench.form(
        "Bevel the mouth 60°",
        "60° countersink",
        material=material,
        diameter_mm=socket.mouth_mm,
    )
    full_mm = socket.register_length_mm + socket.length_mm
    yield Step(
        do=f"Thread {socket.thread.name}: cut in the lathe, or tap guided by the tailstock",
        tool=f"tap {socket.thread.name}",
        dial="0 = rear face",
        set_mm=full_mm,
        low_mm=full_mm,
        high_mm=socket.depth_mm,
        stop="STOP: the arbor goes on by hand, to its shoulder, and sits there without rock.",
    )


def drill_vent(job: Job, piece: Workpiece) -> Made:
    """Drill the vent through the wall, across the body."""
    p, bench = job.tool.parameters, job.bench
    hole = next(
        cut for cut in job.part.cuts if isinstance(cut, CrossHole) and cut.name == "vent hole"
    )
    milled = bench.shop.machines != "lathe"
    held, asks, instead = across(job)
    drill = bench.drill_for(hole.diameter_mm, 0.5 * hole.diameter_mm, else_do="any near its size.")
    outside_mm = 2 * job.part.outline.radius_at_mm(hole.z_mm, inside=False)
    drilled = bench.drill(
        "Drill the vent, to the bore",
        material=job.part.material,
        diameter_mm=drill.size_mm,
        depth_mm=(outside_mm - p.bore.diameter_mm) / 2 + hole.diameter_mm,
        through=False,
        machine="mill" if milled else "lathe",
    )
    return (
        Operation(
            part=job.part.name,
            title="Vent hole",
            station="mill" if milled else "lathe",
            holding=held,
            steps=(*spotted(job, hole, "mill" if milled else "lathe"), drilled),
            grips=(Grip("vice", p.body.nose_length_mm * 0.2, p.body.nose_length_mm),),
            sizes=(
                Size("length", hole.z_mm, hole.z_mm),
                Size("diameter", hole.z_mm, hole.diameter_mm),
            ),
            features=(hole.name,),
            asks=(drill.ask, *asks),
            instead=(*((drill.instead,) if drill.instead else ()), *instead),
            cautions=("Burr out of the bore before anything is tried in it.",),
        ),
        replace(piece, cuts=(*piece.cuts, hole)),
    )
