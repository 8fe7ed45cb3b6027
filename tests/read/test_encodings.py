"""Encodings: one list stored in several ways says the same."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recap.read.decoding import decode
from recap.read.tables import read_tables, read_text

if TYPE_CHECKING:
    from pathlib import Path

LIST = "Bezeichner;Kapazität;Ø\nC1;4,7 µF;5\nC2;0,47 µF;6,3\n"


@pytest.mark.parametrize(
    "stored",
    [
        LIST.encode("utf-8"),
        LIST.encode("utf-8-sig"),
        LIST.encode("cp1252"),
        LIST.encode("utf-16"),
        b"\xfe\xff" + LIST.encode("utf-16-be"),
        LIST.replace("\n", "\r\n").encode("utf-8"),
        LIST.replace("\n", "\r").encode("cp1252"),
    ],
    ids=["utf-8", "utf-8 with mark", "cp1252", "utf-16 little", "utf-16 big", "Windows lines", "old line ends"],
)
def test_the_encoding_does_not_change_what_is_read(stored: bytes, tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(stored)
    (table,), _ = read_tables(path)
    assert [[cell.text for cell in row.cells] for row in table.rows] == [
        ["Bezeichner", "Kapazität", "Ø"],
        ["C1", "4,7 µF", "5"],
        ["C2", "0,47 µF", "6,3"],
    ]


@pytest.mark.parametrize(
    ("page", "text"),
    [
        ("cp1253", "Πλακέτα τροφοδοσίας\nC1 2200μF 25V\nC2 100μF 16V\n"),
        ("cp1251", "Блок питания\nC1 2200 мкФ\nC2 100 мкФ неполярный\n"),
        ("koi8-r", "Блок питания\nC1 2200 мкФ\nC2 100 мкФ неполярный\n"),
        ("cp866", "Блок питания\nC1 2200 мкФ\nC2 100 мкФ неполярный\n"),
        ("mac-roman", "Repère;Capacité;Modèle\rC1;10 µF;85 °C\r"),
        ("cp850", "Stückliste\nC1 220µF 40V\nC2 4,7µF 63V\n"),
        ("cp932", "電源基板\nC1 電解 100μF\nC2 セラミック 0.01μF\n"),
        ("euc_jp", "電源基板\nC1 電解 100μF\nC2 セラミック 0.01μF\n"),
        ("cp949", "부품번호,용량,내압\nC1,10uF,16V\n"),
        ("gb18030", "位号,容量,耐压\nC1,10uF,16V\n"),
        ("cp1252", "Stückliste für „Röhre“\nC1 Elko 100 µF, à 85 °C – naïve\n"),
        ("cp1252", "L’alimentation – décision prise à l’été\nC1 4,7 µF, côté régulateur\n"),
    ],
)
def test_the_words_of_a_list_tell_its_code_page(page: str, text: str) -> None:
    """The bytes are those of the pages as Python's codecs have them."""
    assert decode(text.encode(page), "list.txt")[0] == text


def test_one_word_by_chance_tells_no_code_page() -> None:
    text = "C1 47 µF – “Wo” 2×10 µF\n"
    assert decode(text.encode("cp1252"), "list.txt")[0] == text


def test_a_file_pasted_from_two_encodings_is_read_line_by_line_and_told() -> None:
    text, told = decode("C1 47 µF\n".encode() + "C2 10 µF\n".encode("cp1252"), "list.txt")
    assert text == "C1 47 µF\nC2 10 µF\n"
    assert [(d.code, d.source.row) for d in told] == [("encoding-mixed", 2)]


def test_a_byte_that_is_no_letter_is_told_at_its_row() -> None:
    text, told = decode(b"C1 47\nC2 \x81 10\n", "list.txt")
    assert text == "C1 47\nC2 \N{REPLACEMENT CHARACTER} 10\n"
    assert ("byte-unreadable", 2) in [(d.code, d.source.row) for d in told]


def test_text_comes_as_it_stands(tmp_path: Path) -> None:
    path = tmp_path / "list.txt"
    path.write_bytes("C1 – 47 µF\r\n\r\nC2\r\n".encode())
    assert read_text(path) == ("C1 – 47 µF\r\n\r\nC2\r\n", [])


@given(st.binary(max_size=400), st.sampled_from([".csv", ".tsv", ".txt", ".xlsx", ".md"]))
@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_bytes_raise(tmp_path: Path, data: bytes, ending: str) -> None:
    path = tmp_path / f"list{ending}"
    path.write_bytes(data)
    tables, told = read_tables(path)
    text, said = read_text(path)
    assert tables or told
    assert text is not None or said


@pytest.mark.parametrize("end", ["\u0085", "\u2028", "\u2029"])
def test_unicodes_own_line_ends_count_where_there_are_no_others(end: str, tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(LIST.replace("\n", end).encode())
    (table,), told = read_tables(path)
    rows = [[cell.text for cell in row.cells] for row in table.rows]
    assert rows[1:] == [["C1", "4,7 µF", "5"], ["C2", "0,47 µF", "6,3"]]
    assert told == []


def test_beside_usual_line_ends_they_are_text(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(LIST.replace("C1", "C1\u2028").encode())
    (table,), _ = read_tables(path)
    assert len(table.rows) == 3
