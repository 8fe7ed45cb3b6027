"""Property tests are judged by what they find, not by how busy the machine is: no deadline for a single example."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

settings.register_profile("steady", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("steady")
