"""What is told of a tool: how it is made, set up and measured, and how it does its work."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import isfinite
from typing import Final

from generator.checks.lean import CLASSES_DEG
from generator.documents.drawing import Figure
from generator.documents.force_papers import force_data, force_section
from generator.documents.force_plot import ForceBand, ForceLine, force_figures
from generator.documents.inspection_papers import inspection_data, inspection_sections
from generator.documents.lean_papers import lean_data, lean_section
from generator.documents.lean_plot import LeanRange, lean_figure
from generator.documents.motion_papers import motion_data, motion_section
from generator.documents.picking_papers import picking_data, picking_section
from generator.documents.plan_papers import operation_sheets, plan_data, routes_section
from generator.documents.setting_papers import moving_part, setting_data, setting_section
from generator.documents.setup_papers import setup_data, setup_sections
from generator.documents.spring_papers import springs_data, springs_section
from generator.documents.stroke_plot import Limits, Stroke, stroke_figure
from generator.documents.study import Study, Subject
from generator.documents.supporting_papers import supporting_data, supporting_section
from generator.documents.thrust_plot import thrust_figure
from generator.formulas import setting
from generator.formulas.stack import Curve
from generator.inputs.purposes import Purpose
from generator.making.plan import plan
from generator.model.contacts import Proof
from generator.model.tool import Orientation, Tool
from generator.units import number, shown
from generator.use.bands import extreme_curves
from generator.use.settings import Card, Step, cards
from generator.use.simulation import SimulatedLean, Simulation, simulate
from generator.use.supporting import holds
from generator.use.windows import windows

LINES = 24
"""Straight pieces in which a curve over the stroke is drawn."""


def study(tool: Tool, proof: Proof | None = None) -> Study:
    """Return all that is told of a tool.

    Args:
        tool: The tool.
        proof: The proof of its motion; None if it was not made.
    """
    way = plan(tool)
    return Study(
        making=Subject((routes_section(way, tool), *operation_sheets(way, tool)), plan_data(way)),
        setups=Subject(setup_sections(tool), setup_data(tool)),
        inspection=Subject(inspection_sections(tool), inspection_data(tool)),
        springs=Subject((springs_section(tool),), springs_data(tool)),
        **OF_PURPOSE[tool.parameters.purpose](tool),
        motion=None if proof is None else motion(tool, proof),
    )


def _of_taps(tool: Tool) -> dict[str, Subject]:
    """Return what is told of a tool that follows taps, by the names of the study."""
    simulated = simulate(tool)
    return {
        "force_window": Subject(
            (replace(force_section(tool), figures=_force_figures(tool)),), force_data(tool)
        ),
        "lean": Subject(
            (replace(lean_section(tool, simulated), figures=_lean_figures(tool, simulated)),),
            lean_data(tool, simulated),
        ),
        "setting_cards": Subject(
            (replace(setting_section(tool), figures=_stroke_figures(tool)),), setting_data(tool)
        ),
    }


def _of_a_place(tool: Tool) -> dict[str, Subject]:
    """Return what is told of a tool that finds a place."""
    most = tool.limit("force on the work").passes
    figures = _thrust_figures(
        tool,
        {f"at most {shown(most, 'N')} on the work": most},
        "The force of the point on the work as the plunger is pushed in.",
    )
    section = replace(picking_section(tool), figures=figures)
    return {"pick_up": Subject((section,), picking_data(tool))}


def _of_support(tool: Tool) -> dict[str, Subject]:
    """Return what is told of a tool that steadies work."""
    found = holds(tool)
    slope = tool.limit("side load held by the thrust").passes
    wanted = max((slope * each.load_N / each.held_N * each.thrust_N for each in found), default=0)
    figures = _thrust_figures(
        tool,
        {f"needed for {number(slope)} times the side load": wanted} if isfinite(wanted) else {},
        "The thrust as the plunger is pushed in; the mark is where it is set.",
        [(each.asked.set_mm, each.thrust_N) for each in found],
    )
    section = replace(supporting_section(tool), figures=figures)
    return {"support": Subject((section,), supporting_data(tool))}


OF_PURPOSE: Final[dict[Purpose, Callable[[Tool], dict[str, Subject]]]] = {
    "tap follower": _of_taps,
    "pick-up centre": _of_a_place,
    "support centre": _of_support,
}
"""What is told of a tool by what it is for."""


def _thrust_figures(
    tool: Tool, levels: dict[str, float], caption: str, marked: Sequence[tuple[float, float]] = ()
) -> tuple[Figure, ...]:
    """Return force against travel; none where the springs are crushed."""
    lines = [line for o in tool.orientations if (line := _force_line(tool, o)) is not None]
    return (thrust_figure(lines, levels, marked, caption),) if lines else ()


def motion(tool: Tool, proof: Proof) -> Subject:
    """Return what is told of the proof of motion."""
    return Subject((motion_section(tool, proof),), motion_data(proof))


def _force_figures(tool: Tool) -> tuple[Figure, ...]:
    """Return force against travel with the windows of the taps; none where springs are crushed."""
    lines = [line for o in tool.orientations if (line := _force_line(tool, o)) is not None]
    bands = [
        ForceBand(
            name=w.name,
            two_hands_N=w.two_hands_N,
            one_hand_N=w.one_hand_N,
            ceiling_N=w.ceiling_N,
            gives_N=(w.preload_N, w.full_force_N),
            rests=w.rests,
        )
        for w in windows(tool)
        if isfinite(w.full_force_N)
    ]
    return force_figures(lines, bands) if lines and bands else ()


def _force_line(tool: Tool, o: Orientation) -> ForceLine | None:
    """Return the force of one orientation over its stroke, with its band of tolerance."""
    if not (o.travel_mm > 0 and isfinite(o.preload_N) and isfinite(o.full_force_N)):
        return None
    travel = tuple(o.travel_mm * k / LINES for k in range(LINES + 1))
    force = tuple(o.force_N(each) for each in travel)
    least, most = force, force
    curves = extreme_curves(tool)
    if curves is not None:
        plug_mm = tool.parameters.assumptions.plug_mm
        weak, stiff = curves
        rooms = [o.room_extended_mm - each for each in travel]
        least = tuple(_pressed_N(weak, room_mm + plug_mm) for room_mm in rooms)
        most = tuple(_pressed_N(stiff, room_mm - plug_mm) for room_mm in rooms)
    return ForceLine(name=o.name, travel_mm=travel, force_N=force, least_N=least, most_N=most)


def _pressed_N(curve: Curve, length_mm: float) -> float:
    """Return the force at a length, that of the solid springs beyond it."""
    return curve.force_N(max(length_mm, curve.end_mm))


def _lean_figures(tool: Tool, simulated: Simulation) -> tuple[Figure, ...]:
    """Return the spread of the tap that leans most, the other taps as ranges."""
    taps = sorted(simulated.taps, key=lambda each: -each.lean.most_deg())
    if not taps or not taps[0].lean.contributors:
        return ()
    of, *others = taps
    accept = tool.parameters.alignment.accept
    return (
        lean_figure(
            of.lean_deg.edges,
            of.lean_deg.shares,
            of=_range(of),
            limit_deg=tool.limit("lean of the thread", warn=CLASSES_DEG[accept]).warn,
            limit_name=accept,
            contributors=[(each.term.name, each.share) for each in of.lean.contributors],
            others=[_range(each) for each in others],
            assemblies=simulated.assemblies,
        ),
    )


def _range(each: SimulatedLean) -> LeanRange:
    half, most, nearly_all = each.lean_deg.quantiles
    return LeanRange(
        name=each.lean.label, median_deg=half, most_deg=most, nearly_all_deg=nearly_all
    )


def _stroke_figures(tool: Tool) -> tuple[Figure, ...]:
    """Return the stroke for the hole that takes the most settings, the first of several."""
    made = [card for card in cards(tool) if card.steps]
    made = [card for card in made if isfinite(card.orientation.full_force_N)]
    if not made:
        return ()
    card = max(made, key=lambda each: len(each.settings_mm))
    o = card.orientation
    pushed = [o.travel_mm * k / LINES for k in range(LINES + 1)]
    cutting, backing = _strokes(card)
    return (
        stroke_figure(
            cutting,
            backing,
            limits=Limits(
                extended_mm=o.projection_extended_mm,
                compressed_mm=o.projection_compressed_mm,
                front_reserve_mm=setting.LEAST_RESERVE_MM,
                rear_reserve_mm=card.home_reserve_mm,
            ),
            forces=[(o.projection_extended_mm - each, o.force_N(each)) for each in pushed],
            of=f"{card.tap.size}, {number(card.tap.depth_mm, 2)} mm deep",
            moved=moving_part(tool).quill,
            turned="chuck" if tool.parameters.machine.turned == "work" else "tap",
        ),
    )


def _strokes(card: Card) -> tuple[list[Stroke], list[Stroke]]:
    """Return what the plunger does at each reading, on the way in and on the way out."""
    found: dict[str, list[Stroke]] = {"tap": [], "back off": []}
    before: Step = card.steps[0]
    for step in card.steps[1:]:
        if step.action in found:
            found[step.action].append(
                Stroke(
                    reading=shown(step.reading_mm, "mm"),
                    start_depth_mm=before.advance_mm,
                    start_mm=before.projection_mm,
                    end_depth_mm=step.advance_mm,
                    end_mm=step.projection_mm,
                )
            )
        before = step
    return found["tap"], found["back off"]
