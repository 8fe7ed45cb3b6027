"""What stands on the command line goes before what stands in bench.toml: each option against our own solver."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest

from tests.whole.bench_maker import make, write
from tests.whole.own_files import Workshop, read_workshop
from tests.whole.own_matching import needs
from tests.whole.own_pricing import complaints
from tests.whole.own_solver import brute_force
from tests.whole.the_tool import run

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path


def setting(**changes: object) -> Callable[[Workshop], Workshop]:
    return lambda shop: replace(shop, settings=shop.settings | changes)


def without(name: str) -> Callable[[Workshop], Workshop]:
    return lambda shop: replace(shop, offers=tuple(offer for offer in shop.offers if offer.supplier != name))


def only(name: str) -> Callable[[Workshop], Workshop]:
    return lambda shop: replace(
        shop,
        sets=tuple(unit for unit in shop.sets if unit["set"] == name),
        extras=tuple(extra for extra in shop.extras if extra.owner in {"", name}),
    )


def spare(pieces: int) -> Callable[[Workshop], Workshop]:
    return lambda shop: replace(shop, settings=shop.settings | {"spares": {"pieces": pieces}})


OPTIONS: dict[str, Callable[[Workshop], Workshop]] = {
    "--max-suppliers 1": setting(max_suppliers=1),
    "--max-suppliers 0": setting(max_suppliers=0),
    "--without alderpost": without("alderpost"),
    "--sets S1": only("S1"),
    "--spares 2": spare(2),
    "--care": setting(allow_care=True),
    "--no-care": setting(allow_care=False),
    "--split": setting(one_part_per_group=False),
    "--one-part": setting(one_part_per_group=True),
    "--drawer": setting(use_drawer=True),
    "--no-drawer": setting(use_drawer=False),
    "--solver cbc": setting(),
}
SEEDS = {"--max-suppliers 1": (1005, 1006), "--without alderpost": (1007, 1012)}


@pytest.mark.parametrize(
    ("option", "seed"), [(option, seed) for option in OPTIONS for seed in SEEDS.get(option, (1010, 1024))]
)
def test_an_option_goes_before_the_setting(option: str, seed: int, tmp_path: Path) -> None:
    folder = write(make(seed, "tiny"), tmp_path / "bench")
    shop = OPTIONS[option](read_workshop(folder))
    wants = needs(shop)
    answer = run("order", str(folder), "--json", *option.split())
    assert answer.status in {0, 3}, answer.said
    own = brute_force(shop, wants)
    assert (answer.doc["total"] and Fraction(answer.doc["total"])) == own.total
    if own.total is not None:
        assert complaints(shop, wants, answer.doc) == []
