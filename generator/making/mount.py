"""Operations on the mount of the body: a shank, or a taper roughed in steps and fitted."""

from __future__ import annotations

from dataclasses import replace
from math import nan
from typing import Final

from generator.formulas import taper
from generator.making.bench import Bench
from generator.making.job import KEY, SEMI_MM, Job, Made
from generator.making.operation import Ask, Grip, Operation, Size, Step
from generator.making.rear_side import between, rear_holding
from generator.making.routes import tapering
from generator.making.setups import TaperSetup, rises, taper_setup
from generator.making.sizes import STAND_OUT_MM
from generator.making.states import Workpiece, cylinder
from generator.making.taper_ways import set_over
from generator.model.shank import Cylinder, shank_of
from generator.units import MM_PER_INCH

STEPS_OF_A_TAPER: Final = 4
"""Steps in which a taper is roughed; common practice, no source."""

TRAVEL_MM: Final = 50.0
"""Travel of the saddle over which an indicator proves the setting of a taper attachment."""

LEFT_MM: Final = 0.2
"""Left on the diameter when the taper is clean and first blued; common practice, no source."""

CONE_STOP: Final = "STOP: stand-off within the last dial marks? Blue it once more, then cut."


def _mount_holding(job: Job) -> tuple[str, tuple[Grip, ...], tuple[Ask, ...]]:
    """Return how the body is held while its mount is turned."""
    p, length_mm = job.tool.parameters, job.length_mm
    if job.route.key == "centres":
        held = "Between centres on the two bevels, dog on the nose over copper."
        return held, between(job, True), (Ask("centres"),)
    bored = not job.rear_first
    held, grip, asks, _ = rear_holding(job, bored=bored)
    at_mm = length_mm - (p.body.recess_mm if bored else 0.0)
    held = f"{held.rstrip('.')}; tailstock centre in the rear."
    return held, (grip, Grip("centre", at_mm, length_mm)), asks


def _roughed(job: Job) -> list[tuple[float, float, float]]:
    """Return the steps of the rough mount: from, to, diameter; the diameters fall."""
    p, outline = job.tool.parameters, job.part.outline
    nose_mm, length_mm = p.body.nose_length_mm, job.length_mm
    shank = shank_of(p.mount)
    if shank.taper is None:
        return [(nose_mm, length_mm, shank.diameter_mm + SEMI_MM)]
    run = outline.surface("taper")
    end_mm = outline.plane_mm("small end")
    found = []
    for n in range(STEPS_OF_A_TAPER):
        z_mm = nose_mm + n * (end_mm - nose_mm) / STEPS_OF_A_TAPER
        found.append(
            (
                z_mm,
                length_mm,
                round(run.diameter_mm - shank.taper.rate * (z_mm - nose_mm) + SEMI_MM, 2) + 0.0,
            )
        )
    if length_mm > end_mm + 1e-6:
        rear_mm = shank.rear_diameter_mm + SEMI_MM
        if rear_mm < found[-1][2]:
            found.append((end_mm, length_mm, rear_mm))
    return found


def rough_mount(job: Job, piece: Workpiece) -> Made:
    """Rough the mount in steps, half a millimetre over."""
    held, grips, asks = _mount_holding(job)
    job = replace(job, bench=job.bench.held(held))
    p, bench, material = job.tool.parameters, job.bench, job.part.material
    nose_mm, length_mm = p.body.nose_length_mm, job.length_mm
    from_mm = piece.outside_mm(job.length_mm)
    steps, after, sizes = [], piece, []
    for front_mm, rear_mm, diameter_mm in _roughed(job):
        if diameter_mm > from_mm - 0.02:
            continue
        steps.append(
            bench.turn(
                f"Rough {bench.longest(length_mm - front_mm)} long from the rear, in light cuts",
                material=material,
                from_mm=from_mm,
                to_mm=diameter_mm,
                rough=True,
                limits_mm=(diameter_mm - 0.1, diameter_mm + 0.1),
            )
        )
        after = after.turned(cylinder(front_mm, rear_mm, diameter_mm))
        from_mm = diameter_mm
        sizes.append(
            Size(
                "diameter",
                front_mm + 0.1 * (rear_mm - front_mm),
                diameter_mm,
            )
        )
    done = job.present("shoulder")
    if done:
        steps.append(
            bench.face(
                "Face the shoulder; the nose is measured",
                material=material,
                diameter_mm=p.body.nose_diameter_mm,
                dial=f"about {bench.size(length_mm - nose_mm, 1)} from the rear face",
                length_mm=nose_mm,
            )
        )
    if not steps:
        steps.append(Step(do="Nothing to rough: the bar is near enough to size."))
    return (
        Operation(
            part=job.part.name,
            title="Rough the mount",
            station="lathe",
            holding=held,
            left="front",
            steps=tuple(steps),
            grips=grips,
            zero_mm=job.length_mm,
            sizes=(*sizes[:3], Size("length", nose_mm, job.length_mm - nose_mm)),
            features=done,
            asks=asks,
            instead=_lost(job, asks),
            cautions=(
                "Tie the dog to the driver; keep sleeves away from it."
                if job.route.key == "centres"
                else KEY,
            ),
        ),
        after,
    )


