"""``bench.toml`` to :class:`~recap.model.Settings`: every key known, of the right type, within its bounds.

An unknown key is an error, for a misspelt one would leave its default in force unnoticed.
"""

from __future__ import annotations

import os
import re
import tomllib
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from recap.diagnostics import Diagnostic, Source, error, has_errors, note
from recap.model import Role, Settings, SparesRule
from recap.read.headers import nearest
from recap.read.tables import read_text

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

FILE_NAME = "bench.toml"


@dataclass(frozen=True, slots=True)
class Key:
    """What one key may hold: its type as a user says it, its least and greatest number; and what it sets.

    The meanings of ``[rules]`` stand with their sources, in ``match/limits.py``.
    """

    kind: str
    least: Decimal | None = None
    most: Decimal | None = None
    meaning: str = ""


_ZERO, _ONE = Decimal(0), Decimal(1)
MOST_SPARES = 1_000_000
"""More of one part nobody wants; a number far beyond is a slip of the finger, and more than can be counted with."""
_THOUSAND, _CENTURY = Decimal(1000), Decimal(36_525)
_SHARE = Key("number", _ZERO, _ONE)
_FACTOR = Key("number", _ZERO)

TOP: Mapping[str, Key] = {
    "currency": Key("code of three letters", meaning="what the total is reckoned in"),
    "catalogs": Key("text", meaning="the folder of the catalogues, from the bench folder"),
    "one_part_per_group": Key("true or false", meaning="the same part in every place that asks for the same thing"),
    "use_drawer": Key("true or false", meaning="take what lies in the drawer where that is cheaper"),
    "allow_care": Key("true or false", meaning="the order may use parts that fit only with care"),
    "care_if_needed": Key("true or false", meaning="it may use them, but only where nothing fits outright"),
    "max_suppliers": Key("whole number", _ZERO, _THOUSAND, "the most parcels; 0: as many as pay off"),
    "offer_days": Key("whole number", _ZERO, _CENTURY, "offers older than so many days are marked; 0: none"),
}
SPARES: Mapping[str, Key] = {
    "pieces": Key("whole number", _ZERO, Decimal(MOST_SPARES), "so many pieces more than needed"),
    "percent": Key("number", _ZERO, Decimal(10_000), "so many percent more, rounded up"),
    "confidence": Key("number", _ZERO, Decimal("0.999999999"), "with this probability enough parts survive"),
    "loss": Key("number", _ZERO, Decimal("0.99"), "when each part is lost or spoilt with this probability"),
    "share_spares": Key("true or false", meaning="a piece over counts as a spare for every group that it suits"),
}
RULES: Mapping[str, Key] = {
    "capacitance_low": _FACTOR,
    "capacitance_high": _FACTOR,
    "capacitance_care": _FACTOR,
    "voltage_care": Key("number", _ONE),
    "derating": _SHARE,
    "temp_min": Key("whole number", _ZERO, Decimal(260)),
    "life_min": _FACTOR,
    "pitch_out": _FACTOR,
    "size_fits": _FACTOR,
    "size_care": _FACTOR,
    "ripple_low": _FACTOR,
    "makers_only": Key("list of texts"),
    "makers_never": Key("list of texts"),
    "drawer_years": Key("number", _ZERO, Decimal(1000)),
    "profile": Key("text"),
}


def read_settings(path: Path) -> tuple[Settings, list[Diagnostic]]:
    """Return the settings in the file ``path``; without it the defaults and a note."""
    if not os.path.lexists(path):  # a link to a disk that is off is no missing file
        message = f"there is no {path.name}: the defaults hold"
        return Settings(), [note("settings-missing", message, Source(str(path)), "recap new DIR writes one")]
    text, found = read_text(path)
    if text is None:
        if [d.code for d in found] == ["file-empty"]:
            return Settings(), [note("settings-missing", f"{path.name} is empty: the defaults hold", Source(str(path)))]
        return Settings(), found
    settings, told = settings_from_text(text, str(path))
    return settings, found + told


def settings_from_text(text: str, file: str) -> tuple[Settings, list[Diagnostic]]:
    """Return the settings that the TOML ``text`` states; ``file`` names it in messages."""
    try:
        data = tomllib.loads(text.replace("\r\n", "\n").replace("\r", "\n"), parse_float=Decimal)
    except (tomllib.TOMLDecodeError, ValueError, RecursionError, ArithmeticError) as fault:
        row = re.search(r"at line (\d+)", str(fault))
        place = Source(file, row=int(row[1]) if row else max(len(text.splitlines()), 1))
        hint = "text stands in quotation marks, true and false are small, decimals have a point"
        if "\\" in text:
            hint = "write / between folders, on Windows too"
        return Settings(), [error("settings-broken", f"this is not TOML: {fault}", place, hint)]
    checker = _Checker(file, text)
    spares = checker.table(data.pop("spares", {}), SPARES, ("spares",))
    rules = data.pop("rules", {})
    layers: dict[Role | None, Mapping[str, object]] = {}
    if isinstance(rules, dict):
        by_role = {name: rules.pop(name) for name in list(rules) if isinstance(rules[name], dict)}
        layers[None] = checker.table(rules, RULES, ("rules",))
        for name, stated in by_role.items():
            role = checker.role(name)
            if role is not None:
                layers[role] = checker.table(stated, RULES, ("rules", name))
    else:
        checker.tell("settings-type", ("rules",), "expected a table [rules]", str(rules))
    top = checker.table(data, TOP, ())
    checker.sense(layers)
    checker.found.sort(key=lambda d: d.source.row or 0)
    if has_errors(checker.found):
        return Settings(), checker.found
    filled = {role: layer for role, layer in layers.items() if layer}
    return Settings(**top, spares=SparesRule(**spares), rules=filled), checker.found  # type: ignore[arg-type]


