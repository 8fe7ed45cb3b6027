"""``bench.toml``: numbers exact, every key known, faults at their lines."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.diagnostics import Severity
from recap.match.limits import limits_for
from recap.model import Role, Settings
from recap.settings import read_settings, settings_from_text
from tests.bench_folder.folders import errors

if TYPE_CHECKING:
    from pathlib import Path


def faults(text: str) -> list[tuple[str, int | None, str | None]]:
    _, told = settings_from_text(text, "bench.toml")
    assert all(d.hint for d in told)
    return [(d.code, d.source.row, d.source.column) for d in told if d.severity is Severity.ERROR]


def test_everything_left_out_is_the_default() -> None:
    assert settings_from_text("", "bench.toml") == (Settings(), [])


def test_numbers_are_exact_and_roles_have_their_own() -> None:
    found, told = settings_from_text(
        "currency = 'USD'\nmax_suppliers = 2\noffer_days = 90\n[spares]\npercent = 7.5\n"
        "[rules]\ntemp_min = 85\nderating = 0.7\nmakers_never = ['Ombrel']\n[rules.switching]\nlife_min = 5000\n",
        "bench.toml",
    )
    assert told == []
    assert (found.currency, found.max_suppliers, found.offer_days) == ("USD", 2, 90)
    assert found.spares.percent == Decimal("7.5")
    assert limits_for(found, None).derating == Decimal("0.7")
    assert limits_for(found, Role.SWITCHING).life_min == Decimal(5000)
    assert limits_for(found, Role.SWITCHING).temp_min == 85
    assert limits_for(found, Role.TIMING).makers_never == ("Ombrel",)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a = 1\n\nb = 2", [("settings-unknown", 1, "a"), ("settings-unknown", 3, "b")]),
        ("[rules]\nlife_mni = 1", [("settings-unknown", 2, "rules.life_mni")]),
        ("[rules.smoothign]\nlife_min = 1", [("settings-unknown", 1, "rules.smoothign")]),
        ("temp_min = 85", [("settings-unknown", 1, "temp_min")]),
        ("use_drawer = 1", [("settings-type", 1, "use_drawer")]),
        ("[rules]\nmakers_only = 'Ombrel'", [("settings-type", 2, "rules.makers_only")]),
        ("max_suppliers = -1", [("settings-range", 1, "max_suppliers")]),
        ("[spares]\nconfidence = 95", [("settings-range", 2, "spares.confidence")]),
        ("[spares]\npieces = 10000000", [("settings-range", 2, "spares.pieces")]),
        ("[spares]\npercent = 1e300", [("settings-range", 2, "spares.percent")]),
        ("[rules]\ndrawer_years = 1e300", [("settings-range", 2, "rules.drawer_years")]),
        ("[rules]\ncapacitance_low = 1.3\ncapacitance_high = 1.2", [("settings-range", 3, "rules.capacitance_high")]),
        ("spares = 3", [("settings-type", 1, "spares")]),
        ("x = ", [("settings-broken", 1, None)]),
        ("max_suppliers = nan", [("settings-type", 1, "max_suppliers")]),
        ("max_suppliers = 1e400", [("settings-range", 1, "max_suppliers")]),
        ("offer_days = 99999999999", [("settings-range", 1, "offer_days")]),
        ("currency = 'euros'", [("settings-type", 1, "currency")]),
        ("currency = '<b>'", [("settings-type", 1, "currency")]),
    ],
)
def test_faults_are_told_at_their_lines(text: str, expected: list[tuple[str, int | None, str | None]]) -> None:
    assert faults(text) == expected


def test_a_currency_is_its_code_however_it_is_typed() -> None:
    """ISO 4217 writes it in capitals; the terms of suppliers are read so, too."""
    assert settings_from_text("currency = ' gbp'", "bench.toml")[0].currency == "GBP"


def test_a_link_to_settings_that_are_not_there_is_no_leave_to_take_the_defaults(tmp_path: Path) -> None:
    (tmp_path / "bench.toml").symlink_to(tmp_path / "gone.toml")
    _, told = read_settings(tmp_path / "bench.toml")
    assert [(d.code, d.severity) for d in told] == [("file-missing", Severity.ERROR)]


def test_a_misplaced_key_is_told_where_it_belongs() -> None:
    _, (fault,) = settings_from_text("[rules]\nallow_care = true\n", "bench.toml")
    assert fault.hint == "allow_care belongs to the top of the file, above every [table]"


@given(st.text(max_size=200))
@settings(max_examples=200, deadline=None)
def test_any_text_is_settings_or_faults(text: str) -> None:
    found, told = settings_from_text(text, "bench.toml")
    assert found == Settings() or not [d for d in told if d.severity is Severity.ERROR]


def test_a_hundred_thousand_settings_that_do_not_exist_are_told_in_seconds(tmp_path: Path) -> None:
    found = errors(tmp_path, {"bench.toml": "\n".join(f"k{number} = 1" for number in range(100_000))})
    assert len(found) == 50