def _lost(job: Job, asks: tuple[Ask, ...]) -> tuple[str, ...]:
    """Return what to do where the holding is not in the kit."""
    shop = job.bench.shop
    if all(job.bench.has(ask.what) for ask in asks):
        return ()
    return (
        f"No {asks[0].what}: 3-jaw chuck; bore and mount off by up to "
        f"{job.bench.size(shop.three_jaw_mm)}.",
    )


def finish_mount(job: Job, piece: Workpiece) -> Made:
    """Finish the mount: shank or taper, with what lies behind it."""
    held, grips, asks = _mount_holding(job)
    job = replace(job, bench=job.bench.held(held))
    p, bench, material = job.tool.parameters, job.bench, job.part.material
    from_mm = piece.outside_mm(p.body.nose_length_mm + 1e-6)
    steps: list[Step] = []
    instead = list(_lost(job, asks))
    sizes = []
    shank = shank_of(p.mount)
    whole = "taper" if shank.cylinder is None or shank.taper else shank.cylinder.surface
    if shank.taper is not None:
        way_steps, extra, way_instead = _taper_steps(job)
        steps += way_steps
        asks, instead = (*asks, *extra), [*instead, *way_instead]
        gauge_mm = job.part.outline.plane_mm("gauge plane")
        sizes.append(Size("diameter", gauge_mm, shank.taper.gauge_diameter_mm))
        sizes.append(Size("length", gauge_mm, job.length_mm - gauge_mm))
    else:
        shank_mm = shank.diameter_mm
        steps.append(
            bench.turn(
                f"Turn the {whole}",
                material=material,
                from_mm=from_mm,
                to_mm=shank_mm,
                limits_mm=_limits_mm(shank.cylinder),
            )
        )
        sizes.append(Size("diameter", job.length_mm * 0.7, shank_mm))
    if shank.taper is not None and shank.cylinder is not None:
        run = job.part.outline.surface(shank.cylinder.surface)
        before_mm = piece.outside_mm(job.length_mm)
        long_mm = job.length_mm - run.front_mm
        words = {"tang neck": "neck of the tang", "extension": "end"}
        what = words.get(shank.cylinder.surface, shank.cylinder.surface)
        steps.append(
            bench.turn(
                f"Turn the {what} behind the taper, {bench.size(long_mm, 1)} long",
                material=material,
                from_mm=max(before_mm, run.diameter_mm),
                to_mm=run.diameter_mm,
                limits_mm=_limits_mm(shank.cylinder),
            )
        )
        sizes.append(Size("diameter", (run.front_mm + run.rear_mm) / 2, run.diameter_mm))
    names = job.present(
        *("shank", "barrel", "taper", "rear shoulder", "extension", "tang neck", "parallel body"),
        "rear chamfer",
    )
    if "rear chamfer" in names:
        edge_mm = job.part.outline.surface("rear chamfer").length_mm
        steps.append(
            bench.face(
                f"Chamfer the rear edge, {bench.size(edge_mm)} at 45°",
                material=material,
                diameter_mm=shank.rear_diameter_mm,
                tool="45° tool",
            )
        )
    return (
        Operation(
            part=job.part.name,
            title=f"Finish the {whole}",
            station="lathe",
            holding=held,
            left="front",
            zero_mm=job.length_mm,
            steps=tuple(steps),
            grips=grips,
            sizes=tuple(sizes),
            features=names,
            asks=asks,
            instead=tuple(instead),
            cautions=("No more than an eighth of a turn when blueing; thin blue, both clean.",)
            if shank.taper
            else (KEY,),
        ),
        piece.finished(*names),
    )


def _limits_mm(behind: Cylinder | None) -> tuple[float, float] | None:
    """Return the limits of a parallel part that has its own."""
    if behind is None or behind.limits is None:
        return None
    lower_um, upper_um = behind.limits.lower_um, behind.limits.upper_um
    return behind.diameter_mm + lower_um / 1000, behind.diameter_mm + upper_um / 1000


