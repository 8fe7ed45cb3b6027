"""Hold what the reader makes of a list to the truth somebody wrote by reading it: found, wrong, silent, doubted."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from recap.diagnostics import Severity
from recap.normalise.caplist import read_cap_list
from recap.show.lists import list_document

if TYPE_CHECKING:
    from pathlib import Path

FIELDS = ("qty", "value_uF", "volts", "temp_C", "mount", "kind", "pitch_mm", "diameter_mm", "height_mm", "board")


@dataclass
class Score:
    """Counts over one list or many, and one sentence for each fault."""

    rows: int = 0
    found: int = 0
    stated: int = 0
    right: int = 0
    silent: int = 0
    ambiguous: int = 0
    ambiguous_doubted: int = 0
    plain: int = 0
    plain_doubted: int = 0
    faults: list[str] = field(default_factory=list)

    def add(self, other: Score) -> None:
        for name in (
            "rows",
            "found",
            "stated",
            "right",
            "silent",
            "ambiguous",
            "ambiguous_doubted",
            "plain",
            "plain_doubted",
        ):
            setattr(self, name, getattr(self, name) + getattr(other, name))
        self.faults += other.faults

    def __str__(self) -> str:
        return (
            f"rows {self.found}/{self.rows}, fields {self.right}/{self.stated}, silent {self.silent}, "
            f"ambiguous doubted {self.ambiguous_doubted}/{self.ambiguous}, "
            f"plain doubted {self.plain_doubted}/{self.plain}"
        )


def score(path: Path, truth: Path) -> Score:
    """Read ``path`` and compare it with the positions of ``truth``."""
    positions, diagnostics = read_cap_list(path)
    got = list_document(positions, diagnostics)["positions"]
    warned = {d.source.row for d in diagnostics if d.severity is not Severity.NOTE}
    wanted = json.loads(truth.read_text(encoding="utf-8"))["positions"]
    result = Score()
    left = list(got)
    for want in wanted:
        mine = _partner(want, left)
        if mine is not None:
            left.remove(mine)
        _compare(want, mine, warned, result, path.name)
    for mine in left:
        silent = not mine["doubts"] and mine["row"] not in warned
        result.silent += silent
        result.faults.append(
            f"{path.name}:{mine['row']}: made up {mine['ref']} {mine['value_uF']}{' SILENTLY' if silent else ''}"
        )
    return result


def _partner(want: dict[str, Any], left: list[dict[str, Any]]) -> dict[str, Any] | None:
    def alike(mine: dict[str, Any]) -> int:
        if want["ref"] is not None and (mine["ref"] or "").upper() != want["ref"].upper():
            return -1
        if want["ref"] is None and (mine["ref"] is not None or mine["row"] != want["row"]):
            return -1
        same = sum(mine.get(name) == want.get(name) for name in ("row", "value_uF", "board", "volts"))
        return same + 2 * (mine["row"] == want["row"])

    best = max(left, key=alike, default=None)
    return best if best is not None and alike(best) >= 0 else None


def _compare(
    want: dict[str, Any], mine: dict[str, Any] | None, warned: set[int | None], result: Score, name: str
) -> None:
    result.rows += 1
    place = f"{name}:{want['row']}: {want['ref']} {want['value_uF']}"
    stated = [f for f in FIELDS if want.get(f) is not None]
    result.stated += len(stated)
    if mine is None:
        silent = want["row"] not in warned
        result.silent += silent
        result.faults.append(f"{place}: lost{' SILENTLY' if silent else ''}")
        return
    result.found += 1
    as_good = want.get("any", {})
    wrong = [f for f in FIELDS if all(_differs(f, reading, mine[f]) for reading in (want.get(f), *as_good.get(f, ())))]
    result.right += sum(1 for f in stated if f not in wrong)
    loud = bool(mine["doubts"]) or want["row"] in warned
    if wrong:
        result.silent += not loud
        said = ", ".join(f"{f} {mine[f]!r} not {want.get(f)!r}" for f in wrong)
        result.faults.append(f"{place}: {said}{'' if loud else ' SILENTLY'}")
    if mine["row"] != want["row"]:
        result.faults.append(f"{place}: row {mine['row']}")
    if want["doubted"]:
        result.ambiguous += 1
        result.ambiguous_doubted += bool(mine["doubts"])
        if not mine["doubts"]:
            result.faults.append(f"{place}: not doubted")
    else:
        result.plain += 1
        result.plain_doubted += bool(mine["doubts"])
        if mine["doubts"]:
            result.faults.append(f"{place}: cries wolf {mine['doubts']}")


def _differs(name: str, want: object, got: object) -> bool:
    if name == "kind" and got == "unknown":
        got = None
    if name == "board":
        return (str(want or "")).casefold() != (str(got or "")).casefold()
    if isinstance(want, int | float) and isinstance(got, int | float):
        return abs(want - got) > 1e-9 * max(abs(want), abs(got), 1e-12)
    return want != got


def lists(folder: Path) -> list[tuple[Path, Path]]:
    """Return every list of a folder with its truth."""
    pairs = []
    for truth in sorted(folder.glob("*.truth.json")):
        stem = truth.name.removesuffix(".truth.json")
        pairs += [(path, truth) for path in folder.glob(f"{stem}.*") if path != truth]
    return pairs
