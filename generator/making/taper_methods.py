"""Ways of turning the taper: which of them the user's lathe allows, and which is proposed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import nan

from generator.checks.making import LEAD_AND_RUN_OFF_MM
from generator.inputs.workshop import Workshop
from generator.making.lengths import Lengths
from generator.making.setups import INDICATOR_MM, TaperSetup
from generator.making.taper_ways import SetOver


@dataclass(frozen=True, slots=True)
class Method:
    """One way.

    Attributes:
        name: What it is called.
        possible: Whether his machine allows it.
        why: Why it is possible, or is not, in numbers.
        wrong_mm: Error on the diameter over the taper that its setting leaves, before it is
            blued; NaN where it does not depend on a setting.
        proposed: Whether it is the one that is proposed.
    """

    name: str
    possible: bool
    why: str
    wrong_mm: float = nan
    proposed: bool = False


def methods(
    workshop: Workshop, setup: TaperSetup, over: SetOver | None, say: Lengths
) -> tuple[Method, ...]:
    """Return the ways in order of preference; the first possible one is proposed."""
    found = tuple(_methods(workshop, setup, over, say))
    first = next(n for n, method in enumerate(found) if method.possible)
    return tuple(replace(method, proposed=n == first) for n, method in enumerate(found))


def proposed(found: tuple[Method, ...]) -> Method:
    """Return the way that is proposed."""
    return next(method for method in found if method.proposed)


def _methods(
    workshop: Workshop, setup: TaperSetup, over: SetOver | None, say: Lengths
) -> Iterator[Method]:
    if workshop.machines == "cnc lathe":
        yield Method("profile on the CNC lathe", True, "One tool path, finished by the in-feed.")
    has = "taper attachment" in workshop.kit
    yield Method(
        "taper attachment",
        has,
        "Any length that its guide bar has, by the power feed." if has else "Not in your kit.",
        setup.wrong_by_indicator_mm(setup.whole_mm) if has else nan,
    )
    yield _one_pass(setup, say)
    yield _set_over(workshop, setup, over, say)
    yield _bites(setup, say)
    yield Method(
        "blank-end arbor, bought",
        True,
        "Its taper is ground; only nose, bore and thread are yours. Costs money, takes no setting.",
    )


def _one_pass(setup: TaperSetup, say: Lengths) -> Method:
    needs = (
        f"One pass takes {say.text(setup.needed_mm, 1)} of slide: "
        f"{say.text(setup.needed_mm - LEAD_AND_RUN_OFF_MM, 1)} along the flank, "
        f"{say.text(LEAD_AND_RUN_OFF_MM, 1)} lead and run-off; yours has "
        f"{say.text(setup.travel_mm, 1)}."
    )
    enough = setup.travel_mm >= setup.needed_mm - 1e-6
    wrong_mm = setup.wrong_by_indicator_mm(setup.travel_mm) if enough else nan
    return Method("compound slide, one pass", enough, needs, wrong_mm)


def _set_over(workshop: Workshop, setup: TaperSetup, over: SetOver | None, say: Lengths) -> Method:
    name = "tailstock set over"
    for kit in ("tailstock set-over", "centres"):
        if kit not in workshop.kit:
            lacks = (
                "Your tailstock does not set over." if kit != "centres" else "You have no centres."
            )
            return Method(name, False, lacks)
    if over is None or not over.front_ball_mm:
        return Method(name, False, "No ball rests in the bevel at the nose, so it cannot swing.")
    why = (
        f"{say.text(over.over_mm, 2)} for {say.text(over.between_mm, 1)} from ball to ball; yours "
        f"sets over by {say.text(over.most_mm, 1)}."
    )
    enough = over.over_mm <= over.most_mm + 1e-6
    by_dial_mm = 2 * setup.whole_mm * INDICATOR_MM / over.between_mm
    return Method(name, enough, why, over.wrong_mm + by_dial_mm if enough else nan)


def _bites(setup: TaperSetup, say: Lengths) -> Method:
    name = "compound slide, two passes"
    if setup.bites == 1:
        return Method(name, False, "Not needed: one pass is enough.")
    reach = f"Your travel turns {say.text(setup.bite_mm, 1)} of {say.text(setup.whole_mm, 1)}"
    if setup.bites != 2:
        return Method(name, False, f"{reach} at a time: two passes do not reach.")
    return Method(
        name,
        True,
        f"{reach} at a time; the second is set by the indicator on the first.",
        2 * setup.wrong_by_indicator_mm(setup.travel_mm),
    )