def _set_slide(job: Job, setup: TaperSetup, way: str) -> tuple[Step, tuple[Ask, ...], list[str]]:
    """Return how the slide is set for the taper, what that asks for, and what else could be done.

    By the figures of the set-up of that name, where it is told in full.
    """
    bench = job.bench
    match way:
        case "profile":
            step = Step(
                do="Load profile and tool-nose radius; check the path in the air.",
                tool="finishing insert",
                dial="body-turning.dxf, layer PROFILE_HALF",
            )
            return step, (), []
        case "taper attachment":
            do = "Set the guide bar: Set-up, taper attachment; take up its slack"
            travel_mm = 2 * MM_PER_INCH if bench.inch else TRAVEL_MM
            rise_mm = taper.carriage_rise_mm(travel_mm=travel_mm, taper=setup.rate)
            return (
                Step(do=do, dial=_rise(bench, rise_mm, travel_mm)),
                (Ask("taper attachment"),),
                [],
            )
        case "set-over":
            over = set_over(job.tool, setup, inch=bench.inch)
            over_mm = 0.0 if over is None else over.over_mm
            step = Step(
                do="Set the tailstock over toward you: Set-up, tailstock set over",
                set_mm=over_mm,
                low_mm=over_mm - 0.02,
                high_mm=over_mm + 0.02,
                dial="0 = centres in line",
            )
            return step, (Ask("tailstock set-over"), Ask("centres")), []
    most = rises(setup, inch=bench.inch)[0]
    step = Step(
        do="Set the slide: Set-up, angle of the compound slide; not by its scale",
        dial=_rise(bench, most.rise_mm, most.travel_mm),
    )
    if way == "compound":
        return step, (), []
    short = (
        f"Compound travel {bench.size(bench.shop.compound_travel_mm, 0)} is too short: two "
        "bites, blended on the indicator; a step of a hundredth or two stays, the seat rocks. "
        "Or buy a blank-end arbor."
    )
    return step, (), [short]


def _rise(bench: Bench, rise_mm: float, travel_mm: float) -> str:
    return f"indicator on a true bar: {bench.size(rise_mm, 3)} in {bench.size(travel_mm)}"


def _taper_steps(job: Job) -> tuple[list[Step], tuple[Ask, ...], list[str]]:
    """Return the steps that turn the taper, what they ask for, and what else could be done."""
    bench, material = job.bench, job.part.material
    setup = taper_setup(job.tool)
    if setup is None:
        raise ValueError("a straight shank has no taper")
    ways = tapering(job.tool)
    way = ways[0] if ways else "two bites"
    first, asks, instead = _set_slide(job, setup, way)
    by_hand = way in ("compound", "two bites")
    feed = "by hand, evenly" if by_hand else bench.feed("fine turning")
    # the shoulder is the large end, where the tool touches the roughed diameter
    rough_mm = setup.large_mm + SEMI_MM
    cut = bench.turn(
        f"Cut by the {'compound' if by_hand else 'carriage'} until clean, always toward the nose",
        material=material,
        from_mm=rough_mm,
        to_mm=setup.large_mm + LEFT_MM,
    )
    out_mm = setup.stand_out_mm
    off_mm = LEFT_MM / setup.rate
    return (
        [
            first,
            replace(cut, feed=feed, dial=_at_shoulder(cut.dial), set_mm=nan),
            Step(
                do="Blue in the socket: 75 %, heavier at the large end; stand-off?",
                tool="blue, depth rod",
                set_mm=out_mm + off_mm,
                low_mm=round(out_mm + off_mm / 2, 1),
                high_mm=round(out_mm + 1.5 * off_mm, 1),
                stop="STOP: contact at one end only? Set the slide again; do not cut on.",
            ),
            Step(
                do="Finish by the set-up's table: shoulder to socket face",
                tool=f"{bench.shop.turning_tool} tool",
                rpm=cut.rpm,
                wanted_rpm=cut.wanted_rpm,
                feed=feed,
                dial=_sinks(bench, setup),
                set_mm=out_mm,
                low_mm=out_mm - STAND_OUT_MM,
                high_mm=out_mm + STAND_OUT_MM,
                stop=CONE_STOP,
            ),
        ],
        asks,
        instead,
    )


def _sinks(bench: Bench, setup: TaperSetup) -> str:
    """Return how far the taper goes in for a division of the dial, or for an offset."""
    if bench.numeric:
        radial_mm, what = 0.01, f"{bench.size(0.02)} on the diameter"
    else:
        radial_mm, what = setup.dial.division_mm, "1 div"
        radial_mm /= 2 if setup.dial.reads == "diameter" else 1
    return (
        f"{what} sinks it {bench.size(taper.axial_shift_mm(radial_mm=radial_mm, taper=setup.rate))}"
    )


def _at_shoulder(dial: str) -> str:
    """Return where the dial is zeroed: at the large end."""
    return dial.replace(";", " by the shoulder;", 1)
