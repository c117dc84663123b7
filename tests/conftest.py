"""Settings that all tests share."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

settings.register_profile(
    "repeatable",
    deadline=None,
    derandomize=True,
    database=None,
    max_examples=60,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
settings.load_profile("repeatable")
