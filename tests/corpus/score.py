"""Score the reader against the lists beside this file: ``python tests/corpus/score.py [NAME ...] [--faults]``."""

from __future__ import annotations

import argparse
import json
import math
import sys
from collections import defaultdict
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from recap.diagnostics import Diagnostic, Severity
from recap.normalise.caplist import read_cap_list

if TYPE_CHECKING:
    from collections.abc import Iterable

    from recap.model import Position

HERE = Path(__file__).parent
FIELDS = ("value_uF", "volts", "temp_C", "mount", "kind", "pitch_mm", "diameter_mm", "height_mm", "board")
ELECTRICAL = ("value_uF", "volts", "qty")
SIZE_TOLERANCE = 0.005
"""Of a length: room for the rounding of inches."""

Place = tuple[str | None, int]


@dataclass
class Score:
    """What the reader made of one list, or of all."""

    name: str
    positions: int = 0
    found: int = 0
    stated: int = 0
    right: int = 0
    ambiguous: int = 0
    ambiguous_doubted: int = 0
    plain: int = 0
    plain_doubted: int = 0
    passed: int = 0
    passed_named: int = 0
    silent: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    def add(self, other: Score) -> None:
        for key, value in vars(other).items():
            if key != "name":
                setattr(self, key, getattr(self, key) + value)

    @property
    def all_found(self) -> float:
        return share(self.found, self.positions)

    @property
    def fields_right(self) -> float:
        return share(self.right, self.stated)

    @property
    def doubted(self) -> float:
        return share(self.ambiguous_doubted, self.ambiguous)

    @property
    def crying_wolf(self) -> float:
        return self.plain_doubted / self.plain if self.plain else 0.0


def share(part: int, whole: int) -> float:
    return part / whole if whole else 1.0


def lists() -> list[Path]:
    """Every list that has a truth beside it, by name."""
    others = {".json", ".py"}
    stems = {path.name.removesuffix(".truth.json") for path in HERE.glob("*.truth.json")}
    files = [path for path in HERE.iterdir() if path.is_file() and path.stem in stems]
    return sorted(path for path in files if path.suffix not in others)


def truth_of(path: Path) -> dict[str, Any]:
    truth: dict[str, Any] = json.loads(path.with_name(f"{path.stem}.truth.json").read_text(encoding="utf-8"))
    return truth


def plain(value: object) -> object:
    """Bring a field to a form that compares: numbers as float, words folded, unknown as None."""
    if value is None or isinstance(value, bool):
        return value
    if isinstance(value, str):
        word = " ".join(value.split()).casefold()
        return None if word in {"", "unknown"} else word
    return float(value)  # type: ignore[arg-type]


def same(name: str, wanted: object, got: object) -> bool:
    """Compare one field; lengths within the rounding of inches."""
    first, second = plain(wanted), plain(got)
    if isinstance(first, float) and isinstance(second, float):
        tolerance = SIZE_TOLERANCE if name.endswith("_mm") else 1e-9
        return math.isclose(first, second, rel_tol=tolerance)
    return first == second


def agrees(name: str, wanted: dict[str, Any], got: Position) -> bool:
    choices = wanted.get("any", {}).get(name, [])
    return any(same(name, choice, getattr(got, name)) for choice in [wanted[name], *choices])


def key_of(sheet: str | None, row: int | None, ref: str | None) -> tuple[str | None, int | None, str | None]:
    return (sheet, row, None if ref is None else ref.upper())


def judge(path: Path) -> Score:
    """Read one list and compare it with its truth."""
    truth = truth_of(path)
    positions, diagnostics = read_cap_list(path)
    in_book = path.suffix == ".xlsx"
    loud = _loud(positions, diagnostics, in_book)
    score = Score(path.name)
    spare: dict[Any, list[Position]] = defaultdict(list)
    for got in positions:
        place = _place(got, in_book)
        spare[key_of(*place, got.ref)].append(got)
    for wanted in truth["positions"]:
        same_key = spare[key_of(wanted.get("sheet"), wanted["row"], wanted["ref"])]
        _position(score, wanted, same_key.pop(0) if same_key else None, loud)
    for rest in spare.values():
        for got in rest:
            _invented(score, got, _place(got, in_book), loud)
    _passed_over(score, truth["passed_over"], diagnostics, in_book)
    return score


def _place(got: Position | Diagnostic, in_book: bool) -> Place:
    source = got.source
    if source is None or source.row is None:
        return (None, 0)
    return (source.sheet if in_book else None, source.row)


