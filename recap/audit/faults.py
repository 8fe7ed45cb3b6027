"""Fault words: what a fault told in words points to, by role of a capacitor and by name of a board.

Common practice of the trade, kept as data. It only ranks what to look at first.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from rapidfuzz import fuzz

from recap.model import Role

if TYPE_CHECKING:
    from collections.abc import Iterable

ROLE_WORDS: Final[dict[Role, tuple[str, ...]]] = {
    Role.SMOOTHING: ("hum", "buzz", "ripple", "mains", "dead", "fuse", "bars", "dim"),
    Role.DECOUPLING: ("hum", "noise", "oscillation", "motorboating", "interference", "unstable"),
    Role.COUPLING: ("distortion", "distorted", "quiet", "silent", "crackle", "bass", "thin", "sound", "scratchy"),
    Role.TIMING: ("sync", "rolling", "drift", "frequency", "speed", "flutter", "slow"),
    Role.DEFLECTION: ("picture", "fold", "foldover", "height", "width", "linearity", "collapse", "line", "pincushion"),
    Role.SWITCHING: ("dead", "start", "ticking", "pulsing", "squeal", "whine", "trips"),
    Role.CROSSOVER: ("treble", "tweeter", "harsh", "dull", "speaker"),
}
"""Which faults a failed capacitor of each role is known for (common practice)."""

_SECOND: Final = frozenset({Role.DECOUPLING})
"""Roles that there are many of on any board: known for the fault, but rarely the first to look at."""

BOARD_WORDS: Final[tuple[tuple[str, ...], ...]] = (
    ("audio", "sound", "channel", "loudspeaker", "amp", "amplifier"),
    ("video", "picture", "colour", "color", "rgb", "neck", "image"),
    ("power", "psu", "supply", "mains", "dead", "hum", "fuse"),
    ("deflection", "vertical", "horizontal", "main", "chassis", "sweep"),
    ("playback", "record", "head", "tape"),
)
"""Words that name the same part of a set: a fault in one of them points to boards called by another."""

_CLOSE: Final = 84
"""Likeness, of 100, from which two words count as one: a slip of the finger, not another word."""
_SHORT: Final = 3
_COMMON: Final = frozenset(
    {"the", "and", "with", "from", "when", "after", "not", "left", "right", "has", "its", "but", "for"}
    | {"top", "bottom", "all", "too", "very"}
)


@dataclass(frozen=True, slots=True)
class Match:
    """Why a place goes with a fault: how strongly (0 to 100), and in words."""

    strength: int
    reason: str


def words_of(text: str) -> tuple[str, ...]:
    """Return the words that say something, in small letters."""
    found = re.findall(r"\w+", text.casefold())
    return tuple(dict.fromkeys(w for w in found if len(w) >= _SHORT and w not in _COMMON and not w.isdecimal()))


def about_role(fault: str, role: Role | None) -> Match | None:
    """Say whether a role is known for this fault."""
    if role is None:
        return None
    hit = _hit(words_of(fault), ROLE_WORDS[role])
    if hit is None:
        return None
    return Match(45 if role in _SECOND else 60, f"{hit!r} goes with {role.value} capacitors")


def about_board(fault: str, board: str) -> Match | None:
    """Say whether the fault names this board, or what boards of its name do."""
    said, called = words_of(fault), _called(board)
    hit = _hit(said, called)
    if hit is not None:
        return Match(50, f"{hit!r} names the board {board}")
    for alike in BOARD_WORDS:
        hit = _hit(said, alike)
        if hit is not None and _hit(called, alike) is not None:
            return Match(40, f"{hit!r} goes with the board {board}")
    return None


def _called(board: str) -> tuple[str, ...]:
    """Return the words of a board's name, and of those cut short (Vert, Horiz, Aud) what they stand for."""
    words = words_of(board)
    known = {word for alike in BOARD_WORDS for word in alike}
    cut = [word for word in words if word not in known]
    return (*words, *sorted(whole for whole in known if any(whole.startswith(word) for word in cut)))


def about_text(fault: str, texts: Iterable[str], strength: int = 60) -> Match | None:
    """Say whether a note speaks of the fault; the one that shares most of its words counts, each word for more."""
    said = words_of(fault)
    best: tuple[int, str] | None = None
    for text in texts:
        shared = sum(1 for word in said if _hit((word,), words_of(text)) is not None)
        if shared and (best is None or shared > best[0]):
            best = (shared, text)
    return None if best is None else Match(min(100, strength + 20 * best[0]), f"noted: {best[1]}")


def _hit(said: Iterable[str], known: Iterable[str]) -> str | None:
    """Return the first word said that is one of the known ones, slips allowed in longer words."""
    known = tuple(known)
    return next((word for word in said if any(_same(word, other) for other in known)), None)


def _same(word: str, other: str) -> bool:
    if word.removesuffix("s") == other.removesuffix("s"):
        return True
    return min(len(word), len(other)) > _SHORT and fuzz.ratio(word, other) >= _CLOSE
