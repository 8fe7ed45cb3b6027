"""What a list says of parts that are to stay: ``leave``, ``don't touch``, ``ok``, ``already replaced``.

Such a row is a position like any other: a list says what is in the set, and the owner of the set what is on the job. A
remark is noted; where a column or a heading of the list sorts its rows into those to be done and others, it is doubted.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from recap.normalise.clean import fold
from recap.normalise.later import compiled
from recap.normalise.tokens import Sort

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.fields import Draft
    from recap.normalise.heading_stack import Judged
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
_WHOLE: Final = compiled(
    rf"{_STAYS}|{_FINE}|{_NOT_TO}|{_ALREADY} (?:been )?{_DONE}|{_DONE} (?:already|before|schon|ya)"
    r"|skip(?: (?:it|this|this one))?|no change|unchanged|no need|not (?:needed|required)|not necessary"
)
_WITHIN: Final = compiled(
    rf"\b(?:leave|keep) (?:it|this|that|them|these|those)(?: one)?\b(?! (?:away|clear|at|near|out|off|some|free))"
    rf"|{_NOT_TO}|\b{_ALREADY} (?:been )?{_DONE}\b"
    r"|\bleave (?:well )?alone\b"
)
_CUT: Final = "\n"
_APART: Final = compiled(rf"[;:,()\[\]|=¦/{_CUT}]|\s-\s|(?<=\w)\.(?=\s|$)|!")
_QUALIFYING: Final = frozenset((Sort.KIND, Sort.MOUNT, Sort.ORIGINAL))
"""Beside one of these ``ok`` says what would do, too: ``tantalum ok``."""
_SAYING: Final = frozenset((Sort.WORD, Sort.MEASURED, Sort.REPLACED, Sort.MARK)) | _QUALIFYING

_HEADS: Final = frozenset(
    "leave keep stay stays retain bleibt lassen belassen laisser garder lasciare dejar laten behouden ok okay o.k i.o "
    "ordnung skip unchanged no not don't dont never nicht ne non niet already previously recently schon bereits deja "
    "gia ya reeds al before".split()
)
"""None of these phrases is without one of these words."""

_ANYWAY: Final = compiled(r"\b(?:anyway|anyhow|regardless|trotzdem|quand meme|comunque|igualmente|toch)\b")
"""``ok, replace anyway``: the last word is that it goes."""
CODE: Final = "left-alone"


def tells(text: str) -> bool:
    """Tell whether a text says nothing but that the part stays."""
    return any(_WHOLE.fullmatch(clause.strip(" .'\"-*")) for clause in _APART.split(fold(text)))


def stays(text: str) -> bool:
    """Tell whether a clause says so among other things."""
    return _WITHIN.search(text) is not None


_OF_THESE: Final = compiled(r"\b(?:these|those|them|caps|capacitors|parts|ones|the following)\b")
_TO_DO: Final = compiled(
    r"(?:still |yet )?to (?:do|replace|be (?:done|replaced))|remaining|replace|needed|still needed|open"
    r"|(?:noch )?(?:zu )?(?:tauschen|ersetzen)|offen|noch offen|(?:encore )?a (?:changer|remplacer|faire)"
    r"|da (?:cambiare|sostituire|fare)|por (?:cambiar|sustituir|hacer)|nog te (?:doen|vervangen)"
)


def heads(text: str) -> bool | None:
    """Return whether a heading is one of parts that stay (True) or of those still to do (False), or None."""
    low = " ".join(_OF_THESE.sub(" ", fold(text)).strip(" .:").split())
    return True if _WHOLE.fullmatch(low) else False if _TO_DO.fullmatch(low) else None


def on_board(judged: Judged, text: str) -> Judged:
    """Let a board's heading say of all its parts that they stay: ``Main board (already recapped)``."""
    heading = judged.heading
    if heading is None or not heading.sets.board or not tells(text):
        return judged
    return replace(judged, heading=replace(heading, sets=replace(heading.sets, stays=True)))


def weigh(draft: Draft, text: str) -> None:
    """Note that a remark says that the part stays."""
    if _ANYWAY.search(fold(text)):
        return
    if tells(text):
        draft.noted.setdefault(CODE, f"{' '.join(text.split())[:80]!r}")
    elif (said := _WITHIN.search(fold(text))) is not None:
        draft.noted.setdefault(CODE, f"{said[0]!r}")


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
