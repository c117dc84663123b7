"""The leans and mouths of many assemblies of a tool; the one module of use that loads numpy."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, degrees

from generator.formulas.assemblies import ASSEMBLIES, SEED, Chain, Spread, spreads
from generator.model.tool import Tool
from generator.standards.rows import once
from generator.use.alignment import Lean, Term, leans


@dataclass(frozen=True, slots=True)
class SimulatedLean:
    """What many assemblies of one tap's chain came to.

    Attributes:
        lean: The chain.
        lean_deg: The lean of the thread, in degrees.
        mouth_mm: The growth of the mouth on its diameter.
    """

    lean: Lean
    lean_deg: Spread
    mouth_mm: Spread


@dataclass(frozen=True, slots=True)
class Simulation:
    """Many assemblies of a tool.

    Attributes:
        assemblies: How many.
        seed: Where the random numbers began.
        taps: Each tap whose chain can be worked out.
    """

    assemblies: int
    seed: int
    taps: tuple[SimulatedLean, ...]


def simulate(tool: Tool, *, assemblies: int = ASSEMBLIES, seed: int = SEED) -> Simulation:
    """Return many assemblies of a tool; the same errors serve all its taps."""
    known = [lean for lean in leans(tool) if lean.known]
    keys = once(term.key for lean in known for term in lean.terms if term.way is None)
    chains = [_chain(lean.leaning, 1 / lean.arm_mm, keys) for lean in known]
    chains += [_chain(lean.turning, lean.growth, keys) for lean in known]
    found = spreads(chains, assemblies=assemblies, seed=seed)
    return Simulation(
        assemblies,
        seed,
        tuple(
            SimulatedLean(lean, _in_degrees(slope), mouth)
            for lean, slope, mouth in zip(
                known, found[: len(known)], found[len(known) :], strict=True
            )
        ),
    )


def _chain(terms: tuple[Term, ...], scale: float, keys: tuple[str, ...]) -> Chain:
    most = {term.key: term.most_mm * scale for term in terms if term.way is None}
    x, y = (scale * sum(term.fixed_mm[axis] for term in terms) for axis in (0, 1))
    return Chain((x, y), tuple(most.get(key, 0.0) for key in keys))


def _in_degrees(slope: Spread) -> Spread:
    """Return a spread of slopes as one of angles."""
    quantiles, edges = (
        tuple(degrees(atan(value)) for value in values) for values in (slope.quantiles, slope.edges)
    )
    return Spread(quantiles, edges, slope.shares)
