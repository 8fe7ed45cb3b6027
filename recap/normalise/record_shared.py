"""What the end of a line says of all its records: ``C50 (1000 µF) et C51 (470 µF), 25 V tous les deux``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from recap.normalise import designator_shapes, designators
from recap.normalise.fields import Draft, take
from recap.normalise.tokens import Sort, Token
from recap.normalise.words import ALL_OF_THEM

if TYPE_CHECKING:
    from collections.abc import Sequence

_VALUES: Final = frozenset((Sort.CAP, Sort.PAIR, Sort.SECTIONS))
_SHARED: Final = {
    Sort.VOLTS: "volts",
    Sort.TEMP: "temps",
    Sort.KIND: "kinds",
    Sort.MOUNT: "mounts",
    Sort.SIZE: "sizes",
    Sort.SAFETY: "safety",
}
_PARTING: Final = frozenset(",;:(")


def share(drafts: Sequence[Draft], last: Sequence[Token]) -> None:
    """Lay on each record of a line what its end (the tokens of the last record) says of all of them.

    Where only the last of several values has a voltage and no word says whose it is, the others are doubted,
    but for those that are told apart by a kind of their own.
    """
    if len(drafts) < 2:  # noqa: PLR2004 - one record has its line to itself
        return
    begins = max((at for at, token in enumerate(last) if token.sort in _VALUES), default=None)
    if begins is None:
        return
    tail = last[begins + 1 :]
    said = _said_of_all(tail)
    for name, tokens in said.items():
        for draft in drafts[:-1]:
            if not getattr(draft, name):
                shared = Draft()
                take(shared, tokens)
                setattr(draft, name, getattr(shared, name))
                draft.volt_texts += shared.volt_texts
    if any(token.sort is Sort.VOLTS for token in tail) and not any(draft.volts for draft in drafts[:-1]):
        volts = next(token.text for token in tail if token.sort is Sort.VOLTS)
        for draft in drafts[:-1]:
            if draft.has_value and not draft.kinds:
                draft.doubt("volts-whose", f"{volts} stands at the end of the line")


def excepted(drafts: list[Draft], text: str) -> None:
    """Take designators that are excepted out of the range in front: ``C1-C9 10uF 16V (except C7 = 47uF)``.

    One excepted without a value of its own has none.
    """
    several = drafts and len(drafts[0].refs) > 1
    match = designator_shapes.EXCEPT.search(text) if several else None
    group = designators.find_group(text, match.end()) if match is not None else None
    if group is None:
        return
    apart = {ref.upper() for ref in group.refs}
    own = next((draft for draft in drafts[1:] if {ref.upper() for ref in draft.refs} == apart), None)
    for draft in drafts:
        if draft is own or apart.isdisjoint(ref.upper() for ref in draft.refs):
            continue
        draft.refs = [ref for ref in draft.refs if ref.upper() not in apart]
        if own is None:
            own = Draft(refs=list(group.refs))
            drafts.append(own)
        own.doubt("remark-unclear", f"excepted from what is said of {', '.join(draft.refs[:3])}")
    drafts[:] = [draft for draft in drafts if draft.refs or draft.has_value]


def lead(drafts: Sequence[Draft], first: Sequence[Token]) -> None:
    """Lay a voltage that opens the line with a colon (``35V: 1000µF (C1), 470µF (C3)``) on records without one."""
    plain = [token for token in first if token.sort is not Sort.MARK or token.text == ":"]
    if len(plain) < 2 or plain[0].sort is not Sort.VOLTS or plain[1].text != ":":  # noqa: PLR2004 - it and its colon
        return
    for draft in drafts[1:]:
        if not draft.volts:
            shared = Draft()
            take(shared, plain[:1])
            draft.volts, draft.volt_texts = shared.volts, shared.volt_texts


def _said_of_all(tail: Sequence[Token]) -> dict[str, list[Token]]:
    """Return what stands beside the word that speaks of all records, by field: behind it or before it."""
    at = next((i for i, token in enumerate(tail) if token.sort is Sort.WORD and token.what in ALL_OF_THEM), None)
    if at is None:
        return {}
    parts = [i for i, token in enumerate(tail[:at]) if token.text in _PARTING]
    behind = [token for token in tail[at + 1 :] if token.sort in _SHARED]
    before: list[Token] = []
    if parts:  # without a comma in front of it the clause is the last record's own
        before = [token for token in tail[parts[-1] : at] if token.sort in _SHARED]
        if not before and not behind and len(parts) > 1:
            before = [token for token in tail[parts[-2] : at] if token.sort in _SHARED]
    if not before and not behind:
        before = [token for token in tail[:at] if token.sort in _SHARED]
    found: dict[str, list[Token]] = {}
    for token in before + behind:
        found.setdefault(_SHARED[token.sort], []).append(token)
    return found
