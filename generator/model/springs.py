"""A coil spring with everything that its wire, coils and ends settle."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import nan
from typing import Final

from generator.errors import StandardError
from generator.formulas import coils, spring, stack
from generator.inputs.quantities import is_derived
from generator.inputs.shop import Assumptions
from generator.inputs.tables import InnerSpring, Spring
from generator.standards.bands import SpringWire

SOLID_SHARE: Final = 1.05
"""Stocked springs may be this much longer when solid than their coils say."""

LEAST_MARGIN_MM: Final = 1.0
"""Room to keep over the solid length of any spring; engineering judgement."""


@dataclass(frozen=True, slots=True)
class Winding:
    """Free length, coils and ends of a spring, as bought or as it goes in.

    Attributes:
        free_mm: Free length.
        total_coils: All coils.
        active_coils: Coils that give.
        ends: Form of the end coils.
    """

    free_mm: float
    total_coils: float
    active_coils: float
    ends: str


@dataclass(frozen=True, slots=True)
class CoilSpring:
    """One compression spring as it goes into the tool.

    Attributes:
        wire_mm: Diameter of the wire.
        outside_mm: Outside diameter at rest.
        free_mm: Free length.
        total_coils: All coils.
        active_coils: Coils that give.
        rate_N_per_mm: Spring rate.
        measured: Whether the rate was measured, not computed.
        solid_mm: Length with all coils touching, by the handbook.
        solid_en_mm: Greatest such length by EN 13906-1; None where ends or wire are not covered.
        least_gap_mm: Sum of the gaps that must remain between the coils.
        outside_greatest_mm: Outside diameter with its tolerance and its growth when solid.
        strength_MPa: Least tensile strength of the wire.
        grade: Grade of the wire.
        ends: Form of the end coils; of a spring that was cut, the cut end first.
        hand: "right" or "left".
        bought: How it was before it was cut down; None if it was not.
        inner: The spring inside it, if there is one.
    """

    wire_mm: float
    outside_mm: float
    free_mm: float
    total_coils: float
    active_coils: float
    rate_N_per_mm: float
    measured: bool
    solid_mm: float
    solid_en_mm: float | None
    least_gap_mm: float
    outside_greatest_mm: float
    strength_MPa: float
    grade: str
    ends: str
    hand: str
    bought: Winding | None = None
    inner: CoilSpring | None = None

    @property
    def mean_mm(self) -> float:
        """The mean coil diameter."""
        return self.outside_mm - self.wire_mm

    @property
    def inside_mm(self) -> float:
        """The inside diameter."""
        return self.outside_mm - 2 * self.wire_mm

    @property
    def inside_least_mm(self) -> float:
        """The inside diameter at the small end of the tolerance of stocked springs."""
        return self.inside_mm - spring.outside_minus_mm(outside_mm=self.outside_mm)

    @property
    def index(self) -> float:
        """Mean coil diameter over wire diameter."""
        return self.mean_mm / self.wire_mm

    @property
    def nested(self) -> tuple[CoilSpring, ...]:
        """The spring, and after it the one inside it."""
        return (self,) if self.inner is None else (self, self.inner)

    @property
    def longest_solid_mm(self) -> float:
        """The longest that it may turn out when solid: EN, or 1.05 times the handbook's length."""
        return max(self.solid_en_mm or 0.0, SOLID_SHARE * self.solid_mm)

    @property
    def solid_force_N(self) -> float:
        """The force that closes it by itself."""
        return self.rate_N_per_mm * (self.free_mm - self.solid_mm)

    @property
    def own_curve(self) -> stack.Curve:
        """Its force against its length, without the spring inside it."""
        return stack.coil(
            free_mm=self.free_mm, solid_mm=self.solid_mm, rate_N_per_mm=self.rate_N_per_mm
        )

    @property
    def curve(self) -> stack.Curve:
        """Force against length of the spring with the one inside it."""
        return stack.side_by_side([each.own_curve for each in self.nested])

    def stress_MPa(self, force_N: float) -> float:
        """Return the uncorrected shear stress under a force, which ends when it is solid."""
        return spring.shear_stress_MPa(
            force_N=min(force_N, self.solid_force_N), wire_mm=self.wire_mm, mean_mm=self.mean_mm
        )

    def corrected_stress_MPa(self, force_N: float) -> float:
        """Return the shear stress at the inside of the coil, by the Bergstraesser factor."""
        return spring.bergstraesser_factor(index=self.index) * self.stress_MPa(force_N)


