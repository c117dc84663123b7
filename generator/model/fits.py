"""Limits of size, as deviations from a nominal."""

from __future__ import annotations

from dataclasses import dataclass

from generator.standards.bands import ToleranceZone


@dataclass(frozen=True, slots=True)
class Limits:
    """Limits of size as deviations from the nominal.

    Attributes:
        nominal_mm: The nominal size.
        lower_um: Lower deviation.
        upper_um: Upper deviation.
        zone: ISO 286 zone, or "" where the user gave the deviations.
    """

    nominal_mm: float
    lower_um: float
    upper_um: float
    zone: str

    @property
    def text(self) -> str:
        """The limits behind a nominal size, such as "H7 (+0.015/0)"."""
        upper, lower = (_signed(value) for value in (self.upper_um, self.lower_um))
        return f"{self.zone} ({upper}/{lower})".strip()


def _signed(value_um: float) -> str:
    return "0" if value_um == 0 else f"{value_um / 1000:+.4f}".rstrip("0")


def limits_of(nominal_mm: float, zone: str, limits_um: tuple[float, float] | None) -> Limits:
    """Return the limits of a size, by its zone or by the deviations in place of it.

    Raises:
        StandardError: If the zone is not tabulated for the size.
    """
    if limits_um is not None:
        return Limits(nominal_mm, limits_um[0], limits_um[1], "")
    upper_um, lower_um = ToleranceZone.limits_um(zone, nominal_mm)
    return Limits(nominal_mm, lower_um, upper_um, zone)
