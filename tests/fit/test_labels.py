"""Labels: they lie where the sheet has them, and a phone's camera reads what they say."""

from __future__ import annotations

import pytest

from recap.cli.labels import SheetName
from recap.fit.bags import Bag, Compartment, Content, Sorting, sort_into_bags
from recap.fit.labels import SHEETS, Label, LabelSheet, labels
from recap.fit.labels_pdf import labels_pdf
from recap.fit.plan import plan_of_order
from recap.model import Kind
from tests.fit.printed import inked_mm, page_image, page_sizes_mm, page_texts, scanned
from tests.order.sample import a_report, part

REPORT = a_report("HRN-47-35")
SORTING = sort_into_bags(plan_of_order(REPORT.groups, REPORT.order, "test"))
BASE = "http://192.168.1.20:8000/"
FULL = Label("a set with a long name", "POWER", "1000 µF 25 V", 12, tuple(f"C{n}" for n in range(901, 913)), "N", BASE)


def test_a_label_for_every_part_of_every_board_then_extras_then_the_drawer() -> None:
    found = labels(SORTING, BASE)
    assert [(label.set, label.board, label.part, label.refs) for label in found] == [
        ("set-1", "no board named", "AX 0.47/450", ("C30",)),
        ("set-1", "AUDIO", "OLD-1", ("C2",)),
        ("set-1", "POWER", "HRN-47-35", ("C10",)),
        ("set-1", "POWER", "OLD-1", ("C9",)),
        ("set-1", "other parts", "SW-1", ()),
        ("set-2", "AUDIO", "AX 0.47/450", ("0.47 µF 350 V ×2",)),
        ("set-2", "POWER", "HRN-47-35", ("C9",)),
        ("drawer", "spares", "HRN-47-35", ()),
        ("drawer", "spares", "AX 0.47/450", ()),
    ]


def test_pieces_of_one_part_share_a_label_wherever_they_come_from() -> None:
    made = part("MT-47", kind=Kind.BIPOLAR)
    rows = [Content(made, "47 µF 25 V bipolar", "", qty, refs, source) for qty, refs, source in (
        (2, ("C10", "C9"), "drawer: tray 3"),
        (1, ("C2",), "shop-a"),
    )]  # fmt: skip
    (label,) = labels(Sorting((Bag("amp", (Compartment("PRE", tuple(rows)),)),)))
    assert (label.qty, label.refs, label.value) == (3, ("C2", "C9", "C10"), "47 µF 25 V bipolar")


def test_a_label_says_what_must_not_be_mistaken() -> None:
    values = {label.part: label.value for label in labels(SORTING)}
    assert values["AX 0.47/450"] == "47 µF 35 V bipolar"


@pytest.mark.parametrize(
    "value",
    ["0.22 µF 275 V X2", "2.2 nF 400 V X1/Y2", "0.1 µF 100 V film", "10000 µF 100 V", "? µF 63 V bipolar"]
    + [f"{number} µF 275 V X2" for number in ("0.33", "0.47", "0.022", "0.068", "0.0047", "1.5")],
)
def test_no_label_cuts_a_value_off(value: str) -> None:
    """Without its last letters a safety part would look like a plain one."""
    for sheet in SHEETS.values():
        for address in ("", BASE):
            (page,) = page_texts(labels_pdf([Label("amp", "PSU", value, 1, ("C1",), "P-1", address)], sheet))
            assert "…" not in page
            assert " ".join(page.split()).count(value.rpartition(" ")[2]) >= 1


@pytest.mark.parametrize("name", SHEETS)
def test_a_scanner_reads_the_address_of_the_place_off_the_print(name: str) -> None:
    pdf = labels_pdf(labels(SORTING, BASE), SHEETS[name])
    assert scanned(page_image(pdf)) == sorted(
        [
            "http://192.168.1.20:8000/set/set-1/board/-/C30",
            "http://192.168.1.20:8000/set/set-1/board/AUDIO/C2",
            "http://192.168.1.20:8000/set/set-1/board/POWER/C10",
            "http://192.168.1.20:8000/set/set-1/board/POWER/C9",
            "http://192.168.1.20:8000/set/set-2/board/AUDIO",
            "http://192.168.1.20:8000/set/set-2/board/POWER/C9",
        ]
    )


