"""What a way of making consists of: steps at one machine, operations, routes."""

from __future__ import annotations

from dataclasses import dataclass
from math import isnan, nan
from typing import Literal

from generator.inputs.workshop import Workshop
from generator.model.part import Part

Station = Literal["saw", "lathe", "mill", "bench"]
Kind = Literal["diameter", "length"]
Hold = Literal["jaws", "collet", "socket", "mandrel", "dog", "centre", "steady", "vice"]
RouteKey = Literal["centres", "socket", "collet", "mandrel", "4-jaw", "3-jaw"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line of a bench sheet.

    Attributes:
        do: What to do, as an order, in 70 letters at most.
        tool: The cutter or tool, with its size; "" for none.
        rpm: Speed of the spindle to set, from the speeds the user has; NaN where nothing turns.
        wanted_rpm: Speed that the cutting speed asks for; below `rpm` where even the slowest of
            his is too fast.
        feed: Feed as he sets it, such as "0.1 mm/rev" or "by hand"; "" for none.
        dial: The number to set or to stop at, such as "zero on the face, stop at 24.5"; "" for
            none.
        kind: What is measured, if anything is.
        set_mm: Size to aim at; NaN where nothing is measured.
        low_mm: Least size that is right.
        high_mm: Greatest size that is right.
        stop: What to check before this step, because it cannot be undone; "" for none.
    """

    do: str
    tool: str = ""
    rpm: float = nan
    wanted_rpm: float = nan
    feed: str = ""
    dial: str = ""
    kind: Kind = "length"
    set_mm: float = nan
    low_mm: float = nan
    high_mm: float = nan
    stop: str = ""


@dataclass(frozen=True, slots=True)
class Grip:
    """What holds the work, as a plain shape of a sketch.

    Attributes:
        hold: What it is.
        from_mm: Where on the part it begins; of a centre, where its bevel is.
        to_mm: Where it ends.
    """

    hold: Hold
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class Size:
    """A number that stands on the sketch of an operation.

    Attributes:
        kind: A diameter, or a length from the zero of the operation.
        at_mm: Where on the part.
        size_mm: The size.
        label: What is written in place of "Ø" or nothing before the number; such as "M10, ".
    """

    kind: Kind
    at_mm: float
    size_mm: float
    label: str = ""


@dataclass(frozen=True, slots=True)
class Ask:
    """A thing that an operation needs.

    Attributes:
        what: A thing of the kit, or "drill", "reamer" or "end mill".
        size_mm: Its size; NaN for a thing of the kit.
    """

    what: str
    size_mm: float = nan


def lacks(ask: Ask, shop: Workshop) -> bool:
    """Tell whether the workshop lacks a thing; an empty list of sizes holds every size."""
    lists = {"drill": shop.drills_mm, "reamer": shop.reamers_mm, "end mill": shop.end_mills_mm}
    if ask.what in lists:
        sizes = lists[ask.what]
        return bool(sizes) and all(abs(size - ask.size_mm) > 1e-6 for size in sizes)
    return ask.what not in shop.kit


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """What is done to one part in one holding.

    Attributes:
        number: 10, 20, 30 through the whole tool.
        part: Name of the part.
        title: What it does.
        station: Where.
        holding: How the work is held, and from which surface it is trued.
        steps: Its lines, in order.
        before: The part as it comes to the operation; None at the saw.
        after: The part as it is after this operation, unfinished surfaces at their rough sizes;
            None where no shape is cut.
        left: Which end lies toward the headstock, to the left of the sketch.
        zero_mm: Where on the part the lengths of this operation are counted from.
        grips: What holds it.
        sizes: The numbers of its sketch.
        features: Names of the surfaces, cuts and threads that it finishes; over all operations of
            a part each is finished once.
        asks: What it needs of kit and cutters.
        cautions: What may go wrong or hurt here.
        instead: Where the kit lacks what this asks for: how else, and what that costs in
            coaxiality.
    """

    number: int = 0
    part: str
    title: str
    station: Station
    holding: str
    steps: tuple[Step, ...]
    before: Part | None = None
    after: Part | None = None
    left: Literal["front", "rear"] = "rear"
    zero_mm: float = 0.0
    grips: tuple[Grip, ...] = ()
    sizes: tuple[Size, ...] = ()
    features: tuple[str, ...] = ()
    asks: tuple[Ask, ...] = ()
    cautions: tuple[str, ...] = ()
    instead: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Term:
    """One error between the bore and the mount, the most that it reaches on the radius.

    Attributes:
        name: What errs.
        nose_mm: At the nose face.
        tip_mm: At the tip of the plunger, as far out as it comes.
        source: Where the figure comes from: a key of the parameter file, or judgement.
    """

    name: str
    nose_mm: float
    tip_mm: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """One way of bringing bore and mount onto one axis.

    Attributes:
        key: Which of the ways it is.
        name: Such as "outside from the bore, between centres".
        why: What makes bore and mount agree, in a sentence.
        terms: What is left over.
        missing: What it asks for that the workshop lacks; empty if it can be done.
    """

    key: RouteKey
    name: str
    why: str
    terms: tuple[Term, ...]
    missing: tuple[str, ...] = ()

    @property
    def error_mm(self) -> float:
        """The greatest error on the radius at the nose: the sum of its terms."""
        return sum(term.nose_mm for term in self.terms)

    @property
    def tip_error_mm(self) -> float:
        """The greatest error on the radius at the tip of the plunger."""
        return sum(term.tip_mm for term in self.terms)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The whole way of making a tool.

    Attributes:
        routes: The ways of making the body, the one that is planned first.
        operations: All operations of the planned route, part by part.
        assumed_mm: Error on the radius at the nose that the tool is worked out with.
        assumed_tip_mm: The same at the tip.
    """

    routes: tuple[Route, ...]
    operations: tuple[Operation, ...]
    assumed_mm: float
    assumed_tip_mm: float

    @property
    def good_enough(self) -> bool:
        """Whether the planned route is predicted no worse than the tool is worked out with."""
        route = self.routes[0]
        return (
            route.error_mm <= self.assumed_mm + 1e-9
            and route.tip_error_mm <= self.assumed_tip_mm + 1e-9
        )


def measured(step: Step) -> bool:
    """Tell whether a step has a size to be met."""
    return not isnan(step.set_mm)