@dataclass(frozen=True, slots=True)
class InPlace:
    """A spring as it stands in the tool, in the row or inside another one.

    Attributes:
        label: What the papers call it: "spring" for the only one, else as "spring 2 inner".
        key: Its table in the parameter file.
        spring: The spring.
        place: The spring in the row: itself, or the one around it.
    """

    label: str
    key: str
    spring: CoilSpring
    place: CoilSpring

    @property
    def subject(self) -> str:
        """The label as the subject of a finding; "" for the only spring."""
        return "" if self.label == "spring" else self.label

    @property
    def inner(self) -> bool:
        """Whether it stands inside another one."""
        return self.spring is not self.place

    def room_mm(self, force_N: float) -> float:
        """Return the length of its place under a force on all springs; NaN for NaN."""
        return nan if force_N != force_N else self.place.curve.length_mm(force_N)

    def bears_N(self, force_N: float) -> float:
        """Return what it bears of a force on all springs; NaN for NaN."""
        return nan if force_N != force_N else self.spring.own_curve.force_N(self.room_mm(force_N))


def in_place(springs: tuple[CoilSpring, ...]) -> Iterator[InPlace]:
    """Yield every spring of a row, each followed by the one inside it."""
    for place, outer in enumerate(springs, 1):
        label = f"spring {place}" if len(springs) > 1 or outer.inner else "spring"
        key = f"springs[{place}]"
        yield InPlace(label, key, outer, outer)
        if outer.inner is not None:
            yield InPlace(f"{label} inner", f"{key}.inner", outer.inner, outer)


def toleranced(
    each: CoilSpring, *, rate_share: float, free_share: float
) -> tuple[stack.Curve, stack.Curve]:
    """Return the curves of a spring, with the one inside it, at its weakest and its stiffest.

    Args:
        each: The spring.
        rate_share: Tolerance of the rate; a measured rate has none.
        free_share: Tolerance of the free length.

    Raises:
        ValueError: If the shortest of one is no longer than its solid length.
    """
    weak, stiff = (
        stack.side_by_side(
            [
                stack.coil(
                    free_mm=one.free_mm * (1 + sign * free_share),
                    solid_mm=one.solid_mm,
                    rate_N_per_mm=one.rate_N_per_mm
                    * (1 + (0.0 if one.measured else sign * rate_share)),
                )
                for one in each.nested
            ]
        )
        for sign in (-1, 1)
    )
    return weak, stiff


def toleranced_row(
    springs: Sequence[CoilSpring], assumed: Assumptions
) -> list[tuple[stack.Curve, stack.Curve]] | None:
    """Return for each spring of a row its curves at its weakest and at its stiffest.

    None if a spring would be solid at rest with its shortest free length.
    """
    shares = {
        "rate_share": assumed.rate_percent / 100,
        "free_share": assumed.free_percent / 100,
    }
    try:
        return [toleranced(spring, **shares) for spring in springs]
    except ValueError:
        return None


def extreme_curves(
    springs: Sequence[CoilSpring], assumed: Assumptions, separators_mm: float
) -> tuple[stack.Curve, stack.Curve] | None:
    """Return the curves of a whole row with all springs weak, and with all stiff; None likewise."""
    pairs = toleranced_row(springs, assumed)
    if pairs is None:
        return None
    weak, stiff = zip(*pairs, strict=True)
    return stack.in_series(weak, separators_mm), stack.in_series(stiff, separators_mm)


