"""A cell that says what a part is in a code or a word, or answers what its header asks (``Polarised``, ``NP``)."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

from recap.model import Kind, Mount
from recap.normalise.cell_text import UNKNOWN_MARKS, free
from recap.normalise.clean import fold
from recap.normalise.further_columns import answer, is_attribute
from recap.normalise.later import compiled

if TYPE_CHECKING:
    from collections.abc import Callable

    from recap.normalise.column import Column
    from recap.normalise.fields import Draft


def of_codes(codes: dict[str, Any]) -> Callable[[Draft, str, Column, str | None], None]:
    """Return the reader of a column in which these codes stand for kinds and mounts."""

    def read(draft: Draft, text: str, column: Column, unit: str | None) -> None:
        known = codes.get(fold(text).strip(" ."))
        if answer(text) is not None and is_attribute(column.header.strip(" ?")):
            flag(draft, text, column, unit)  # ``Bipolar: no``
        elif isinstance(known, Kind):
            draft.kinds.append(known)
            if answer(text) is False and not _POLARISED.search(fold(column.header)):
                draft.doubt("polarity-no", f"{text!r} is taken for bipolar")
        elif isinstance(known, Mount):
            draft.mounts.append(known)
        elif known != "":
            free(draft, _without_mount(draft, text, codes), column, unit)

    return read


def _without_mount(draft: Draft, text: str, codes: dict[str, Any]) -> str:
    """Take a short word for the mount out of a cell of several words: ``elettr. vert.``."""
    words = text.split()
    mounts = [codes.get(fold(word).strip(" .,")) if len(word) > LETTERS else None for word in words]
    if len(words) == 1 or not any(isinstance(mount, Mount) for mount in mounts):
        return text
    draft.mounts += [mount for mount in mounts if isinstance(mount, Mount)]
    return " ".join(word for word, mount in zip(words, mounts, strict=True) if not isinstance(mount, Mount))


LETTERS: Final = 2
"""Shorter words of a cell may be anything: a code stands alone in it."""
_POLARISED: Final = compiled(r"polar(?:i[sz]\w*[^\W\d_])?\W*$|gepolt|gepolariseerd")
"""Under such a header ``no`` is plain; under ``Polarity`` or ``Type`` it isn't."""


def flag(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    """Take what the header of a ticked or answered column says; what is no answer says it itself, or is doubted."""
    answered = answer(text)
    if answered is None and fold(text) in UNKNOWN_MARKS:
        draft.doubt("marked-uncertain", f"{text!r} in column {column.header!r}")
    elif answered is not False:
        free(draft, column.header if answered else text, replace(column, field="kind"), unit)
