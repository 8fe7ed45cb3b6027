"""What a line is cut into: the sorts of tokens, the token, and what the lexer remembers of a text."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar, NamedTuple

from recap.normalise.style import PLAIN, Style

if TYPE_CHECKING:
    from collections.abc import Iterable


class Sort(str):
    """What a token is. The comment names what its ``what`` holds.

    No enum: before Python 3.12 naming a member of one takes ten times as long, and every line asks hundreds of times.
    """

    __slots__ = ()

    REFS: ClassVar[Sort]  # RefGroup
    OTHER_REF: ClassVar[Sort]  # None
    CAP: ClassVar[Sort]  # values.Reading
    SECTIONS: ClassVar[Sort]  # tuple[Decimal, ...]
    PAIR: ClassVar[Sort]  # tuple[values.Reading, values.Reading]
    VOLTS: ClassVar[Sort]  # values.Reading
    TEMP: ClassVar[Sort]  # int
    SIZE: ClassVar[Sort]  # sizes.Size
    COUNT: ClassVar[Sort]  # int
    RIPPLE: ClassVar[Sort]  # Decimal, mA
    SAFETY: ClassVar[Sort]  # str
    KIND: ClassVar[Sort]  # Kind
    MOUNT: ClassVar[Sort]  # Mount
    ROLE: ClassVar[Sort]  # Role
    NOT_FITTED: ClassVar[Sort]  # None
    DITTO: ClassVar[Sort]  # None
    REPLACED: ClassVar[Sort]  # None
    ORIGINAL: ClassVar[Sort]  # None
    MEASURED: ClassVar[Sort]  # None
    LIKE: ClassVar[Sort]  # None
    DATE: ClassVar[Sort]  # None
    ASIDE: ClassVar[Sort]  # None, of a working voltage Decimal, V
    NUMBER: ClassVar[Sort]  # str
    CODE: ClassVar[Sort]  # None
    WORD: ClassVar[Sort]  # str, folded
    MARK: ClassVar[Sort]  # str

    def __deepcopy__(self, _memo: object) -> Sort:
        """Return the sort itself: there is one of each."""
        return self


for _name in Sort.__annotations__:
    setattr(Sort, _name, Sort(_name.lower()))


class Token(NamedTuple):
    """One token; ``what`` depends on its sort (see :class:`Sort`)."""

    sort: Sort
    text: str
    start: int
    end: int
    what: Any = None
    doubts: tuple[str, ...] = ()


def sorts(tokens: Iterable[Token]) -> set[Sort]:
    """Return the sorts of some tokens."""
    return {token.sort for token in tokens}


@dataclass(slots=True)
class Scan:
    """The text and what was seen so far of it."""

    text: str
    strict: bool = False
    refs_seen: bool = False
    cap_seen: bool = False
    at_start: bool = True
    last_end: int = 0
    last: Sort | None = None
    style: Style = PLAIN


def hyphenated(scan: Scan, at: int) -> bool:
    """Tell whether a hyphen joins ``at`` to a letter in front of it: the end of a name, no quantity by itself."""
    return at > 1 and scan.text[at - 1] == "-" and scan.text[at - 2].isalpha()


def glued(scan: Scan, at: int) -> bool:
    """Tell whether ``at`` is the middle of a word or number rather than the end of the token before."""
    text = scan.text
    if at in {0, scan.last_end} and not text[at - 1 : at].isdigit():
        return False
    return text[at - 1].isalnum() or (text[at - 1] in ".," and at > 1 and text[at - 2].isdigit())
