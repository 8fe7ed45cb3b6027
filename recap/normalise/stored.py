"""Canonical lists read back: what stands in a cell is what is meant, and the ``doubts`` column rules.

A list that the user has settled must not be doubted anew for an unusual value; such values are still named
in warnings. A cell that can't be read, or a value that is missing, is doubted here as everywhere.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from recap import codes
from recap.model import Kind, Mount, Role
from recap.normalise import canonical, designators, quantities, values
from recap.normalise.fields import Draft
from recap.normalise.positions import NOWHERE, SECTION_LETTERS, build
from recap.normalise.sizes import Size

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from recap.normalise.ledger import Ledger
    from recap.normalise.values import Reading
    from recap.read.cells import Row

SETTLED: Final = frozenset(
    (
        "no-preferred-value",
        "looks-measured",
        "implausible-value",
        "odd-voltage",
        "temp-unusual",
        "kind-unlikely",
        "can-sections",
        "size-unclear",
        "size-reversed",
    )
)
"""Doubts that only ask whether a value is really meant: in a stored list the doubts column alone says so."""


def is_stored(texts: Sequence[str]) -> bool:
    """Tell whether a header row is that of a canonical list, whole and in order."""
    shown = tuple(text.strip().casefold() for text in texts if text.strip())
    return shown in {canonical.COLUMNS, (*canonical.COLUMNS, "doubts")}


def read_stored(rows: Sequence[Row], ledger: Ledger) -> None:
    """Read a canonical list, header first, into the ledger."""
    header = [cell.text.strip().casefold() for cell in rows[0].cells]
    ledger.heading(rows[0].source.row or 1, "header-read", "a canonical cap list", ", ".join(header))
    for at, row in enumerate(rows[1:], start=2):
        number = row.source.row or at
        cells = {name: _plain(cell.text) for name, cell in zip(header, row.cells, strict=False)}
        if not any(cells.values()):
            (ledger.layout if row.source.row and not row.cells else ledger.blank)(number)
            continue
        _position(cells, number, ledger)


def _plain(text: str) -> str:
    text = text.strip()
    return text[1:] if text[:1] == "'" and text[1:2] in {"=", "+", "-", "@", "'"} else text


def _position(cells: dict[str, str], number: int, ledger: Ledger) -> None:
    draft = Draft()
    for name, text in cells.items():
        if text and name in _READ and not _READ[name](draft, text):
            draft.doubt("cell-unread", f"{text!r} in column {name!r}")
    shown = " | ".join(text for text in cells.values() if text)
    built = build(draft, NOWHERE, ledger.source(number), shown)
    listed = tuple(sorted(set(re.findall(r"[a-z0-9-]+", cells.get("doubts", "").casefold()))))
    silent = SETTLED | {"value-missing"} if listed else SETTLED  # the column already says why there is no value
    built.positions = [
        replace(p, doubts=tuple(sorted({*listed, *(code for code in p.doubts if code not in silent)})))
        for p in built.positions
    ]
    told = {d.code for d in built.diagnostics}
    for code in listed:
        if code not in told and not (code == "can-sections" and _is_further_section(cells.get("ref", ""))):
            _listed(code, number, shown, ledger)
    ledger.built(number, built)


def _listed(code: str, number: int, shown: str, ledger: Ledger) -> None:
    """Say which doubt the column holds, what it means and what to do."""
    known = codes.LISTS.get(code)
    message = f"{known.title}: by the doubts column" if known else "stands in the doubts column"
    todo = f" ({known.todo})" if known else ""
    todo = f"see that the cells are right{todo}, then delete the code from the column"
    ledger.warn(number, code, message, shown, todo)


def _is_further_section(ref: str) -> bool:
    """Tell whether a designator is that of a can's second section or a later one: the first speaks for the can."""
    return re.fullmatch(rf"\S*\d[{SECTION_LETTERS[1:]}]", ref) is not None


def _refs(draft: Draft, text: str) -> bool:
    if re.fullmatch(r"\S+", text) and not re.search(r"[,;/&]|(?<=\d)-|\.\.", text):
        draft.refs = [text]
        return True
    group = designators.read_refs(text)
    if group is None:
        return False
    draft.refs = list(group.refs)
    for code in group.doubts:
        draft.doubt(code, repr(text))
    return True


def _qty(draft: Draft, text: str) -> bool:
    if not re.fullmatch(r"[1-9]\d{0,4}", text):
        return False
    draft.counts = [int(text)]
    return True


def _value(draft: Draft, text: str) -> bool:
    found = values.sections(text)
    if found is not None and len(found) > 1:
        draft.sections = found
        return True
    reading = values.capacitance(text)
    if reading is None:
        return False
    draft.caps = [reading]
    return True


def _volts(draft: Draft, text: str) -> bool:
    reading = values.voltage(text, bare=True)
    if reading is None:
        return False
    draft.volts = [reading]
    return True


def _operating(draft: Draft, text: str) -> bool:
    reading = values.voltage(text, bare=True)
    draft.operating = reading.value if reading else None
    return reading is not None


def _measure(reader: Callable[..., Reading | None], name: str) -> Callable[[Draft, str], bool]:
    def read(draft: Draft, text: str) -> bool:
        reading = reader(text, bare=True)
        if reading is None or reading.value is None or (not reading.value and name != "temp"):
            return False
        if name == "temp":
            draft.temps.append(int(reading.value))
        elif name == "ripple":
            draft.ripple.append(reading.value)
        else:
            draft.sizes.append(Size.of(name, reading.value))
        return True

    return read


def _mount(draft: Draft, text: str) -> bool:
    known = {mount.value: mount for mount in Mount}.get(text.casefold())
    draft.mounts = [known] if known else []
    return known is not None


def _kind(draft: Draft, text: str) -> bool:
    known = {kind.value: kind for kind in Kind}.get(text.casefold())
    draft.kinds = [known] if known else []
    return known is not None


def _role(draft: Draft, text: str) -> bool:
    known = {role.value: role for role in Role}.get(text.casefold())
    draft.roles = [known] if known else []
    return known is not None


def _board(draft: Draft, text: str) -> bool:
    draft.board = text
    return True


def _safety(draft: Draft, text: str) -> bool:
    draft.safety = [text]
    return True


def _note(draft: Draft, text: str) -> bool:
    draft.notes = [text]
    return True


_READ: Final[dict[str, Callable[[Draft, str], bool]]] = {
    "ref": _refs,
    "qty": _qty,
    "value": _value,
    "volts": _volts,
    "operating": _operating,
    "temp": _measure(quantities.temperature_C, "temp"),
    "pitch": _measure(quantities.length_mm, "pitch"),
    "diameter": _measure(quantities.length_mm, "diameter"),
    "height": _measure(quantities.length_mm, "height"),
    "ripple": _measure(quantities.current_mA, "ripple"),
    "mount": _mount,
    "kind": _kind,
    "role": _role,
    "board": _board,
    "safety": _safety,
    "note": _note,
}