def _loud(positions: Iterable[Position], diagnostics: Iterable[Diagnostic], in_book: bool) -> dict[Place, bool]:
    """Tell the rows that a person is sent to: those with a doubt (False) or a warning (True)."""
    rows = {_place(got, in_book): False for got in positions if got.doubts}
    rows |= {_place(told, in_book): True for told in diagnostics if told.severity is not Severity.NOTE}
    return rows


def _at(name: str, place: Place) -> str:
    sheet, row = place
    return f"{name}:{row}" if sheet is None else f"{name} [{sheet}]:{row}"


def _position(score: Score, wanted: dict[str, Any], got: Position | None, loud: dict[Place, bool]) -> None:
    place: Place = (wanted.get("sheet"), wanted["row"])
    where = f"{_at(score.name, place)}: {wanted['ref'] or 'no ref'}"
    score.positions += 1
    if got is None:
        _fault(score, f"{where}: lost", silent=place not in loud)
        return
    score.found += 1
    doubted = bool(got.doubts) or loud.get(place, False)
    if wanted["doubted"] is True:
        score.ambiguous += 1
        score.ambiguous_doubted += doubted
        if not doubted:
            _fault(score, f"{where}: not doubted: {got.text!r}")
    elif wanted["doubted"] is False:
        score.plain += 1
        score.plain_doubted += doubted
        if doubted:
            _fault(score, f"{where}: doubted without need: {', '.join(got.doubts) or 'by a warning'}")
    for name in (*FIELDS, "qty"):
        right = agrees(name, wanted, got)
        score.stated += plain(wanted[name]) is not None or plain(getattr(got, name)) is not None
        score.right += right and (plain(wanted[name]) is not None or plain(getattr(got, name)) is not None)
        if not right:
            text = f"{where}: {name}: expected {wanted[name]}, got {getattr(got, name)}"
            _fault(score, text, silent=name in ELECTRICAL and place not in loud)


def _invented(score: Score, got: Position, place: Place, loud: dict[Place, bool]) -> None:
    what = f"{got.value_uF} uF {got.volts} V"
    _fault(score, f"{_at(score.name, place)}: {got.ref or 'no ref'}: invented: {what}", silent=place not in loud)


def _passed_over(score: Score, rows: list[Any], diagnostics: list[Diagnostic], in_book: bool) -> None:
    named = {_place(told, in_book) for told in diagnostics}
    for entry in rows:
        place: Place = (entry["sheet"], entry["row"]) if isinstance(entry, dict) else (None, entry)
        score.passed += 1
        score.passed_named += place in named
        if place not in named:
            _fault(score, f"{_at(score.name, place)}: passed over and not named in a diagnostic")


def _fault(score: Score, text: str, *, silent: bool = False) -> None:
    score.faults.append(f"{text} (SILENT)" if silent else text)
    if silent:
        score.silent.append(text)


def judge_all(paths: Iterable[Path]) -> tuple[list[Score], Score]:
    """Score each list, and all of them as one."""
    scores = [judge(path) for path in paths]
    total = Score("all")
    for score in scores:
        total.add(score)
    return scores, total


def table(scores: Iterable[Score]) -> str:
    head = f"{'list':26} {'found':>9} {'fields':>11} {'silent':>6} {'ambiguous':>9} {'wolf':>8} {'passed':>7}"
    rows = [
        f"{s.name:26} {f'{s.found}/{s.positions}':>9} {f'{s.right}/{s.stated}':>11} {len(s.silent):>6} "
        f"{f'{s.ambiguous_doubted}/{s.ambiguous}':>9} {f'{s.plain_doubted}/{s.plain}':>8} "
        f"{f'{s.passed_named}/{s.passed}':>7}"
        for s in scores
    ]
    return "\n".join([head, *rows])


def main() -> int:
    """Print the table, and with ``--faults`` every disagreement; 1 where there is any."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", help="lists to score; default: all")
    parser.add_argument("--faults", action="store_true", help="print every disagreement")
    options = parser.parse_args()
    chosen = [path for path in lists() if not options.names or {path.name, path.stem} & set(options.names)]
    scores, total = judge_all(chosen)
    out = [table([*scores, total])]
    out.append(
        f"\nfound {total.all_found:.2%}, fields {total.fields_right:.2%}, silent {len(total.silent)}, "
        f"ambiguous doubted {total.doubted:.1%}, plain doubted {total.crying_wolf:.1%}",
    )
    if options.faults:
        out += ["", *total.faults]
    sys.stdout.write("\n".join(out) + "\n")
    return 1 if total.faults else 0


if __name__ == "__main__":
    sys.exit(main())
