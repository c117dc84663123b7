"""Operations on the nose side of the body: the bar, the face, the bore and its bevel."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from generator.checks.making import bored_mm
from generator.formulas import cone
from generator.making.job import JAW_MM, KEY, SWARF, Job, Made, chucked
from generator.making.operation import Ask, Grip, Operation, Size, Step
from generator.making.routes import REAMER_LEAD_MM
from generator.making.states import Workpiece, blank, cylinder
from generator.making.stock import FACING_MM, finished_bar, stock_mm
from generator.model import parts
from generator.model.shank import shank_of
from generator.model.tips import DRILL_POINT_DEG

TRUE_START: Final = 3.0
"""Diameters of bore that are bored true before the reamer; common practice, no source."""

PILOT: Final = 0.6
"""Pilot drill over the bore; common practice, no source."""

BORE_OUT_MM: Final = 6.0
"""Least hole that a small boring tool enters; engineering judgement, no source."""

OVERHANG: Final = 5.0
"""Diameters that work may stand out of a chuck unsupported; common practice, no source."""

REAMER_STOP: Final = "STOP: ream the rest of this bar first; the plunger's bar must slide in it."


def bar(job: Job) -> Workpiece:
    """Return the sawn bar of a part."""
    sawn = blank(
        job.part,
        diameter_mm=stock_mm(job.part),
        front_mm=-FACING_MM / 2,
        rear_mm=job.length_mm + FACING_MM / 2,
    ).finished("axis")
    return sawn.finished("guide") if finished_bar(job.part) else sawn


def saw(job: Job, piece: Workpiece) -> Made:
    """Saw the bar."""
    length_mm, text = piece.rear_mm - piece.front_mm, job.bench.size
    look = Step(do="Look along the bar; a bent or seamed one is no use.")
    if finished_bar(job.part):
        limits, size_mm = job.tool.plunger_limits, job.part.outline.diameter_mm
        look = replace(
            look,
            do="Look along the bar, measure it in three places; it is not turned",
            tool="micrometer",
            kind="diameter",
            set_mm=size_mm + max(min(0.0, limits.upper_um), limits.lower_um) / 1000,
            low_mm=size_mm + limits.lower_um / 1000,
            high_mm=size_mm + limits.upper_um / 1000,
        )
    return (
        Operation(
            part=job.part.name,
            title=f"Saw off: {job.part.title.lower()}",
            station="saw",
            holding=f"Bar Ø{text(stock_mm(job.part))} {job.part.material}, in the saw's vice.",
            steps=(
                look,
                Step(
                    do=f"Saw off, square within {text(0.5)}; keep the rest, to try the fit on",
                    tool="saw",
                    set_mm=length_mm,
                    low_mm=length_mm - FACING_MM / 4,
                    high_mm=length_mm + FACING_MM / 2,
                ),
            ),
            cautions=("Let the blade stop before you clear it; the fresh end is sharp and hot.",),
        ),
        piece,
    )


def front_holding(job: Job, piece: Workpiece) -> tuple[str, Grip, tuple[Ask, ...], tuple[str, ...]]:
    """Return how the body is held with its nose outward, and what if that cannot be."""
    end_mm, clocked = piece.rear_mm, job.bench.size(job.bench.shop.clocked_mm, 3)
    match job.route.key:
        case "socket" if (socket := shank_of(job.tool.parameters.mount).socket) is not None:
            text = "On its own arbor, the arbor in the headstock socket, both wiped clean and dry."
            return text, Grip("socket", job.length_mm - socket.depth_mm, end_mm), (), ()
        case "socket":
            pulled = (
                "pulled home by its draw-bar"
                if shank_of(job.tool.parameters.mount).draw_bar
                else "knocked home once with a soft mallet, light cuts"
            )
            text = f"Taper in the headstock socket, both wiped clean and dry, {pulled}."
            gauge_mm = job.part.outline.plane_mm("gauge plane")
            return text, Grip("socket", gauge_mm, end_mm), (), ()
        case "collet":
            start_mm = job.part.outline.plane_mm("shank start")
            text = "Finished shank in a collet, pushed in to the nose."
            lost = f"No collets: clock the shank in the 4-jaw chuck, off {clocked} at most."
            missing = () if job.bench.has("collets") else (lost,)
            return text, Grip("collet", start_mm + 2, end_mm), (Ask("collets"),), missing
    jaw_mm = _jaw_mm(job)
    thing, grip, asks = chucked(job, end_mm - jaw_mm, end_mm)
    text = (
        f"{thing[0].upper()}{thing[1:]}: {job.bench.size(jaw_mm, 0)} of the rear end in the jaws."
    )
    missing = () if job.bench.has(thing) else ("No chuck in the list: a faceplate with a V-block.",)
    if piece.rear_mm - piece.front_mm - jaw_mm > OVERHANG * piece.diameter_mm:
        if job.bench.has("steady"):
            text += " Free end in the fixed steady."
        else:
            missing = (*missing, "Long overhang, no steady: tailstock centre for the outside.")
    return text, grip, asks, missing


def _jaw_mm(job: Job) -> float:
    return min(JAW_MM, 0.25 * job.length_mm)


def _nose_first(job: Job) -> bool:
    """Tell whether the nose is finished in the same holding as the bore."""
    return job.route.key != "centres"


def face_nose(job: Job, piece: Workpiece) -> Made:
    """Face the nose end and turn the outside down, to size where the route wants it here."""
    held, grip, asks, instead = front_holding(job, piece)
    p, bench, material = job.tool.parameters, job.bench.held(held), job.part.material
    only_nose = job.rear_first or job.route.key == "mandrel"
    reach_mm = p.body.nose_length_mm if only_nose else grip.from_mm
    rough_mm = job.rough_nose_mm
    at_mm = piece.outside_mm(piece.front_mm)
    if job.rear_first:
        first = bench.face(
            "Face to length",
            material=material,
            diameter_mm=at_mm,
            dial="calipers over both faces; then 0 = this face",
            length_mm=job.length_mm,
        )
    else:
        first = bench.face(
            "Face until clean; wind on no more than that",
            material=material,
            diameter_mm=at_mm,
            dial="0 = this face, for all lengths",
        )
    steps = [first]
    after = piece.faced(front_mm=0.0)
    before_mm = after.outside_mm(0.0)
    sizes = []
    if before_mm > rough_mm + 0.05:
        steps.append(
            bench.turn(
                f"Rough the outside, {bench.longest(reach_mm)} long, in light cuts",
                material=material,
                from_mm=before_mm,
                to_mm=rough_mm,
                rough=True,
            )
        )
        after = after.turned(cylinder(0.0, reach_mm, rough_mm))
        before_mm = rough_mm
    done = job.present("front face")
    if _nose_first(job):
        nose, after, names = turned_nose(replace(job, bench=bench), after, before_mm)
        steps += nose
        done += names
        sizes.append(Size("diameter", p.body.nose_length_mm / 2, p.body.nose_diameter_mm))
        sizes.append(Size("length", p.body.nose_length_mm, p.body.nose_length_mm))
    else:
        sizes.append(Size("diameter", reach_mm / 2, before_mm))
        sizes.append(Size("length", reach_mm, reach_mm))
    return (
        Operation(
            part=job.part.name,
            title="Face and turn the nose end",
            station="lathe",
            holding=held,
            steps=tuple(steps),
            grips=(grip,),
            sizes=tuple(sizes),
            features=done,
            asks=asks,
            cautions=(KEY, SWARF),
            instead=instead,
        ),
        after,
    )


def turned_nose(
    job: Job, piece: Workpiece, from_mm: float
) -> tuple[list[Step], Workpiece, tuple[str, ...]]:
    """Return the steps that finish the nose, the piece after them, and what they finish."""
    p, bench, material = job.tool.parameters, job.bench, job.part.material
    nose_mm, length_mm = p.body.nose_diameter_mm, p.body.nose_length_mm
    steps = [
        bench.turn(
            f"Turn the nose, {bench.size(length_mm + 1, 1)} long",
            material=material,
            from_mm=from_mm,
            to_mm=nose_mm,
        )
    ]
    names = job.present("nose", "nose chamfer")
    if p.body.edge_mm > 0:
        steps.append(
            bench.face(
                f"Chamfer the front edge, {bench.size(p.body.edge_mm)} at 45°",
                material=material,
                diameter_mm=nose_mm,
                tool="45° tool",
            )
        )
    return steps, piece.finished("nose", "nose chamfer"), names


def drilled_mm(job: Job, piece: Workpiece) -> float:
    """Return how deep the bore is drilled from the nose: right through if the drill reaches."""
    need_mm = bored_mm(job.tool)
    p = job.tool.parameters
    if p.disc is not None:
        return need_mm
    if p.shoulder is not None and p.bush is None:
        return min(need_mm + REAMER_LEAD_MM, job.length_mm)
    if job.rear_first:
        return min(need_mm, job.length_mm - parts.rear_hole_depth_mm(p))
    bore_mm = p.bore.diameter_mm if p.bush is None else parts.pocket_mm(p)
    point_mm = cone.drill_point_mm(diameter_mm=bore_mm, angle_deg=DRILL_POINT_DEG)
    shop = job.bench.shop
    drill_mm = shop.drill_reach_mm - point_mm - 1.0
    reamer_mm = shop.reamer_length_mm - shop.reamer_grip_mm - REAMER_LEAD_MM
    if p.bush is not None:
        reamer_mm = drill_mm
    return piece.rear_mm if min(drill_mm, reamer_mm) >= piece.rear_mm else need_mm


def drill_bore(job: Job, piece: Workpiece) -> Made:
    """Drill the bore, and bore its first length true."""
    held, grip, _, _ = front_holding(job, piece)
    job = replace(job, bench=job.bench.held(held))
    p, bench, material = job.tool.parameters, job.bench, job.part.material
    bore_mm, depth_mm = p.bore.diameter_mm, drilled_mm(job, piece)
    through = depth_mm >= piece.rear_mm - 1e-9
    blind = p.disc is not None
    meets = not through and job.rear_first and not blind
    chosen = bench.before_reaming(bore_mm)
    pilot = bench.drill_for(
        round(PILOT * bore_mm, 1), 0.0, else_do="start with the smallest drill there is."
    )
    steps = [bench.centre_drill(bore_mm, material=material, most_mm=chosen.size_mm)]
    asks = [chosen.ask]
    if pilot.size_mm < chosen.size_mm and bore_mm >= 5 and not pilot.instead:
        steps.append(
            bench.drill(
                "Pilot",
                material=material,
                diameter_mm=pilot.size_mm,
                depth_mm=depth_mm,
                through=through,
            )
        )
        asks.append(pilot.ask)
    steps.append(
        bench.drill(
            "Drill under the reamer",
            material=material,
            diameter_mm=chosen.size_mm,
            depth_mm=depth_mm,
            through=through or meets,
        )
    )
    steps.append(_bored_start(job, chosen.size_mm))
    instead = [chosen.instead] if chosen.instead else []
    point_mm = cone.drill_point_mm(diameter_mm=chosen.size_mm, angle_deg=DRILL_POINT_DEG)
    if bench.shop.drill_reach_mm < depth_mm + point_mm:
        instead.append(
            f"The drill reaches {bench.size(bench.shop.drill_reach_mm, 1)}: drill the rest from "
            "the rear. "
            + (
                "The outside follows the bore, so it costs no coaxiality."
                if job.route.key == "centres"
                else f"A step in the middle stays; coaxiality there off {_wander_text(job)}."
            )
        )
    return (
        Operation(
            part=job.part.name,
            title="Drill the bore",
            station="lathe",
            holding=held,
            steps=tuple(steps),
            grips=(grip,),
            features=(),
            asks=tuple(asks),
            sizes=(
                Size("diameter", depth_mm / 2, chosen.size_mm),
                Size("length", depth_mm, depth_mm),
            ),
            cautions=("Oil, and draw the drill right out at each mark: packed swarf breaks it.",),
            instead=tuple(instead),
        ),
        piece.bored(cylinder(0.0, depth_mm, chosen.size_mm)),
    )


def _wander_text(job: Job) -> str:
    return job.bench.size(0.05)


def _bored_start(job: Job, drill_mm: float) -> Step:
    """Return the step that makes the start of the bore true, before the reamer."""
    p, bench, material = job.tool.parameters, job.bench, job.part.material
    bore_mm = p.bore.diameter_mm
    if bore_mm < BORE_OUT_MM:
        return bench.form(
            f"Touch the mouth with a slot drill: a true start, {bench.size(1.0)} deep",
            f"slot drill or D-bit Ø{bench.size(bore_mm)}, in the tailstock",
            material=material,
            diameter_mm=bore_mm,
        )
    true_mm = TRUE_START * bore_mm
    size_mm = (drill_mm + bore_mm) / 2
    return bench.turn(
        f"Bore the first {bench.size(true_mm, 0)} true, under the reamer",
        material=material,
        from_mm=drill_mm,
        to_mm=size_mm,
        limits_mm=(drill_mm + 0.02, bore_mm - 0.03),
        inside=True,
    )


def mouth_steps(job: Job, mouth_mm: float, *, rim_mm: float, face: str) -> list[Step]:
    """Return the steps that cut recess and bevel at a mouth; the recess first.

    Sunk after the bevel it would take its mouth away.
    """
    p, bench, material = job.tool.parameters, job.bench, job.part.material
    steps = []
    if p.body.recess_mm > 0:
        steps.append(
            bench.face(
                f"Sink a recess Ø{bench.size(rim_mm)} about the mouth",
                material=material,
                diameter_mm=rim_mm,
                tool="boring tool",
                length_mm=p.body.recess_mm,
                dial=f"0 = {face}",
            )
        )
    steps.append(
        bench.form(
            "Bevel the mouth 60°; leave it to the end, it is your centre",
            "60° countersink",
            material=material,
            diameter_mm=mouth_mm,
            kind="diameter",
            set_mm=mouth_mm,
            limits_mm=bench.limits_mm(mouth_mm),
        )
    )
    return steps


def ream_bore(job: Job, piece: Workpiece) -> Made:
    """Ream the bore, and cut recess and bevel at its mouth in the same holding."""
    held, grip, _, _ = front_holding(job, piece)
    job = replace(job, bench=job.bench.held(held))
    p, bench, material = job.tool.parameters, job.bench, job.part.material
    bore_mm, limits = p.bore.diameter_mm, job.tool.bore_limits
    end_mm = drilled_mm(job, piece)
    limits_mm = (bore_mm + limits.lower_um / 1000, bore_mm + limits.upper_um / 1000)
    reamer = bench.cutter(
        "reamer",
        bore_mm,
        else_do="bore to the limits with the boring tool and lap. Slow; coaxiality is kept.",
    )
    through = end_mm >= piece.rear_mm
    deep = "through" if through else f"{bench.size(end_mm + REAMER_LEAD_MM, 0)} deep"
    if p.disc is not None:
        deep = f"{bench.size(end_mm - REAMER_LEAD_MM, 0)} deep, short of the bottom"
    steps = [
        replace(
            bench.ream(
                f"Ream {deep}, slow, plenty of oil, one pass in",
                material=material,
                limits_mm=limits_mm,
                size_mm=bore_mm,
            ),
            stop=REAMER_STOP,
        )
    ]
    after = piece.bored(cylinder(0.0, end_mm, bore_mm, "bore")).finished(
        "front recess", "front bevel"
    )
    mouth_mm = bore_mm + p.body.bevel_mm
    done = job.present("bore", "front recess", "front recess floor", "front bevel")
    if p.disc is not None:
        after = after.finished("drill point")
        done += job.present("drill point")
    sizes = [Size("diameter", end_mm / 2, bore_mm)]
    if p.body.bevel_mm > 0:
        steps += mouth_steps(job, mouth_mm, rim_mm=mouth_mm + 0.5, face="front face")
        sizes.append(Size("diameter", p.body.recess_mm + 0.1, mouth_mm))
    instead = [reamer.instead] if reamer.instead else []
    shop = bench.shop
    reach_mm = shop.reamer_length_mm - shop.reamer_grip_mm
    if reach_mm < bored_mm(job.tool) + REAMER_LEAD_MM:
        instead.append(
            f"The reamer reaches {bench.size(reach_mm, 1)}: turn a longer holder for its shank, or "
            "finish from the rear; its shank rubs otherwise."
        )
    return (
        Operation(
            part=job.part.name,
            title="Ream, and bevel the mouth",
            station="lathe",
            holding=held,
            steps=tuple(steps),
            grips=(grip,),
            sizes=tuple(sizes),
            features=done,
            asks=(reamer.ask,),
            cautions=(
                "Same holding as the bore: do not loosen the work before the bevel is cut.",
                "Never turn a reamer backward. Wipe the hole, then try the plunger's bar.",
            ),
            instead=tuple(instead),
        ),
        after,
    )
