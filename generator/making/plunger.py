"""The operations of the plunger: both ends of finished bar, then the slot."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from math import cos, radians
from typing import Final, Literal

from generator.inputs.tables import ConeTip, SunkTip
from generator.making.bench import Bench
from generator.making.job import KEY, SWARF, Job, Made, Maker, carried_out
from generator.making.nose_side import bar, saw
from generator.making.operation import Ask, Grip, Operation, Route, Size, Step
from generator.making.slot_setups import SlotSetup, slot_setup, ways
from generator.making.speeds import Machine
from generator.making.states import Workpiece
from generator.model import parts, screwed
from generator.model.part import SideFlat, Slot
from generator.model.tips import End
from generator.model.tool import Tool

Which = Literal["front", "rear"]

BALL_OFF_MM: Final = 0.1
"""How far off a ball may stand: what 0.2 of mouth makes of it in a right angle; engineering
judgement, no source."""

HOLE_OFF_MM: Final = 0.1
"""How far an end of the slot may be off while it is cut; engineering judgement, no source."""


def plunger(tool: Tool, bench: Bench, route: Route) -> Iterator[Operation]:
    """Yield the operations of the plunger."""
    job = Job(tool, tool.plunger, bench, route)
    ball: tuple[Maker, ...] = (bonded_ball,) if tool.ball else ()
    flats = [partial(_side_flat, cut=cut) for cut in tool.plunger.cuts if isinstance(cut, SideFlat)]
    makers: tuple[Maker, ...] = (saw, _front_end, _rear_end, _slot, *flats, _relieved, *ball)
    yield from carried_out(job, bar(job), makers)


def _front_end(job: Job, piece: Workpiece) -> Made:
    return _end(job, piece, "front")


def _rear_end(job: Job, piece: Workpiece) -> Made:
    return _end(job, piece, "rear")


def _holding(job: Job) -> tuple[str, Ask, tuple[str, ...]]:
    """Return how the bar is held so that its ends come true to its outside."""
    bench = job.bench
    if bench.has("collets"):
        return (
            f"Collet, {bench.size(15.0, 1)} out. Do not turn the outside: it is finished bar.",
            Ask("collets"),
            (),
        )
    if bench.has("4-jaw chuck"):
        off = bench.size(bench.shop.clocked_mm, 3)
        return (
            f"4-jaw chuck, copper under the jaws, clocked to {off} on the bar.",
            Ask("4-jaw chuck"),
            (f"No collets: clocked, the cone is off the bar by up to {off}.",),
        )
    off = bench.size(bench.shop.three_jaw_mm)
    return (
        "3-jaw chuck, copper under the jaws.",
        Ask("3-jaw chuck"),
        (
            f"No collets: in the 3-jaw the cone is off the bar by up to {off}; bore a split bush "
            "in place and hold the bar in that, then it is off by a hundredth.",
        ),
    )


def tip_names(job: Job, which: Which) -> tuple[str, ...]:
    """Return the surfaces of one end."""
    forms = ("face", "flat", "point", "chamfer", "countersink", "pilot", "pilot point")
    return job.present(*(f"{which} {what}" for what in forms))


def _end(job: Job, piece: Workpiece, which: Which) -> Made:
    """Form one end of the plunger."""
    p, bench, material = job.tool.parameters, job.bench, job.part.material
    first = which == "front"
    end = parts.plunger_ends(p)[0 if first else 1]
    held, ask, instead = _holding(job)
    bench = bench.held(held)
    length_mm = job.length_mm
    at_mm = 0.0 if first else length_mm
    face = bench.face(
        "Face until clean" if first else "Face to length",
        material=material,
        diameter_mm=end.diameter_mm,
        dial="0 = this face" if first else "calipers over both ends",
        length_mm=float("nan") if first else length_mm,
        stop="" if first else "STOP: measure first; a short plunger cannot be lengthened.",
    )
    steps = [face, *form_steps(bench, material, end)]
    done = tip_names(job, which)
    after = piece.faced(front_mm=0.0) if first else piece.faced(rear_mm=length_mm)
    after = after.finished(*done)
    out_mm = max(15.0, end.outer_mm + 6, end.inner_mm + 6)
    grip = Grip(
        "collet" if ask.what == "collets" else "jaws",
        *((out_mm, length_mm) if first else (0.0, length_mm - out_mm)),
    )
    zero_mm = at_mm if end.point else 0.0
    sizes = [] if first else [Size("length", length_mm - zero_mm, length_mm)]
    if end.hollow:
        sizes.append(Size("diameter", at_mm, end.hollow.mouth_mm, f"{end.hollow.angle_deg:g}°, Ø"))
    elif end.point:
        cone_mm = end.point_mm
        sizes.append(Size("diameter", at_mm, end.point.flat_mm, "flat Ø"))
        sizes.append(Size("length", cone_mm if first else length_mm - cone_mm, cone_mm))
    asks = [ask]
    if end.hollow:
        pilot = bench.drill_for(
            end.hollow.pilot_mm,
            0.5 * end.hollow.pilot_mm,
            else_do="use the next centre drill; its pilot may be deeper.",
        )
        asks.append(pilot.ask)
        instead += (pilot.instead,) if pilot.instead else ()
    return (
        Operation(
            part=job.part.name,
            title=f"{'First' if first else 'Second'} end: {end.tip.style}",
            station="lathe",
            holding=held,
            left="rear" if first else "front",
            zero_mm=zero_mm,
            steps=tuple(steps),
            grips=(grip,),
            sizes=tuple(sizes),
            features=done,
            asks=tuple(asks),
            instead=instead,
            cautions=(KEY, SWARF),
        ),
        after,
    )


def form_steps(bench: Bench, material: str, end: End) -> Iterator[Step]:
    """Yield the steps that form an end after facing."""
    tip = end.tip
    if isinstance(tip, ConeTip):
        yield from _point(bench, material, end, tip)
        return
    if end.stock_mm > 0:
        yield Step(
            do=f"Leave it full; up to {bench.size(end.stock_mm)} comes off when you finish it"
        )
    if isinstance(tip, SunkTip):
        chosen = bench.drill_for(tip.pilot_mm, 0.0, else_do="")
        yield bench.form("Centre drill lightly", "centre drill", material=material, diameter_mm=2.0)
        yield bench.drill(
            "Pilot, to full Ø",
            material=material,
            diameter_mm=chosen.size_mm,
            depth_mm=end.pilot_mm,
            through=False,
        )
        yield bench.form(
            f"Countersink {tip.angle_deg:g}°, slow, one smooth pass",
            f"{tip.angle_deg:g}° countersink",
            material=material,
            diameter_mm=tip.mouth_mm,
            kind="diameter",
            set_mm=tip.mouth_mm,
            limits_mm=bench.limits_mm(tip.mouth_mm),
        )
    if tip.chamfer_mm > 0:
        yield bench.face(
            f"Chamfer the edge, {bench.size(tip.chamfer_mm)} at 45°",
            material=material,
            diameter_mm=end.diameter_mm,
            tool="45° tool",
        )


def _point(bench: Bench, material: str, end: End, tip: ConeTip) -> Iterator[Step]:
    """Yield the turning of a point, by the compound slide or by its profile."""
    half = tip.angle_deg / 2
    limits = bench.limits_mm(tip.flat_mm)
    slide = bench.size(end.point_mm / cos(radians(half)), 1)
    by = "its profile, nose radius set" if bench.numeric else f"the compound, {slide} of travel"
    turned = replace(
        bench.turn(
            f"Turn the point by {by}",
            material=material,
            from_mm=end.diameter_mm,
            to_mm=max(tip.flat_mm, 0.1),
            limits_mm=limits,
        ),
        set_mm=tip.flat_mm,
        dial="leave the flat; measure it",
        feed=bench.feed("fine turning") if bench.numeric else "by hand, evenly",
    )
    stop = "STOP: tool exactly on centre height, or a pip is left."
    if bench.numeric:
        turned = replace(turned, stop=stop)
    else:
        yield Step(
            do=f"Set the compound {half:g}° from the AXIS (many scales read {90 - half:g} there)",
            dial="prove with a protractor",
            stop=stop,
        )
    yield turned
    yield Step(do="Stone the point lightly; no ridges", tool="fine stone")


def _slot(job: Job, piece: Workpiece) -> Made:
    """Cut the slot with a slot drill, by the first way of its set-up that he has."""
    bench = job.bench
    (slot,) = (cut for cut in job.part.cuts if isinstance(cut, Slot))
    milled = bench.shop.machines != "lathe"
    slide = () if milled else (Ask("vertical slide"),)
    setup = slot_setup(job.tool, inch=bench.inch)
    width_mm = slot.width_mm if setup is None else setup.cutter_mm
    cutter = bench.cutter("end mill", width_mm, else_do=_narrower(bench, width_mm))
    lost = [cutter.instead] if cutter.instead else []
    if slide and not bench.has("vertical slide"):
        lost.append(
            "No vertical slide: the tool-post, packed to centre height. Or plane or file the slot, "
            "each by its set-up. No cost in coaxiality."
        )
    from_rear = setup is not None and setup.datum == "rear end"
    zero_mm = job.length_mm if from_rear else 0.0
    rear_mm = slot.front_mm + slot.length_mm
    through = slot.through(job.part.outline)
    label = "" if slot.square else f"{bench.size(slot.width_mm, 3)} wide, "
    label += "through " if through else "deep "
    return (
        Operation(
            part=job.part.name,
            title=_slot_title(slot, through=through),
            station="mill" if milled else "lathe",
            holding=_slot_holding(job, "rear end" if from_rear else "front end"),
            left="rear",
            zero_mm=zero_mm,
            steps=tuple(_slot_steps(job, slot, setup)),
            grips=(Grip("vice", rear_mm + 3, job.length_mm - 4),),
            sizes=(
                *(Size("length", at, abs(at - zero_mm)) for at in (slot.front_mm, rear_mm)),
                Size("diameter", slot.front_mm + slot.length_mm / 2, slot.depth_mm, label),
            ),
            features=(slot.name,),
            asks=(cutter.ask, *slide),
            instead=tuple(lost),
            cautions=(
                "Small cutters snap when the bar moves: clamp it, and clear the chips by brush.",
            ),
        ),
        replace(piece, cuts=(*piece.cuts, slot)),
    )


def _slot_title(slot: Slot, *, through: bool) -> str:
    if slot.square:
        return "Flat for the set screw"
    return "Slot for the cross pin" if through else "Slot for the set screw"


def _side_flat(job: Job, piece: Workpiece, *, cut: SideFlat) -> Made:
    """Mill the side flat of a half centre, with the bar held as for the slot."""
    bench, radius_mm = job.bench, job.part.outline.diameter_mm / 2
    front = cut.front_mm <= 0
    zero_mm = 0.0 if front else job.length_mm
    milled = bench.shop.machines != "lathe"
    over_mm = radius_mm + cut.off_mm
    low_mm, high_mm = bench.limits_mm(over_mm)
    return (
        Operation(
            part=job.part.name,
            title=f"Side flat of the {'front' if front else 'rear'} end",
            station="mill" if milled else "lathe",
            holding="As for the slot, which faces up: the flat lies on its side.",
            left="rear" if front else "front",
            zero_mm=zero_mm,
            steps=(
                Step(
                    do="Lower pass by pass until a micrometer over flat and far side reads",
                    tool="end mill, or a file",
                    set_mm=over_mm,
                    low_mm=low_mm,
                    high_mm=high_mm,
                    stop="STOP: never to the axis, or nothing is left to centre by.",
                ),
                Step(
                    do="Let it end square, from the tip",
                    set_mm=cut.length_mm,
                    low_mm=bench.limits_mm(cut.length_mm)[0],
                    high_mm=bench.limits_mm(cut.length_mm)[1],
                ),
                Step(do="Stone the edges; leave the cone as it is.", tool="fine stone"),
            ),
            grips=(
                Grip(
                    "vice",
                    *((cut.rear_mm + 3, job.length_mm - 4) if front else (4.0, cut.front_mm - 3)),
                ),
            ),
            sizes=(
                Size("length", cut.rear_mm if front else cut.front_mm, cut.length_mm),
                Size(
                    "diameter", cut.front_mm + cut.length_mm / 2, over_mm, "over flat and far side "
                ),
            ),
            features=(cut.name,),
        ),
        replace(piece, cuts=(*piece.cuts, cut)),
    )


def _slot_holding(job: Job, datum: str) -> str:
    held = {
        "mill": "On the mill: V-block or collet block",
        "vertical slide": "On the vertical slide: V-block, level; slot drill in the headstock",
    }
    way = ways(job.tool)[0]
    usual = "In the tool-post, across the bed at centre height; slot drill in the headstock"
    return f"{held.get(way, usual)}; {datum} against the end stop."


def _slot_steps(job: Job, slot: Slot, setup: SlotSetup | None) -> Iterator[Step]:
    """Yield the steps of the slot, to the positions and depths of its set-up."""
    bench, way = job.bench, ways(job.tool)[0]
    machine: Machine = "mill" if way == "mill" else "lathe"
    if setup is None:
        yield Step(do="The slot does not lie within the plunger: see the checks.")
        return
    off_mm = job.tool.parameters.making.slot_depth_tolerance_mm
    found = [size for size in bench.shop.end_mills_mm if size <= setup.cutter_mm + 1e-6]
    size_mm = max(found) if found else setup.cutter_mm
    spin = bench.milling(material=job.part.material, diameter_mm=size_mm, machine=machine)
    kind = "end mill" if slot.square else "slot drill"
    cut = Step(
        do="",
        tool=f"{kind} Ø{bench.size(size_mm, 3)}",
        rpm=spin.rpm,
        wanted_rpm=spin.wanted_rpm,
        feed=bench.table_feed(spin.rpm),
        dial=f"0 = {setup.datum}",
    )
    where = "on the mill" if way == "mill" else "on the lathe"
    yield Step(do=f"Find stop and middle by the set-up: {slot.name}, {where}", tool="paper, cutter")
    first, then = (
        ("Feed across the bar, the cutter's axis at", "Across again, beside it, the axis up to")
        if slot.square
        else ("Plunge the first pass, the cutter's axis at", "Cut along, the cutter's axis to")
    )
    for do, at_mm in ((first, setup.first_mm), (then, setup.last_mm)):
        yield replace(
            cut, do=do, set_mm=at_mm, low_mm=at_mm - HOLE_OFF_MM, high_mm=at_mm + HOLE_OFF_MM
        )
    passes = f"{bench.size(setup.depths_mm[0])} each"
    if setup.form == "through":
        yield replace(
            cut,
            do=f"Right through, pass by pass, {passes}",
            dial="0 = top of the bar",
            set_mm=setup.depths_mm[-1],
            low_mm=slot.depth_mm,
            high_mm=setup.depths_mm[-1] + 0.5,
        )
    else:
        yield replace(
            cut,
            do=f"Pass by pass to the depth, {passes}",
            dial="0 = top of the bar",
            set_mm=slot.depth_mm,
            low_mm=max(0.0, slot.depth_mm - off_mm),
            high_mm=slot.depth_mm + off_mm,
        )
    low_mm, high_mm = bench.limits_mm(slot.length_mm)
    yield Step(
        do="Open the ends, square, until the length is right"
        if slot.square
        else "Open the ends until the pins in them measure right",
        tool=f"{kind} or fine file",
        dial="length between the ends" if slot.square else "length over the round ends",
        set_mm=slot.length_mm,
        low_mm=low_mm,
        high_mm=high_mm,
        stop="STOP: this length is the travel; measure "
        + ("between the ends first." if slot.square else "over two pins first."),
    )


def _narrower(bench: Bench, width_mm: float) -> str:
    below = [size for size in bench.shop.end_mills_mm if size < width_mm]
    if below:
        aside = bench.size((width_mm - max(below)) / 2, 3)
        return f"two passes side by side with Ø{bench.size(max(below))}, {aside} either side."
    return "buy or borrow one; none in the list enters the slot."


def _relieved(job: Job, piece: Workpiece) -> Made:
    """Relieve the ends of the slot and try the plunger in the bore."""
    bench = job.bench
    return (
        Operation(
            part=job.part.name,
            title="Relieve and try the plunger",
            station="bench",
            holding="In the hand, on a clean rag.",
            steps=(
                Step(
                    do=f"Relieve the slot's ends by {bench.size(0.1)} on the outside",
                    tool="fine stone",
                    stop="STOP: the outside elsewhere is finished; do not touch it.",
                ),
                Step(do="Break every edge of the slot; no burr to be felt.", tool="fine stone"),
                Step(do="Wash, oil, and drop it through the bore: by its own weight."),
                Step(do="Mark which end is the front, on its face or in the slot.", tool="scriber"),
            ),
        ),
        piece,
    )


def bonded_ball(job: Job, piece: Workpiece) -> Made:
    """Bond the ball in its seat, last of all, and measure how far it stands out."""
    bench, p = job.bench, job.tool.parameters
    ends = [("tip", end) for end in screwed.tip_ends(p)]
    ends = ends or list(zip(("front end", "rear end"), parts.plunger_ends(p), strict=True))
    which, end = next((which, end) for which, end in ends if end.ball_mm)
    off_mm = BALL_OFF_MM
    return (
        Operation(
            part=job.part.name,
            title=f"Bond the ball in the {which}",
            station="bench",
            holding="Upright in the vice, copper on the jaws, the seat upward.",
            steps=(
                Step(
                    do="Wash ball and seat free of oil; do not touch them again.", tool="degreaser"
                ),
                Step(
                    do=f"Lay the ball Ø{bench.size(end.ball_mm, 3)} in dry: it stands out by",
                    tool="depth gauge",
                    set_mm=end.stands_mm,
                    low_mm=end.stands_mm - off_mm,
                    high_mm=end.stands_mm + off_mm,
                    stop="STOP: if it does not, the mouth is wrong; put that right first.",
                ),
                Step(
                    do="One drop in the seat; press the ball home with a flat bar.",
                    tool="retaining compound",
                ),
                Step(do="Wipe off what comes out; leave it a day before it is loaded."),
            ),
            cautions=("Retaining compound irritates the skin: gloves.",),
        ),
        piece,
    )
