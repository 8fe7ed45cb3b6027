"""How property tests draw their examples.

A plain run is repeatable: each test draws the same examples every time, so what passed here passes elsewhere. To look
for what nobody has thought of, ``RECAP_DRAW=anew`` draws other ones at each run (DEVELOPERS.md, *Test*). Either way a
test is judged by what it finds, not by how busy the machine is: no example has a deadline.
"""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

settings.register_profile(
    "drawn",
    deadline=None,
    derandomize=os.environ.get("RECAP_DRAW") != "anew",
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("drawn")
