"""A coil spring with everything that its wire, coils and ends settle."""

from __future__ import annotations

from dataclasses import dataclass

from generator.formulas import spring, stack
from generator.inputs.tables import Spring
from generator.standards.bands import SpringWire


@dataclass(frozen=True, slots=True)
class CoilSpring:
    """One compression spring.

    Attributes:
        wire_mm: Diameter of the wire.
        outside_mm: Outside diameter at rest.
        free_mm: Free length.
        total_coils: All coils.
        active_coils: Coils that give.
        rate_N_per_mm: Spring rate.
        measured: Whether the rate was measured, not computed.
        solid_mm: Length with all coils touching.
        least_gap_mm: Sum of the gaps that must remain between the coils.
        outside_greatest_mm: Outside diameter with its tolerance and its growth when solid.
        strength_MPa: Least tensile strength of the wire.
        grade: Grade of the wire.
        ends: Form of the end coils.
    """

    wire_mm: float
    outside_mm: float
    free_mm: float
    total_coils: float
    active_coils: float
    rate_N_per_mm: float
    measured: bool
    solid_mm: float
    least_gap_mm: float
    outside_greatest_mm: float
    strength_MPa: float
    grade: str
    ends: str

    @property
    def mean_mm(self) -> float:
        """The mean coil diameter."""
        return self.outside_mm - self.wire_mm

    @property
    def inside_mm(self) -> float:
        """The inside diameter."""
        return self.outside_mm - 2 * self.wire_mm

    @property
    def index(self) -> float:
        """Mean coil diameter over wire diameter."""
        return self.mean_mm / self.wire_mm

    @property
    def coil(self) -> stack.Coil:
        """What a stack needs to know of it."""
        return stack.Coil(
            free_mm=self.free_mm, solid_mm=self.solid_mm, rate_N_per_mm=self.rate_N_per_mm
        )

    @property
    def solid_force_N(self) -> float:
        """The force that closes it."""
        return self.rate_N_per_mm * (self.free_mm - self.solid_mm)

    def length_mm(self, force_N: float) -> float:
        """Return its length under a force, never below solid."""
        return max(self.solid_mm, self.free_mm - force_N / self.rate_N_per_mm)

    def stress_MPa(self, force_N: float) -> float:
        """Return the uncorrected shear stress under a force, which ends when it is solid."""
        return spring.shear_stress_MPa(
            force_N=min(force_N, self.solid_force_N), wire_mm=self.wire_mm, mean_mm=self.mean_mm
        )


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


def coil_spring(asked: Spring, *, measured: bool) -> CoilSpring:
    """Return the spring that completed parameters describe.

    Args:
        asked: The parameters of the spring.
        measured: Whether its rate was measured.

    Raises:
        StandardError: If the grade of wire is not tabulated for that diameter.
    """
    mean_mm = asked.outside_mm - asked.wire_mm
    return CoilSpring(
        wire_mm=asked.wire_mm,
        outside_mm=asked.outside_mm,
        free_mm=asked.free_mm,
        total_coils=asked.total_coils,
        active_coils=asked.active_coils,
        rate_N_per_mm=asked.rate_N_per_mm,
        measured=measured,
        solid_mm=spring.solid_length_mm(
            wire_mm=asked.wire_mm, total_coils=asked.total_coils, ends=asked.ends
        ),
        least_gap_mm=spring.least_gap_mm(
            wire_mm=asked.wire_mm, mean_mm=mean_mm, active_coils=asked.active_coils
        ),
        outside_greatest_mm=outside_greatest_mm(
            wire_mm=asked.wire_mm,
            outside_mm=asked.outside_mm,
            active_coils=asked.active_coils,
            free_mm=asked.free_mm,
            ends=asked.ends,
        ),
        strength_MPa=SpringWire.strength_MPa(asked.wire, asked.wire_mm),
        grade=asked.wire,
        ends=asked.ends,
    )
