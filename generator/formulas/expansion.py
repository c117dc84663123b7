"""How work grows with its temperature."""

from __future__ import annotations


def growth_mm(*, length_mm: float, warmer_K: float, expansion_um_per_m_K: float) -> float:
    """Return how much longer a bar grows when it is warmed, alpha L dT.

    Args:
        length_mm: Length L.
        warmer_K: Rise of temperature dT.
        expansion_um_per_m_K: Coefficient of linear expansion alpha, in millionths a kelvin.

    Returns:
        Growth of the length.

    Raises:
        ValueError: If the length or the coefficient is not positive, or the rise is negative.

    Source:
        OpenStax, College Physics, example 13.3: a steel span of 1275 m grows 0.84 m from -15 to 40
        degrees (the book from memory, unverified).

    Example:
        >>> round(growth_mm(length_mm=1275e3, warmer_K=55, expansion_um_per_m_K=12) / 1000, 2)
        0.84
    """
    if not (length_mm > 0 and warmer_K >= 0 and expansion_um_per_m_K > 0):
        raise ValueError(f"{length_mm=}, {warmer_K=}, {expansion_um_per_m_K=}")
    return length_mm * warmer_K * expansion_um_per_m_K * 1e-6
