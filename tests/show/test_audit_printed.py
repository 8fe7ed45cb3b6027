"""An audit as it is printed: who is suspected, how many, what was fitted when. The story is invented."""

from __future__ import annotations

from typing import Any

from recap.audit.events import EventKind, PlaceKey
from recap.audit.faults import Match
from recap.audit.kept import Assignment
from recap.audit.review import Question, Review, Suspect
from recap.audit.state import PlaceState
from recap.audit.suspicion import Suspicion
from recap.audit.trace import Step
from recap.model import DRAWER, Role
from recap.show.audit_view import NOTHING_DONE, NOTHING_ODD, audit_document, print_audit
from tests.audit.stories import part, position, tick
from tests.show.printed import lines


def piece(supplier: str = "Norlicht", number: str = "HRN-47") -> Assignment:
    asked = position("C1")
    return Assignment("2025-03-03-1", PlaceKey("S1", "AUDIO", "C1"), asked, "47 µF", part(number), supplier, 1)


def suspect(
    ref: str = "C1", *weights: int, fitted: bool = True, matches: tuple[Match, ...] = (), **more: Any
) -> Suspect:
    out, done = tick(EventKind.OUT, ref, 0), tick(EventKind.IN, ref, 5)
    state = PlaceState(out=(out,), fitted=(done,)) if fitted else PlaceState()
    listed = position(ref, role=Role.COUPLING)
    known: dict[str, Any] = {"pieces": (piece(),), "fitted": part("HRN-47") if fitted else None}
    step = Step(PlaceKey("S1", "AUDIO", ref), listed, listed, True, state=state, **(known | more))
    reasons = tuple(Suspicion(weight, "kind", f"reason {weight}") for weight in weights)
    return Suspect(step, reasons, matches)


def printed(*found: Suspect, most: int | None = 10, about: str | None = None, lacks: tuple[str, ...] = ()) -> list[str]:
    return lines(print_audit, Review(Question("S1", about=about), found, (), lacks), most)


def test_each_suspect_has_its_rank_its_reasons_and_what_was_done() -> None:
    told = printed(suspect("C1", 40, 20, matches=(Match(30, "it couples the sound"),)), suspect("C2", 9))
    assert told[0].startswith("! Mains, charged capacitors and picture tubes kill")
    assert told[1] == "S1: 1 position to look at, of 2"
    assert told[2] == "1. C1 AUDIO: 47 µF 25 V, coupling"
    assert told[3:8] == [
        "fault it couples the sound",
        "look reason 40",
        "look reason 20",
        "was not noted",
        "fitted HRN-47, 47 µF 25 V, bag of S1, Norlicht, order 2025-03-03-1",
    ]
    assert told[8].startswith("when out 2025-03-0")
    assert told[8].endswith(", never checked")
    assert len(told) == 9


def test_what_went_in_instead_or_from_the_drawer_is_told() -> None:
    (instead,) = [line for line in printed(suspect("C1", 40, said="XY-1")) if line.startswith("fitted")]
    assert instead == "fitted XY-1, 47 µF 25 V, instead of HRN-47 of order 2025-03-03-1"
    planned = printed(suspect("C1", 40, said="HRN-47"))
    assert "fitted HRN-47, 47 µF 25 V, bag of S1, Norlicht, order 2025-03-03-1" in planned
    drawn = printed(suspect("C1", 40, pieces=(piece(DRAWER),)))
    assert "fitted HRN-47, 47 µF 25 V, from the drawer, by order 2025-03-03-1" in drawn
    assert "fitted HRN-47, 47 µF 25 V" in printed(suspect("C1", 40, pieces=()))
    bare = printed(suspect("C1", 40, fitted=False))
    assert "fitted nothing; planned is HRN-47, bag of S1, Norlicht, order 2025-03-03-1" in bare
    assert not any(line.startswith(("was", "when")) for line in bare)
    assert "fitted nothing" in printed(suspect("C1", 40, fitted=False, pieces=()))


def test_below_ten_there_is_only_what_any_position_has_unless_all_are_asked_for() -> None:
    found = (suspect("C1", 10), suspect("C2", 9), suspect("C3"))
    assert sum(line[:1].isdigit() for line in printed(*found)) == 1
    assert sum(line[:1].isdigit() for line in printed(*found, most=None)) == 3
    assert printed(*found, most=None)[1] == "S1: 3 positions to look at, of 3"


def test_of_many_the_first_are_shown_and_the_rest_counted() -> None:
    told = printed(*(suspect(f"C{n}", 40) for n in range(1, 6)), most=3)
    assert told[1] == "S1: 5 positions to look at, of 5"
    assert told[-1] == "2 more; --all lists every position."
    assert not any("more;" in line for line in printed(*(suspect(f"C{n}", 40) for n in range(1, 4)), most=3))


def test_where_nothing_speaks_against_the_work_or_none_was_done_it_is_said() -> None:
    assert printed(suspect("C1", 3))[2] == NOTHING_ODD
    assert printed(suspect("C1", 3, fitted=False))[2] == NOTHING_DONE
    assert not {NOTHING_ODD, NOTHING_DONE} & set(printed(suspect("C1", 40)))


def test_the_fault_asked_about_and_what_is_lacking_stand_there() -> None:
    told = printed(suspect("C1", 40), about="hum", lacks=("the shield of the sound board",))
    assert told[1] == "S1: 1 position to look at, of 1, for 'hum'"
    assert told[-2:] == ["Lacks", "the shield of the sound board"]
    plain = printed(suspect("C1", 40))
    assert not {"Lacks", "Other work and symptoms"} & set(plain)


def test_the_document_has_every_position_with_all_that_is_known() -> None:
    told = (suspect("C1", 40, 20, said="XY-1"), suspect("C2", fitted=False))
    first, second = audit_document(Review(Question("S1"), told, (), ()))["suspects"]
    # of several reasons the strongest counts whole, each further one a quarter: 40 + 5
    assert (first["ref"], first["board"], first["score"]) == ("C1", "AUDIO", 45)
    assert (first["fitted"], first["planned"], first["supplier"], first["order"]) == (
        "XY-1", "HRN-47", "Norlicht", "2025-03-03-1",
    )  # fmt: skip
    assert (first["listed"], len(first["out"]), len(first["in"]), first["checked"]) == ("47 µF 25 V", 1, 1, [])
    assert (second["fitted"], second["planned"]) == (None, "HRN-47")