def outside_greatest_mm(
    *, wire_mm: float, outside_mm: float, active_coils: float, free_mm: float, ends: str
) -> float:
    """Return the outside diameter with its tolerance and its growth when solid."""
    solid_mm = spring.outside_at_solid_mm(
        wire_mm=wire_mm,
        mean_mm=outside_mm - wire_mm,
        active_coils=active_coils,
        free_mm=free_mm,
        ends=ends,
    )
    return solid_mm + spring.outside_tolerance_mm(outside_mm=outside_mm)


def bought_pitch_mm(asked: InnerSpring) -> float:
    """Return the pitch of a spring as bought, both counts of its coils known."""
    return coils.pitch_mm(
        wire_mm=asked.wire_mm,
        free_mm=asked.free_mm,
        active_coils=asked.active_coils,
        ends=asked.ends,
    )


def used(asked: InnerSpring) -> Winding:
    """Return free length, coils and ends of a spring as it goes in, cut down where asked.

    Args:
        asked: The parameters, with both counts of coils.
    """
    if asked.cut_to_mm is None:
        return Winding(asked.free_mm, asked.total_coils, asked.active_coils, asked.ends)
    active = coils.coils_left(
        wire_mm=asked.wire_mm,
        pitch_mm=bought_pitch_mm(asked),
        cut_mm=asked.cut_to_mm,
        ends=asked.ends,
    )
    ends = coils.cut_ends(asked.ends)
    total = coils.total_coils(active_coils=active, ends=ends)
    return Winding(asked.cut_to_mm, total, active, ends)


def coil_spring(asked: InnerSpring, told: InnerSpring) -> CoilSpring:
    """Return the spring that completed parameters describe.

    Args:
        asked: The completed parameters of the spring.
        told: The parameters as the user gave them; a rate among them is a measured one.

    Raises:
        StandardError: If the grade of wire is not tabulated for that diameter.
    """
    now = used(asked)
    made = CoilSpring(
        wire_mm=asked.wire_mm,
        outside_mm=asked.outside_mm,
        free_mm=now.free_mm,
        total_coils=now.total_coils,
        active_coils=now.active_coils,
        rate_N_per_mm=asked.rate_N_per_mm,
        measured=not is_derived(told.rate_N_per_mm),
        solid_mm=coils.solid_length_mm(
            wire_mm=asked.wire_mm, total_coils=now.total_coils, ends=now.ends
        ),
        solid_en_mm=_solid_en_mm(asked, now),
        least_gap_mm=spring.least_gap_mm(
            wire_mm=asked.wire_mm,
            mean_mm=asked.outside_mm - asked.wire_mm,
            active_coils=now.active_coils,
        ),
        outside_greatest_mm=outside_greatest_mm(
            wire_mm=asked.wire_mm,
            outside_mm=asked.outside_mm,
            active_coils=now.active_coils,
            free_mm=now.free_mm,
            ends=now.ends,
        ),
        strength_MPa=SpringWire.strength_MPa(asked.wire, asked.wire_mm),
        grade=asked.wire,
        ends=now.ends,
        hand=asked.hand,
    )
    if asked.cut_to_mm is not None:
        bought = Winding(asked.free_mm, asked.total_coils, asked.active_coils, asked.ends)
        made = replace(made, bought=bought)
    if isinstance(asked, Spring) and asked.inner is not None:
        assert isinstance(told, Spring)
        assert told.inner is not None
        made = replace(made, inner=coil_spring(asked.inner, told.inner))
    return made


def _solid_en_mm(asked: InnerSpring, now: Winding) -> float | None:
    try:
        return coils.solid_length_en_mm(
            wire_greatest_mm=SpringWire.greatest_mm(asked.wire, asked.wire_mm),
            total_coils=now.total_coils,
            ends=now.ends,
        )
    except (StandardError, ValueError):
        return None
