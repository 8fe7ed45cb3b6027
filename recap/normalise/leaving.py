"""What a list says of parts that are to stay: ``leave``, ``don't touch``, ``ok``, ``already replaced``.

Such a row is a position like any other, for only its owner knows whether it belongs to the job. A row whose whole
remark says so is doubted; a sentence that says so among other things (``leave it unless it is cracked``) is warned of.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from recap.normalise.clean import fold
from recap.normalise.tokens import Sort

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.fields import Draft
    from recap.normalise.tokens import Token

_DONE: Final = (
    r"(?:replaced|changed|swapped|renewed|recapped|done|new|getauscht|ersetzt|gewechselt|erneuert|neu|erledigt"
    r"|remplac(?:e|es)|chang(?:e|es)|fait|neuf|sostituit[oi]|cambiat[oi]|fatto|nuovo|sustituido|cambiado|hecho|nuevo"
    r"|vervangen|gedaan|nieuw)"
)
_ALREADY: Final = r"(?:already|previously|recently|schon|bereits|deja|gia|ya|reeds|al)"
_NOT_TO: Final = (
    r"(?:(?:do not|don'?t|dont|never|no need to|not to be) (?:touch|replaced?|changed?|swap|remove|recap)(?: it)?"
    r"(?! (?:the |its |this )?(?:value|type|voltage|rating|capacitance)\b)"
    r"|nicht (?:anfassen|tauschen|wechseln|ersetzen|beruhren)|ne pas (?:toucher|changer|remplacer)"
    r"|non (?:toccare|sostituire|cambiare)|no (?:tocar|cambiar|sustituir)|niet (?:vervangen|aankomen))"
)
_STAYS: Final = (
    r"(?:leave|keep|stays?|retain)(?: (?:alone|as is|as it is|original|in place|well alone|in))?|leave well alone"
    r"|bleibt(?: drin| so)?|(?:so |drin ?)?(?:be)?lassen|a? ?laisser|garder|lasciare|dejar|laten(?: zitten)?|behouden"
)
_FINE: Final = (
    r"(?:(?:is|are|still|all|tests?|tested|measures?|measured|checks?|checked|esr|noch|ist|misst|encore|ancora|sigue|nog)"
    r" )*(?:ok|okay|o\.k\.?|i\.o\.?|in ordnung)"
)
_WHOLE: Final = re.compile(
    rf"{_STAYS}|{_FINE}|{_NOT_TO}|{_ALREADY} (?:been )?{_DONE}|{_DONE} (?:already|before|schon|ya)"
    r"|skip(?: (?:it|this|this one))?|no change|unchanged|no need|not (?:needed|required)|not necessary"
)
_WITHIN: Final = re.compile(
    rf"\b(?:leave|keep) (?:it|this|that|them|these|those)(?: one)?\b|{_NOT_TO}|\b{_ALREADY} (?:been )?{_DONE}\b"
    r"|\bleave (?:well )?alone\b"
)
_CUT: Final = "\n"
_APART: Final = re.compile(rf"[;:,()\[\]|=¦/{_CUT}]|\s-\s|(?<=\w)\.(?=\s|$)|!")
_QUALIFYING: Final = frozenset((Sort.KIND, Sort.MOUNT, Sort.ORIGINAL))
"""Beside one of these ``ok`` says what would do, too: ``tantalum ok``."""
_SAYING: Final = frozenset((Sort.WORD, Sort.MEASURED, Sort.REPLACED, Sort.MARK)) | _QUALIFYING

_HEADS: Final = frozenset(
    "leave keep stay stays retain bleibt lassen belassen laisser garder lasciare dejar laten behouden ok okay o.k i.o "
    "ordnung skip unchanged no not don't dont never nicht ne non niet already previously recently schon bereits deja "
    "gia ya reeds al before".split()
)
"""None of these phrases is without one of these words."""

_ANYWAY: Final = re.compile(r"\b(?:anyway|anyhow|regardless|trotzdem|quand meme|comunque|igualmente|toch)\b")
"""``ok, replace anyway``: the last word is that it goes."""
CODE: Final = "left-alone"


def tells(text: str) -> bool:
    """Tell whether a text says nothing but that the part stays."""
    return any(_WHOLE.fullmatch(clause.strip(" .'\"-*")) for clause in _APART.split(fold(text)))


def weigh(draft: Draft, text: str) -> None:
    """Doubt a draft whose remark says as a whole, or warn of one that says among other things, that the part stays."""
    if _ANYWAY.search(fold(text)):
        return
    if tells(text):
        draft.doubt(CODE, f"{' '.join(text.split())[:80]!r}")
    elif (said := _WITHIN.search(fold(text))) is not None:
        draft.warned.setdefault(CODE, f"{said[0]!r}")


def weigh_tokens(draft: Draft, tokens: Sequence[Token], text: str) -> None:
    """Do so for what stands beside the quantities of one record of a line."""
    if _HEADS.isdisjoint([token.what for token in tokens if token.sort is Sort.WORD]):
        return
    said: list[str] = []
    for before, token in zip([None, *tokens], tokens, strict=False):
        apart = before is not None and before.sort not in _SAYING
        if token.sort in _SAYING:
            blank = "" if before is None or token.start == before.end else " "
            said.append((_CUT if apart else blank) + text[token.start : token.end])
        elif not said or said[-1] != _CUT:
            said.append(_CUT)
    weigh(draft, "".join(said))
    whole = next((part.strip(" .'\"-*") for part in _APART.split("".join(said)) if tells(part)), None)
    if whole is not None and not any(whole in kept for kept in draft.notes):
        draft.notes.append(whole)