MOST_UNKNOWN = 50
"""So many settings that don't exist are told."""


class _Checker:
    """Checks tables against their keys and gathers what is wrong, each at its line."""

    def __init__(self, file: str, text: str) -> None:
        self.file = file
        self.lines = text.splitlines()
        self.found: list[Diagnostic] = []
        self.unknown = 0

    def table(self, data: object, keys: Mapping[str, Key], where: tuple[str, ...]) -> dict[str, object]:
        if not isinstance(data, dict):
            self.tell("settings-type", where, f"expected a table [{'.'.join(where)}]", str(data))
            return {}
        good: dict[str, object] = {}
        for name, value in data.items():
            if name not in keys:
                self._unknown(name, keys, where)
                continue
            taken = self._value(value, keys[name], (*where, name))
            if taken is not None:
                good[name] = taken
        return good

    def role(self, name: str) -> Role | None:
        if name in set(Role):
            return Role(name)
        guess = nearest(name, {role.value: role.value for role in Role})
        hint = guess or "roles are: " + ", ".join(Role)
        self.tell("settings-unknown", ("rules", name), f"[rules.{name}]: there is no role of that name", name, hint)
        return None

    def sense(self, layers: Mapping[Role | None, Mapping[str, object]]) -> None:
        """Tell of windows that are upside down within one table."""
        for role, layer in layers.items():
            where = ("rules",) if role is None else ("rules", role.value)
            for low, high in (
                ("capacitance_low", "capacitance_high"),
                ("capacitance_high", "capacitance_care"),
                ("size_fits", "size_care"),
            ):
                below, above = layer.get(low), layer.get(high)
                if isinstance(below, Decimal) and isinstance(above, Decimal) and below > above:
                    self.tell("settings-range", (*where, high), f"{high} {above} is below {low} {below}", str(above))

    def tell(self, code: str, where: tuple[str, ...], message: str, found: str, hint: str | None = None) -> None:
        place = Source(self.file, row=self._row(where), column=".".join(where) or None)
        self.found.append(error(code, message, place, hint or f"correct {'.'.join(where)}", found))

    def _unknown(self, name: str, keys: Mapping[str, Key], where: tuple[str, ...]) -> None:
        self.unknown += 1
        if self.unknown > MOST_UNKNOWN:
            return  # this is no bench.toml; to find what each may mean would take minutes
        table = f" in [{'.'.join(where)}]" if where else ""
        elsewhere = [f"[{title}]" for title, other in (("spares", SPARES), ("rules", RULES)) if name in other]
        if name in TOP and where:
            hint = f"{name} belongs to the top of the file, above every [table]"
        elif elsewhere and where != ("rules",):
            hint = f"{name} belongs under {' or '.join(elsewhere)}"
        else:
            hint = nearest(name, {key: key for key in keys}) or "known here: " + ", ".join(keys)
        self.tell("settings-unknown", (*where, name), f"there is no setting {name!r}{table}", name, hint)

    def _value(self, value: object, key: Key, where: tuple[str, ...]) -> object:
        taken = _typed(value, key.kind)
        if taken is None:
            message = f"{'.'.join(where)} must be a {key.kind}, found {_shown(value)}"
            self.tell("settings-type", where, message, _shown(value), f"write a {key.kind}")
            return None
        if isinstance(taken, int | Decimal) and not isinstance(taken, bool):
            low = key.least is not None and taken < key.least
            high = key.most is not None and taken > key.most
            if low or high:
                bounds = f"at least {key.least}" if key.most is None else f"between {key.least} and {key.most}"
                self.tell("settings-range", where, f"{'.'.join(where)} must be {bounds}, found {taken}", str(taken))
                return None
        return taken

    def _row(self, where: tuple[str, ...]) -> int | None:
        """Return the line on which the key or table ``where`` stands, as far as plain TOML shows it."""
        table: tuple[str, ...] = ()
        for number, line in enumerate(self.lines, start=1):
            heading = re.match(r"\s*\[\s*([^\]]*?)\s*\]", line)
            if heading:
                table = tuple(part.strip(" \"'") for part in heading[1].split("."))
                if table == where:
                    return number
            key = re.match(r"\s*([\w.\-\"']+)\s*=", line)
            if key and (*table, *(part.strip(" \"'") for part in key[1].split("."))) == where:
                return number
        return None


def _typed(value: object, kind: str) -> object:
    """Return ``value`` as the type that ``kind`` names, None where it is another."""
    taken: object = None
    if kind == "true or false":
        taken = value if isinstance(value, bool) else None
    elif kind == "text":
        taken = value.strip() or None if isinstance(value, str) else None
    elif kind == "code of three letters":
        code = value.strip().upper() if isinstance(value, str) else ""
        taken = code if re.fullmatch("[A-Z]{3}", code) else None
    elif kind == "list of texts":
        taken = tuple(value) if isinstance(value, list) and all(isinstance(v, str) for v in value) else None
    elif isinstance(value, int | Decimal) and not isinstance(value, bool) and Decimal(value).is_finite():
        whole = kind == "whole number"
        taken = Decimal(value) if not whole else int(value) if value == int(value) else None
    return taken


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    return repr(value)[:60] if not isinstance(value, Decimal) else str(value)
