"""How many capacitors a list says that it holds (``Total 24 pieces``, ``the 23 caps:``), against how many it has.

A stated number may be of pieces or of designators, of the whole list, of one board, or of what stands since the last
total or heading. Where it is none of these, somebody must look: a line may be missing, or read wrongly.
"""

from __future__ import annotations

import re
from itertools import islice
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Diagnostic, warning
from recap.model import Kind
from recap.normalise.later import compiled

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from recap.model import Position
    from recap.normalise.ledger import Ledger

_CAPACITORS: Final = (
    r"(?:caps?|capacitors?|electrolytics?|lytics?|elkos?|kondensator(?:en|er)?|condensateurs?|condos?|condensator[ie]"
    r"|condensador(?:es)?|capacitor(?:es)?|condensatoren|elco'?s|kondensatorów|kondensátor[uůy]?|конденсатор(?:ов|а)?)"
)
_PIECES: Final = (
    r"(?:pcs|pieces?|parts|stück|stk|st|stuks|pezzi|pz|pièces|piezas|uds|unidades|peças|szt(?:uk)?|ks|kusů|db|darab|kpl"
    r"|шт(?:ук)?|個|positions?|positionen)"
)
_TOTAL: Final = (
    r"(?:grand\s+total|total|totals|in\s+total|altogether|in\s+all|all\s+in\s+all|gesamt|insgesamt|summe|zusammen|au\s+total"
    r"|totale|in\s+totale|totaal|in\s+totaal|totalt|en\s+total|no\s+total|razem|łącznie|celkem|összesen|yhteensä|i\s+alt"
    r"|sum|итого|всего|合計|計)"
)
_ANY: Final = rf"(?:{_CAPACITORS}|{_PIECES})"
_NUMBER: Final = r"(?<![\w.,/+-])(?P<count>[1-9]\d{0,2})(?![\d/]|[.,]\d)"
_SUMMED: Final = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        rf"(?:^|\b){_TOTAL}\b[^\d\n]{{0,24}}?{_NUMBER}\s*(?:x\s*)?(?:[^\W\d_]+\s+)?(?:{_ANY}\b|[\s|.)]*$)",
        rf"{_NUMBER}\s*(?:x\s*)?(?:[^\W\d_]+\s+)?{_ANY}\.?\s+{_TOTAL}\b",
        rf"{_NUMBER}\s+(?:{_TOTAL})\s*[.)]?$",
    )
)
_HOLDING: Final = (
    r"(?:the|all|these|holds?|contains?|has|have|with|of|are|needs?|takes|kit|sind|hat|enthält|mit|von|die|alle|les|des|contient"
    r"|avec|tous|contiene|con|los|i|tutti|met|bevat|de|omfattar|med|zawiera|obsahuje)"
)
_NAMED: Final = compiled(
    rf"(?:^|[(:,-]\s?|\b{_HOLDING}\s+(?:[^\W\d_]+\s+)?){_NUMBER}\s+(?:[^\W\d_]+\s+)?{_CAPACITORS}\b", re.IGNORECASE
)
"""Elsewhere in a title the number may be the set's: ``Tessera 500 capacitors``."""
_IN_PART: Final = compiled(
    r"\b(?:more|extra|another|others?|spares?|bad|faulty|dead|leaky|leaking|left|missing|of\s+(?:which|them|these)|so\s+far|about|around"
    r"|over|only|first|last|each|per|every|except|without|replaced|changed|bought|ordered|already|plus|and|or"
    r"|weitere|davon|je|pro|schon|etwa|rund|ohne|nur|noch|autres?|dont|chaque|encore|environ|sans|altri|altre|di\s+cui|ogni|circa"
    r"|senza|otros|cada|unos|sin|andere|waarvan|ongeveer|zonder)\b|[€$£+~?]|\d\s?(?:uF|µF|V)\b",
    re.IGNORECASE,
)
"""With one of these a number is of some of them, of several sets, or no count of parts at all."""
_LINES: Final = compiled(
    r"\b(?:position(?:s|en|er|i)?|lines?|rows?|entries|items?|types?|values?|lignes?|righe|filas|regels)\b",
    re.IGNORECASE,
)
"""With one of these the lines are counted rather than the parts."""
_KINDS: Final = (
    {Kind.ELECTROLYTIC},
    {Kind.ELECTROLYTIC, Kind.BIPOLAR},
    {Kind.ELECTROLYTIC, Kind.BIPOLAR, Kind.UNKNOWN},
    {Kind.ELECTROLYTIC, Kind.BIPOLAR, Kind.TANTALUM},
    {Kind.ELECTROLYTIC, Kind.BIPOLAR, Kind.TANTALUM, Kind.UNKNOWN},
    {Kind.UNKNOWN},
)
"""What people count as electrolytics, where films and ceramics stand in the list, too."""
LONGEST: Final = 90
LARGEST: Final = 2000
"""No number of three figures is that of a list with so many."""
MOST: Final = 30
NEAR: Final = 20
"""So many lines that state a number are looked at, and so many lines above and below each."""


