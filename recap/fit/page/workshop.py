"""What the page shows of each set: its boards, their positions, and what each of them gets."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import quote

from recap.audit.deliveries import plan
from recap.audit.places import Place, boards_of, places_of
from recap.fit.worklist import Task, task
from recap.model import DRAWER
from recap.order.allot import NO_BOARD as NO_BOARD_WORDS
from recap.order.allot import Allotment
from recap.order.wording import marked_text

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from recap.audit.events import Event, PlaceKey
    from recap.audit.kept import Assignment, KeptOrder
    from recap.audit.places import Lists
    from recap.model import SetOnBench, Settings

NO_BOARD = "-"
"""Stands in addresses for positions that the list puts on no board."""


@dataclass(frozen=True, slots=True)
class Card:
    """One position in words, ready to be shown; nothing in it is markup. ``bag``: where the new part is."""

    key: PlaceKey
    value: str
    task: Task
    new: str
    bag: str
    on_job: bool


@dataclass(frozen=True, slots=True)
class Board:
    """One board of one set; ``name`` is empty where the list names none."""

    name: str
    cards: tuple[Card, ...]

    @property
    def title(self) -> str:
        """The board's name for people."""
        return self.name or NO_BOARD_WORDS

    @property
    def values(self) -> tuple[str, ...]:
        """The different values on it, in the order met."""
        return tuple(dict.fromkeys(card.value for card in self.cards))


@dataclass(frozen=True, slots=True)
class Unit:
    """One set and its boards."""

    name: str
    chassis: str
    note: str | None
    boards: tuple[Board, ...]

    @property
    def keys(self) -> tuple[PlaceKey, ...]:
        """The positions to be done."""
        return tuple(card.key for board in self.boards for card in board.cards if card.on_job)

    def board(self, name: str) -> Board | None:
        """Return the board of that name, whatever the case of its letters."""
        wanted = "" if name in {NO_BOARD, NO_BOARD_WORDS} else name.casefold()
        return next((board for board in self.boards if board.name.casefold() == wanted), None)


def units(lists: Lists, orders: Sequence[KeptOrder], events: Iterable[Event] = ()) -> dict[str, Unit]:
    """Return every set by name, in the order of ``sets.csv``; substitutes that came stand for what was ordered."""
    meant = plan(orders, events).latest()
    return {unit.name: _unit(unit, lists, meant) for unit in lists.sets}


def set_address(name: str) -> str:
    """Return the path of a set's page."""
    return f"/set/{quote(name, safe='')}"


def board_address(set_name: str, board: str) -> str:
    """Return the path of a board's page."""
    return f"{set_address(set_name)}/board/{quote(board or NO_BOARD, safe='')}"


def place_address(set_name: str, board: str, ref: str) -> str:
    """Return the path that labels carry: it leads to a place on its board's page.

    A path, not what stands behind ``#``: that never reaches the server, and would be lost at the door.
    """
    return f"{board_address(set_name, board)}/{quote(ref, safe='')}"


def _unit(unit: SetOnBench, lists: Lists, meant: Mapping[PlaceKey, tuple[Assignment, ...]]) -> Unit:
    caplist = lists.caplists.get(unit.chassis)
    places = () if caplist is None else places_of(unit, caplist, meant)
    boards = tuple(
        Board(board, tuple(_card(p, lists.settings) for p in places if p.key.board == board))
        for board in boards_of(places)
    )
    return Unit(unit.name, unit.chassis, unit.note, boards)


def _card(place: Place, settings: Settings) -> Card:
    first = place.pieces[0] if place.pieces else None
    allotment = Allotment(
        place.key.set,
        place.position,
        first.group if first else "",
        place.position.qty,
        first.part if first else None,
        first.supplier if first else None,
    )
    shown = task(allotment, settings)
    return Card(place.key, marked_text(place.position), shown, _new(place, shown), _bag(place), place.on_job)


def _new(place: Place, shown: Task) -> str:
    if not place.pieces:
        return "as listed: no order is kept for it" if place.on_job else "not on the job"
    if len(place.pieces) == 1:
        return shown.new
    return "; ".join(f"{piece.qty} × {piece.part.number}: {marked_text(piece.part)}" for piece in place.pieces)


def _bag(place: Place) -> str:
    froms = [
        "from the drawer" if piece.supplier == DRAWER else f"from its bag: {piece.supplier}, order {piece.order}"
        for piece in place.pieces
    ]
    return "; ".join(dict.fromkeys(froms))
