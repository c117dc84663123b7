"""Ranges from which the property tests of the formulas draw."""

from __future__ import annotations

from hypothesis import settings
from hypothesis import strategies as st

steady = settings(deadline=None, derandomize=True, max_examples=60)
"""No clock and no chance: the same examples on every run."""

lengths = st.floats(0.1, 200.0)
forces = st.floats(0.1, 200.0)
ratios = st.floats(0.1, 10.0)
tapers = st.floats(0.01, 2.0)
angles = st.floats(10.0, 170.0)
NAN = float("nan")