def differing(positions: Sequence[Position], ledgers: Sequence[Ledger]) -> list[Diagnostic]:
    """Return what is said of each stated number that agrees with no way of counting the list."""
    found: list[Diagnostic] = []
    for ledger in ledgers:
        rows = sorted({said.source.row for said in ledger.diagnostics if said.source.row and said.found})
        for row, text, count in islice(_stated(ledger), MOST if 0 < len(positions) < LARGEST else 0):
            if count not in _counts(positions, ledger, row, rows, lines=_LINES.search(text) is not None):
                pieces = sum(p.qty for p in positions)
                message = f"says {count}, but neither the list ({pieces} pieces) nor a part of it has as many"
                hint = "look for a line that is missing or was read wrongly, or correct the number"
                found.append(warning("total-differs", message, ledger.source(row), hint, text[:200]))
    return found


def _stated(ledger: Ledger) -> Iterator[tuple[int, str, int]]:
    """Yield row, text and number of each line that says how many there are."""
    seen: set[int] = set()
    for said in ledger.diagnostics:
        row, text = said.source.row, said.found
        if row is None or text is None or row in seen or len(text) > LONGEST or said.code == "other-part":
            continue
        seen.add(row)
        match = next((match for pattern in _SUMMED if (match := pattern.search(text))), None)
        if match is None and (text.rstrip().endswith(":") or said.code in {"title-read", "heading-read"}):
            match = _NAMED.search(text)
        if match is not None and not _IN_PART.search(text):
            yield row, text, int(match["count"])


def _counts(
    positions: Sequence[Position], ledger: Ledger, row: int, told: Sequence[int], *, lines: bool
) -> set[int]:
    """Return every number that a line may rightly state: of the list, of a board, of what stands above or below it."""
    own = [p for p in positions if p.source is not None and p.source.sheet == ledger.sheet and p.source.row]
    placed = [(p.source.row or 0, p) for p in own if p.source is not None]
    groups = [list(positions), own, [p for at, p in placed if at < row], [p for at, p in placed if at > row]]
    groups += [[p for p in own if p.board == board] for board in {p.board for p in own}]
    groups += [[p for p in positions if p.kind in kinds] for kinds in _KINDS]
    groups += [[p for at, p in placed if since < at < row] for since in [at for at in told if at < row][-NEAR:]]
    groups += [[p for at, p in placed if row < at < until] for until in [at for at in told if at > row][:NEAR]]
    free = sum(1 for said in ledger.diagnostics if said.code == "not-fitted")
    counts: set[int] = set()
    for group in groups:
        pieces, cans = sum(p.qty for p in group), _as_cans(group)
        counts |= {pieces, len(group), cans, pieces + free, cans + free}
        counts |= {len({p.source.row for p in group if p.source})} if lines else set()
    return counts


def _as_cans(group: Sequence[Position]) -> int:
    """Return how many parts they are where the sections of a can are one."""
    cans = {(p.board, re.sub(r"[a-zA-Z]$", "", p.ref)) for p in group if p.ref and "can-sections" in p.doubts}
    return sum(p.qty for p in group if "can-sections" not in p.doubts) + len(cans)
