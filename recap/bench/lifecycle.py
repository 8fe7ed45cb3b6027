"""Parts whose maker or shop has ended them: told where nothing says that any are left."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

import numpy as np

from recap.bench.findings import tell_rows
from recap.bench.taking import take
from recap.diagnostics import Severity
from recap.normalise.later import compiled
from recap.read.headers import key

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from recap.bench.texts import TextColumn, TextTable
    from recap.diagnostics import Diagnostic

STATUS_KEYS: Final = frozenset(map(key, (
    "status", "product status", "part status", "article status", "lifecycle", "life cycle", "lifecycle status",
    "Produktstatus", "Artikelstatus", "statut", "état", "stato", "estado", "estatus", "stav", "tila", "állapot",
)))  # fmt: skip
"""Headers of a column that says whether a part is still made or sold."""
ENDED_KEYS: Final = frozenset(map(key, (
    "obsolete", "discontinued", "eol", "end of life", "abgekündigt", "auslaufartikel", "Auslauf", "obsolète",
    "obsoleto", "descatalogado",
)))  # fmt: skip
"""Headers under which ``yes`` means that it isn't."""
_ENDED = compiled(
    r"(?:obsolet\w*|discontinued|not for sale|e\.?o\.?l\.?|end of life|abgekündigt|ausgelaufen|auslauf\w*|eingestellt"
    r"|entfällt|obsolète|fin de vie|arrêtée?|supprimée?|fuori produzione|dismess[oa]|descatalogad[oa]|fuera de catálogo"
    r"|vervallen|uit productie|wycofan\w*|utgått|utgår|udgået|ukončen\w*|megszűnt)\W*",
    re.IGNORECASE,
)
_USED = compiled(
    r"(?<!never )(?<!not )(?<!be )\bused\b(?! (?:in|for|as|with|by|on|to)\b)"
    r"|\bsecond[- ]hand\b|\bpull(?:s|ed)\b|\bdesoldered\b"
    r"|(?<!nicht )\bgebrauchte?[nr]?\b|\bausge(?:lötet|baut)\w*|\bd['’]occasion\b|\busagée?s?\b|\busat[oi]\b"
    r"|\bsegunda mano\b|\busad[oa]s?\b|\bgebruikte?\b|\brefurbished\b|\bdefekte?\b|\bdefective\b",
    re.IGNORECASE,
)
_YES = frozenset("yes y ja j oui si sì sí true 1 x ✓ ✔ tak ano".split())


def ended_parts(table: TextTable, status: TextColumn | None, *, by_yes: bool) -> list[Diagnostic]:
    """Return a warning for each row that ``status`` says is no longer made or sold, and of which no stock is stated.

    ``by_yes``: the header names the end, and the cells say yes.
    """
    if status is None:
        return []
    rows = status.where(lambda text: _is_end(text, by_yes=by_yes))
    if not rows.any():
        return []

    def say(row: int) -> tuple[Severity, str, str, str | None, str | None]:
        text = status.text(row)
        message = f"{status.header} {text[:40]!r}: the part may no longer be sold, and no stock of it is stated"
        return Severity.WARNING, "part-ended", message, "ask the supplier; or write 0 as its stock", text[:80]

    return tell_rows(table, np.flatnonzero(rows & ~_stocked(table)), status.header, say)


def used_parts(table: TextTable, words: Sequence[TextColumn]) -> list[Diagnostic]:
    """Return a warning for each row whose ``words`` say that the part was in use before."""
    told: list[Diagnostic] = []
    for column in words:
        rows = column.where(lambda text: _USED.search(text) is not None)

        def say(row: int, column: TextColumn = column) -> tuple[Severity, str, str, str | None, str | None]:
            text = column.text(row)
            message = f"{text[:60]!r}: the part was in use before"
            return Severity.WARNING, "part-used", message, "delete the row if new parts are wanted", text[:80]

        if rows.any():
            told += tell_rows(table, np.flatnonzero(rows), column.header, say)
    return told


def _is_end(text: str, *, by_yes: bool) -> bool:
    plain = text.strip().casefold()
    return plain in _YES if by_yes else _ENDED.fullmatch(plain) is not None


def _stocked(table: TextTable) -> NDArray[np.bool_]:
    """Tell which rows state how many there are."""
    stock = table.columns.get("stock")
    if stock is None:
        return np.zeros(len(table), bool)
    return stock.where(lambda text: take("stock", text, stock.unit).value is not None)
