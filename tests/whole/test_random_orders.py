"""Random benches, a solver of our own beside the tool: totals equal to six decimals, every line priced again.

``RECAP_BENCHES=200 pytest tests/whole`` runs so many of each size; ``python tests/whole/campaign.py`` tells more.
"""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from tests.whole.bench_maker import make, write
from tests.whole.campaign import try_bench

if TYPE_CHECKING:
    from pathlib import Path

USUAL = {"tiny": 24, "ties": 14, "medium": 4, "larger": 1}
ASKED = os.environ.get("RECAP_BENCHES")


@pytest.mark.parametrize(
    ("size", "seed"),
    [(size, seed) for size, usual in USUAL.items() for seed in range(int(ASKED or usual))],
)
def test_no_cheaper_order_exists_and_every_rule_is_kept(size: str, seed: int, tmp_path: Path) -> None:
    trial = try_bench(write(make(seed, size), tmp_path / "bench"), size, seconds=40)
    assert trial.wrong == []
    assert trial.ended in {"optimal", "impossible"}
