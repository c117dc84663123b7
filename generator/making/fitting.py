"""Operations at the bench: springs cut down, dry fit, setting, locking."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite
from typing import Final

from generator.inputs.parameters import Parameters
from generator.inputs.tables import RetainingScrew
from generator.making.bench import Bench
from generator.making.inspection import gap_span, stroke_spans
from generator.making.operation import Operation, Step
from generator.model.shank import shank_of
from generator.model.tool import Orientation, Tool
from generator.standards.rows import Thread
from generator.units import number

FORCE_SHARE: Final = 0.15
"""How far a force may be off: 0.1 of the spring, the rest of the scale; engineering judgement."""

NEWTON_PER_GRAM: Final = 0.00980665


def springs(tool: Tool, bench: Bench) -> Iterator[Operation]:
    """Yield an operation for each spring that is cut down."""
    for each in tool.in_place:
        spring = each.spring
        if spring.bought is None:
            continue
        off_mm = tool.parameters.assumptions.free_percent / 100 * spring.free_mm
        cut = spring.bought.total_coils - spring.total_coils
        yield Operation(
            part=each.label.replace(" ", "-"),
            title=f"Cut the {each.label} down",
            station="bench",
            holding="On a rod of its inside diameter, in the vice.",
            steps=(
                Step(do=f"Count {number(cut, 1)} coils from one end; mark the wire", tool="marker"),
                Step(
                    do="Nick and snap, or cut with a disc, beyond the mark",
                    tool="cutting disc, 1 mm",
                    stop="STOP: eye protection on; hold the end that flies.",
                ),
                Step(
                    do="Bend the last coil down; grind the end flat on the wheel's side",
                    tool="bench grinder",
                ),
                Step(
                    do="Grind to length; square on a plate against a square",
                    set_mm=spring.free_mm,
                    low_mm=spring.free_mm - off_mm,
                    high_mm=spring.free_mm + off_mm,
                ),
                Step(
                    do="Round the wire's end and the inside edge; no sharp wire", tool="fine stone"
                ),
            ),
            cautions=(
                "Wire gets hot and turns blue: cool it often, or that coil is soft.",
                "That end goes toward the plunger, on the button or a washer.",
            ),
        )


def assembly(tool: Tool, bench: Bench) -> Iterator[Operation]:
    """Yield the putting together, in the order that the body asks for."""
    yield _dry_fit(tool, bench)
    yield _loaded(tool, bench)
    yield _locked(tool, bench)


def _bench(title: str, holding: str, steps: list[Step], cautions: tuple[str, ...]) -> Operation:
    return Operation(
        part="assembly",
        title=title,
        station="bench",
        holding=holding,
        steps=tuple(steps),
        cautions=cautions,
    )


def _projections(tool: Tool) -> list[Step]:
    """Return the measurements of the first orientation without springs."""
    return [
        Step(
            do=do,
            tool="depth gauge",
            set_mm=span.nominal,
            low_mm=span.least,
            high_mm=span.greatest,
        )
        for o in tool.orientations[:1]
        for do, span in zip(
            (
                f"Plunger right out, {o.name}: tip from nose face",
                "Plunger right in: tip from nose face",
                "Travel: the difference of the two",
            ),
            stroke_spans(tool, o),
            strict=True,
        )
    ]


def _dry_fit(tool: Tool, bench: Bench) -> Operation:
    screw, pin = tool.parameters.set_screw, tool.parameters.cross_pin
    holding = "Nose upward between soft jaws, no springs yet."
    if screw is not None:
        steps = [
            Step(do="Plunger in from the nose, dry, slot to the screw; it must run free."),
            *_screwed_in(tool, screw),
            *_projections(tool),
            Step(
                do="Mark the screw and the nose with one scriber line.",
                tool="scriber",
                stop="STOP: plunger must slide and not turn, over the whole travel.",
            ),
        ]
        told = "The screw keeps the plunger in; it must never clamp it."
        title = "Set the gap" if screw.locking != "shoulder" else "Draw the screw tight"
        return _bench(f"Dry fit and {title[0].lower()}{title[1:]}", holding, steps, (told,))
    if pin is not None:
        steps = [
            Step(do="Plunger in from the nose, dry, slot across to the hole."),
            Step(
                do="A loose pin through nose and slot; not the pin itself",
                tool="drill shank",
            ),
            *_projections(tool),
            Step(
                do="To and fro: it slides over the whole travel and does not turn.",
                stop="STOP: once the pin is in it does not come out without a punch.",
            ),
        ]
        return _bench("Dry fit on a loose pin", holding, steps, ("The pin must not bind.",))
    if tool.bush is not None:
        return _dry_fit_bush(tool)
    steps = [
        Step(do="In from the rear, dry: head on the step, it turns and slides free."),
        *([Step(do="Tip 1 in from the front by hand, to its shoulder")] if tool.tips else []),
        *_projections(tool)[:1],
        Step(
            do="Plug in to its depth, no springs: push home until the tail meets it",
            stop="STOP: the tail and not the springs must stop it.",
        ),
        *_projections(tool)[1:],
    ]
    return _bench(
        "Dry fit, head on the step",
        "Nose downward over a rag, rear end open.",
        steps,
        ("Too little travel: shorten the tail. Too much: it is a new plunger.",),
    )


def _dry_fit_bush(tool: Tool) -> Operation:
    """Return the dry fit of a plunger behind a nose bush."""
    steps = [
        Step(do="Bush alone: the spigot slides in by hand, no shake; thread free."),
        Step(
            do="Plunger in from the nose, dry, bush over it, home on its flange",
            tool="spanner",
            stop="STOP: no feeler between flange and nose face, anywhere round.",
        ),
        *_projections(tool)[:1],
        Step(
            do="Plug in to its depth, no springs: push home until the tail meets it",
            stop="STOP: the tail and not the springs must stop it.",
        ),
        *_projections(tool)[1:],
        Step(do="Bush drawn tight, it turns and slides free; plug and bush out."),
    ]
    return _bench(
        "Dry fit, head behind the bush",
        "Nose upward between soft jaws, no springs yet.",
        steps,
        (
            "Measure from the nose face, past the flange.",
            "Too little travel: shorten the tail. Out too little: face the rear of the bush, bevel "
            "it again.",
        ),
    )


def _screwed_in(tool: Tool, screw: RetainingScrew) -> tuple[Step, ...]:
    """Return how the screw comes to its place: by its gap, or tight on its ledge."""
    if screw.locking == "shoulder":
        return (
            Step(
                do="Set screw in, tight on its ledge; the plunger must stay free",
                tool="key",
                stop="STOP: if it clamps, shorten the tip on a fine stone.",
            ),
        )
    gap = gap_span(tool, screw)
    turn = gap.nominal / Thread.find(screw.thread).pitch_mm
    return (
        Step(do="Set screw in until it touches the slot's floor; no harder", tool="key"),
        Step(
            do=f"Back it off {number(turn, 2)} of a turn: that is the gap",
            tool="key",
            set_mm=gap.nominal,
            low_mm=gap.least,
            high_mm=gap.greatest,
        ),
    )


def _faces(tool: Tool, way: str) -> str:
    """Return which way the button lies, where it has a recess on one side."""
    recessed = tool.button is not None and tool.button.outline.has("recess")
    return f", its recess {way}" if recessed else ""


def _spring_words(tool: Tool) -> str:
    many = "springs" if len(tool.in_place) > 1 else "spring"
    washers = ", a separator between each two" if tool.separator is not None else ""
    inner = ", each with the one inside it" if any(each.inner for each in tool.in_place) else ""
    return f"{many}{inner}{washers}"


def _force_step(tool: Tool, o: Orientation) -> Step | None:
    pushed_mm = 1.0
    force_N = o.force_N(pushed_mm)
    if not isfinite(force_N) or o.travel_mm < pushed_mm:
        return None
    low_N, high_N = (1 - FORCE_SHARE) * force_N, (1 + FORCE_SHARE) * force_N
    low_g, high_g = low_N / NEWTON_PER_GRAM, high_N / NEWTON_PER_GRAM
    grams = f"{number(low_g, 0)} to {number(high_g, 0)}"
    return Step(
        do=f"{o.name.capitalize()}, 1 mm in, on a scale: {grams} g",
        tool="kitchen scale",
        dial=f"{number(low_N, 1)} to {number(high_N, 1)} N",
    )


def _loaded(tool: Tool, bench: Bench) -> Operation:
    """Return the operation that puts springs and plug in, from the rear or from the nose."""
    p = tool.parameters
    words = _spring_words(tool)
    button = "Button" if tool.button is not None else ""
    if p.body.assembly == "rear-loaded":
        steps = [
            Step(do=_oiled(tool)),
            *(
                [Step(do=f"Button in from the rear{_faces(tool, 'to the plunger')}.")]
                if button
                else []
            ),
            Step(do=f"In from the rear: {words}."),
            *_closed(p),
        ]
        cautions = ("Rear away from your face; eye protection. The springs push the plug back.",)
        title = "Springs and plug, from the rear"
    else:
        steps = [
            *_closed_first(p),
            Step(do=f"In from the nose: {words}."),
            *([Step(do=f"Button in from the nose{_faces(tool, 'outward')}.")] if button else []),
            *_kept_at_the_nose(tool),
        ]
        what = _keeper(tool)
        cautions = (f"The plunger is pushed out until the {what} is in; eye protection.",)
        title = f"{tool.abutment.title}, springs and plunger, from the nose"
    for o in tool.orientations[:1]:
        step = _force_step(tool, o)
        if step is not None:
            steps.append(step)
    return _bench(title, "Upright between soft jaws.", steps, cautions)


def _closed(p: Parameters) -> Iterator[Step]:
    """Yield the step that sets the plug to its depth; none where a disc closes a blind bore."""
    if p.plug is not None:
        sunk_mm, off_mm = p.plug.sunk_mm, p.assumptions.plug_mm
        yield Step(
            do="Plug in, its rear face below the rear end by",
            tool="screwdriver" if p.plug.drive == "slot" else "key",
            set_mm=sunk_mm,
            low_mm=max(0.0, sunk_mm - off_mm),
            high_mm=sunk_mm + off_mm,
        )


def _closed_first(p: Parameters) -> Iterator[Step]:
    """Yield the steps before the springs go in from the nose."""
    if p.disc is not None:
        yield Step(
            do="Blow the bore out; disc in from the nose, flat on the bottom",
            stop="STOP: a chip under the disc tilts it and takes travel.",
        )
        return
    yield Step(
        do="Plug first, with threadlocker, for good; let it cure",
        tool="threadlocker",
        stop="STOP: depth right? It does not come out again.",
    )
    yield from _closed(p)


def _keeper(tool: Tool) -> str:
    """Return what keeps the plunger of a front-loaded tool in."""
    if tool.parameters.set_screw is not None:
        return "screw"
    return "pin" if tool.parameters.cross_pin is not None else "bush"


def _oiled(tool: Tool) -> str:
    if tool.parameters.set_screw is not None:
        return "Oil the plunger thinly; screw and gap as marked."
    if tool.parameters.cross_pin is not None:
        return "Oil the plunger, in from the nose; pin home, its ends below the nose."
    return "Oil the plunger thinly, in from the rear, head on the step."


def _kept_at_the_nose(tool: Tool) -> tuple[Step, ...]:
    """Return how the plunger is pushed in against the springs and kept there."""
    if tool.bush is not None:
        return _bush_over(tool)
    what, how = ("screw", "in to the marked line") if tool.parameters.set_screw else ("pin", "home")
    return (
        Step(do=f"Plunger in against the springs, thumb on it, slot to the {what}."),
        Step(
            do=f"{what.capitalize()} {how}, thumb still on the plunger",
            tool="key" if tool.parameters.set_screw else "copper hammer, second pair of hands",
            stop=f"STOP: nose away from your face until the {what} holds.",
        ),
    )


def _bush_over(tool: Tool) -> tuple[Step, ...]:
    """Return how plunger and nose bush go in against the springs, and how the bush is locked."""
    bush = tool.parameters.bush
    assert bush is not None
    glued = bush.locking == "threadlocker"
    return (
        Step(do="Oil the stem; plunger in from the nose, its tail into the spring."),
        *(
            (Step(do="A drop of threadlocker on the bush's thread, none on its spigot."),)
            if glued
            else ()
        ),
        Step(
            do="Bush over the stem: press down, turn back a little, then in by hand",
            stop="STOP: nose away from your face until the thread has caught.",
        ),
        Step(
            do=f"Home with the spanner, {number(bush.flats_mm)} across; no gap under the flange",
            tool="spanner, thinnest feeler",
            stop="STOP: the point turns and slides free? Else the bush is askew.",
        ),
        *(() if glued else (Step(do="Bush not locked: mark it, look at it before each use."),)),
    )


def _crossing_locked(tool: Tool) -> Iterator[Step]:
    """Yield how the screw or the pin is kept from wandering."""
    p = tool.parameters
    if p.set_screw is not None:
        match p.set_screw.locking:
            case "threadlocker":
                do, with_ = (
                    "A drop of threadlocker on the screw's outer threads; wipe",
                    "threadlocker",
                )
                yield Step(do=do, tool=with_)
            case "jam screw":
                do = "Jam screw in against the set screw, held by its key"
                yield Step(do=do, tool="two keys")
            case "shoulder":
                yield Step(do="Set screw tight on its ledge once more", tool="key")
            case "none":
                yield Step(do="Screw not locked: mark it, and look at it before each use.")
    if p.cross_pin is not None:
        match p.cross_pin.locking:
            case "pressed":
                yield Step(do="Pin tight? It must not move under a punch by hand", tool="punch")
            case "retaining compound":
                yield Step(do="Pin degreased, retaining compound, in; let it cure", tool="compound")
            case "staked":
                yield Step(do="Three punch marks beside each end of the pin", tool="centre punch")
            case "none":
                yield Step(do="Pin not locked: look at it before each use.")


def _tip_tight(tool: Tool) -> Iterator[Step]:
    """Yield how the tip is screwed in for good, or for as long as it is wanted."""
    tips = tool.parameters.screwed_tips
    if tips is not None:
        drop = ", weak threadlocker on the stud" if tips.locking == "threadlocker" else ""
        yield Step(
            do=f"Tip out, wipe{drop}; in and tight",
            tool="two thin spanners",
            stop="STOP: a spanner on the stem too; the plunger turns freely.",
        )


def _locked(tool: Tool, bench: Bench) -> Operation:
    p = tool.parameters
    fitted = shank_of(p.mount).fitted
    place = "its own socket" if fitted == "taper" else "its collet or chuck"
    steps = []
    if p.body.assembly == "rear-loaded" and p.plug is not None:
        match p.plug.locking:
            case "threadlocker":
                steps.append(
                    Step(
                        do="Mark the plug's depth, out, a drop of threadlocker, in again",
                        tool="threadlocker",
                        stop="STOP: force right? It sets hard.",
                    )
                )
            case "second plug":
                steps.append(
                    Step(
                        do="Second plug in against the first, and tight",
                        tool="screwdriver" if p.plug.drive == "slot" else "key",
                    )
                )
            case _:
                steps.append(Step(do="Plug not locked: mark it, and look at it before each use."))
    steps += [*_crossing_locked(tool), *_tip_tight(tool)]
    steps += [
        Step(do="Try ten full strokes: no scrape, no catch, it returns every time."),
        Step(
            do=f"Tool in {place}, indicator on a pin in the bore: run-out",
            tool="0.01 indicator",
            set_mm=0.0,
            low_mm=0.0,
            high_mm=p.making.runout_mm,
        ),
        Step(
            do="Stamp or engrave name and revision on the nose, not on the mount.",
            tool="engraver",
            stop=f"STOP: never stamp the finished {fitted}.",
        ),
        Step(do="Oil, wipe, cap the nose."),
    ]
    return _bench(
        "Lock, prove and mark",
        f"In the hand; then in {place}.",
        steps,
        (f"No blows on the nose, ever: it is a {p.purpose} and no drift.",),
    )
