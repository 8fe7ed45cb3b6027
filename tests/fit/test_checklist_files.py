"""The checklist as PDF, HTML and workbook: all of it is there, as text, and readable without colour."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from html import unescape

import pytest
from openpyxl import load_workbook

from recap.fit.checklist import Checklist, checklist
from recap.fit.checklist_html import checklist_html
from recap.fit.checklist_pdf import checklist_pdf
from recap.fit.checklist_xlsx import checklist_xlsx
from recap.fit.worklist import task
from recap.model import Kind, Position, Settings
from recap.order.allot import Allotment, allot
from tests.fit.printed import page_image, page_sizes_mm, page_texts
from tests.order.sample import a_report, part

HOSTILE = '<script>alert("x")</script>&=1+1'


def made(number: str = "HRN-47-35", *, part_by_part: bool = False) -> Checklist:
    report = a_report(number)
    tasks = [task(piece, Settings()) for piece in allot(report.groups, report.order)]
    return checklist(tasks, date(2025, 11, 25), "order worked out now", part_by_part=part_by_part)


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


@pytest.mark.parametrize("part_by_part", [False, True])
def test_the_pdf_has_every_place_part_and_caution(part_by_part: bool) -> None:
    content = made(part_by_part=part_by_part)
    text = squeezed("".join(page_texts(checklist_pdf(content))))
    for section in content.sections:
        for one in section.tasks:
            assert squeezed(one.ref) in text
            assert squeezed(one.old) in text
    for caution in content.cautions:
        assert squeezed(caution) in text
    assert "µF" in text
    assert "Ø6.3×11" in text


def many(places: int, boards: int) -> Checklist:
    """Return a list of ``boards`` boards, each with so many places that ask for the same and get the same."""
    asks = Position(value_uF=Decimal(100), volts=Decimal(50), kind=Kind.ELECTROLYTIC)
    pieces = [
        Allotment("amp", replace(asks, ref=f"C{n}", board=f"B{board:02}"), "g", 1, part("PK-6"), "shop-a")
        for board in range(boards)
        for n in range(1, places + 1)
    ]
    return checklist([task(piece, Settings()) for piece in pieces], date(2025, 11, 25), "order")


def test_what_is_alike_is_said_once_and_every_place_keeps_its_boxes() -> None:
    text = "".join(page_texts(checklist_pdf(many(places=8, boards=1))))
    assert [text.count(f"C{n}") for n in range(1, 9)] == [1] * 8
    assert text.count("PK-6") == 1


@pytest.mark.parametrize("places", range(1, 9))
def test_no_heading_stands_alone_at_the_foot_of_a_page(places: int) -> None:
    pages = [squeezed(page) for page in page_texts(checklist_pdf(many(places, boards=12)))]
    for board in range(12):
        (page,) = (page for page in pages if f"B{board:02}—" in page)
        assert "C1" in page.split(f"B{board:02}—")[1]


def test_many_alike_places_go_over_pages() -> None:
    pages = page_texts(checklist_pdf(many(places=60, boards=1)))
    assert len(pages) == 4
    names = re.findall(r"\bC[0-9]+\b", "\n".join(pages))
    assert sorted(names) == sorted(f"C{n}" for n in range(1, 61))


def test_each_page_says_whose_places_stand_on_it() -> None:
    """Boards may share designators: on a page without its name C1 would be that of any board."""
    pages = page_texts(checklist_pdf(many(places=30, boards=2)))
    assert len(pages) > 2
    for page in pages:
        named = [at for at in (page.find("B00 —"), page.find("B01 —")) if at >= 0]
        assert named
        assert min(named) < re.search(r"\bC[0-9]+\b", page).start()  # type: ignore[union-attr]


def test_each_set_begins_a_page_of_its_own_with_its_name_and_number() -> None:
    texts = page_texts(checklist_pdf(made()))
    starts = [page for page in texts if "Checklist: " in page]
    assert len(starts) == 2
    for number, page in enumerate(texts, 1):
        assert f"page {number} of {len(texts)}" in page


@pytest.mark.parametrize(("paper", "size"), [("a4", (297.0, 210.0)), ("letter", (279.4, 215.9))])
def test_paper_is_landscape(paper: str, size: tuple[float, float]) -> None:
    # ISO 216: A4 is 210 × 297 mm; US Letter is 8.5 × 11 inches (ANSI/ASME Y14.1)
    assert set(page_sizes_mm(checklist_pdf(made(), paper=paper))) == {size}


def test_the_print_is_black_and_white() -> None:
    image = page_image(checklist_pdf(made()), dots_per_inch=50).convert("L")
    dark = sum(image.histogram()[:64])
    assert dark > 500


def test_a_long_hostile_part_number_breaks_no_page() -> None:
    pages = page_texts(checklist_pdf(made(HOSTILE * 12)))
    assert squeezed('<script>alert("x")</script>') in squeezed("".join(pages))


def test_a_letter_that_the_font_lacks_is_shown_as_a_question_mark() -> None:
    assert "KW-?-1" in "".join(page_texts(checklist_pdf(made("KW-\U0001f984-1"))))


def test_nothing_to_do_is_said() -> None:
    empty = checklist([], date(2025, 11, 25), "x")
    assert "Nothing to do" in page_texts(checklist_pdf(empty))[0]
    assert "Nothing to do" in checklist_html(empty)
    assert load_workbook(io.BytesIO(checklist_xlsx(empty))).worksheets[0]["A1"].value.startswith("Nothing to do")


def test_the_page_fetches_nothing_and_runs_only_its_own_script() -> None:
    page = checklist_html(made())
    assert "default-src 'none'" in page
    assert not re.search(r"(src|href)=\"(?!#)", page)
    assert page.count("<script>") == 1
    assert re.search(r"script-src 'sha256-[A-Za-z0-9+/]{43}='", page)


def test_hostile_text_is_shown_as_text() -> None:
    page = checklist_html(made(HOSTILE))
    assert page.count("<script>") == 1
    assert HOSTILE in unescape(page)


def test_every_line_has_three_boxes_and_room_for_a_measured_value() -> None:
    content = made()
    page = checklist_html(content)
    assert page.count('type="checkbox"') == 3 * content.tasks_count
    assert page.count("-measured") == content.tasks_count
    ids = re.findall(r'<input [^>]*id="([^"]+)"', page)
    assert len(set(ids)) == len(ids) == 4 * content.tasks_count


def test_another_list_does_not_take_over_the_ticks() -> None:
    keys = {re.search(r'data-list="([^"]+)"', checklist_html(c))[1] for c in (made(), made("OTHER"))}  # type: ignore[index]
    assert len(keys) == 2
    later = replace(made(), made_on=date(2026, 1, 1))
    assert re.search(r'data-list="([^"]+)"', checklist_html(later))[1] in keys  # type: ignore[index]


def test_the_workbook_has_a_sheet_per_set_and_no_formula() -> None:
    book = load_workbook(io.BytesIO(checklist_xlsx(made("=1+1"))))
    assert book.sheetnames == ["set-1", "set-2"]
    sheet = book["set-1"]
    assert sheet.freeze_panes is not None
    types = {cell.data_type for sheet in book.worksheets for row in sheet.iter_rows() for cell in row}
    assert "f" not in types
    (head,) = (row for row in sheet.iter_rows(values_only=True) if row[0] == "out")
    assert head[:6] == ("out", "in", "checked", "board", "place", "old part")
    assert head[-1] == "measured"
