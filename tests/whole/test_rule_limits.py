"""Positions and parts at and around every limit of the rules: the tool's verdict by rule against our own.

``RECAP_BENCHES=400 pytest tests/whole`` takes so many pairs.
"""

from __future__ import annotations

import os
import random
from typing import TYPE_CHECKING

import pytest

from tests.whole.bench_maker import write
from tests.whole.own_matching import FITS, limits_for, verdicts, worst
from tests.whole.pairs import bench_of, random_pair
from tests.whole.the_tool import run

if TYPE_CHECKING:
    from pathlib import Path

COUNT = int(os.environ.get("RECAP_BENCHES") or 40)
PAIRS = [random_pair(random.Random(seed)) for seed in range(COUNT)]


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write(bench_of(PAIRS), tmp_path_factory.mktemp("pairs"))


@pytest.mark.parametrize("at", range(COUNT))
def test_each_rule_gives_the_verdict_that_its_table_gives(at: int, bench: Path) -> None:
    old, new = PAIRS[at]
    answer = run("margin", "--bench", str(bench), f"S1:C{at + 1}", f"P{at + 1}", "--json")
    assert answer.status == 0, answer.said
    own = {rule: verdict for rule, verdict in verdicts(old, new, limits_for({}, old.role)).items() if verdict != FITS}
    told = {rule["rule"]: rule["verdict"] for rule in answer.doc["rules"] if rule["verdict"] != FITS}
    assert told == own
    assert answer.doc["verdict"] == worst(FITS, *own.values())
    assert all(rule["reason"] and rule["source"] for rule in answer.doc["rules"])