def test_without_an_address_there_are_no_codes() -> None:
    assert scanned(page_image(labels_pdf(labels(SORTING), SHEETS["a4"]))) == []


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS)
def test_labels_lie_on_the_page_and_on_no_other_label(sheet: LabelSheet) -> None:
    width, height = sheet.page_mm
    corners = [sheet.place(index) for index in range(sheet.count)]
    for x, y in corners:
        assert x >= 0
        assert y >= 0
        assert x + sheet.label_mm[0] <= width + 0.01
        assert y + sheet.label_mm[1] <= height + 0.01
    for x, y in corners:
        near = [
            (u, v)
            for u, v in corners
            if abs(u - x) < sheet.label_mm[0] - 0.01 and abs(v - y) < sheet.label_mm[1] - 0.01
        ]
        assert near == [(x, y)]


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS)
def test_the_grid_is_in_the_middle_of_the_page(sheet: LabelSheet) -> None:
    last = sheet.place(sheet.count - 1)
    for side, page in enumerate(sheet.page_mm):
        behind = page - last[side] - sheet.label_mm[side]
        assert behind == pytest.approx(sheet.corner_mm[side], abs=0.6)


@pytest.mark.parametrize(
    "sheet", [s for s in SHEETS.values() if not s.cut], ids=[n for n, s in SHEETS.items() if not s.cut]
)
@pytest.mark.parametrize("last", [False, True])
def test_the_ink_of_a_label_stays_inside_it(sheet: LabelSheet, last: bool) -> None:
    index = sheet.count - 1 if last else 0
    pdf = labels_pdf([FULL], sheet, skip=index)
    x, y = sheet.place(index)
    left, top, right, bottom = inked_mm(page_image(pdf))
    assert x + 2 <= left
    assert right <= x + sheet.label_mm[0] - 2
    assert y + 2 <= top
    assert bottom <= y + sheet.label_mm[1] - 2


def test_sheets_used_in_part_are_used_up_and_the_rest_follows_on_the_next() -> None:
    sheet = SHEETS["a4-2x7"]
    many = [Label("s", "b", f"{n} µF", 1, (f"C{n}",), "N") for n in range(1, 17)]
    texts = page_texts(labels_pdf(many, sheet, skip=3))
    assert [("11 µF" in text, "12 µF" in text) for text in texts] == [(True, False), (False, True)]
    with pytest.raises(ValueError, match="14 labels"):
        labels_pdf(many, sheet, skip=14)


def test_designators_that_find_no_room_are_counted_not_dropped() -> None:
    refs = tuple(f"C{n}" for n in range(100, 160))
    text = page_texts(labels_pdf([Label("s", "b", "1 µF", 60, refs, "N", BASE)], SHEETS["letter-3x10"]))[0]
    shown = text.count("C1")
    assert 0 < shown < 60
    assert f"and {60 - shown} more" in " ".join(text.split())


def test_pages_have_the_size_of_the_sheet() -> None:
    for sheet in SHEETS.values():
        assert page_sizes_mm(labels_pdf([FULL], sheet)) == [pytest.approx(sheet.page_mm, abs=0.1)]


def test_the_command_offers_exactly_the_sheets_there_are() -> None:
    assert [name.value for name in SheetName] == list(SHEETS)


def test_hostile_names_are_printed_as_text_and_addressed_safely() -> None:
    odd = Label("../<b>&", "a/b ?#", "1 µF", 1, (), "=1+1", "")
    assert "../<b>&" in page_texts(labels_pdf([odd], SHEETS["a4"]))[0]


@pytest.mark.parametrize(
    ("value", "lines"),
    [
        ("4.7 µF 50 V bipolar", ["4.7 µF 50 V", "bipolar"]),
        ("220 µF 16 V", ["220 µF 16 V"]),
        ("1000 µF 25 V", ["1000 µF 25 V"]),
    ],
)
def test_what_must_not_be_mistaken_is_not_written_small(value: str, lines: list[str]) -> None:
    """Beside a code there is little room: the last word goes below, a unit never does."""
    label = Label("amp", "PRE", value, 1, ("C1",), "X-1", f"{BASE}set/amp/board/PRE/C1")
    printed = [line.strip() for line in page_texts(labels_pdf((label,), SHEETS["a4"]))[0].splitlines()]
    assert printed[2 : 2 + len(lines)] == lines
    assert printed[2 + len(lines)] == "1 × X-1"
