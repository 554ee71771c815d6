"""Settings that hold for every test."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

# Timings are noisy on shared machines, so no example has a deadline; the same examples run everywhere,
# so that a run that passed passes again.
settings.register_profile(
    "steady", deadline=None, derandomize=True, max_examples=60, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("steady")
