"""Parts made many at a time are the parts made one by one."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

import pytest
from openpyxl import Workbook

from recap.bench.catalogues import read_catalogue

if TYPE_CHECKING:
    from pathlib import Path

LADDERS = (
    "part,maker,value,volts,temp,life,mount,kind,safety,stock,minimum,multiple,prices,updated\n"
    "A-1,Quillstone,47uF,25,105,2000,radial,electrolytic,,,,,1:0.42 10:0.31,2026-01-02\n"
    "A-2,,4700 nF,6.3,85,,axial,film,,12,5,5,0.40,\n"
    "A-3,Alder,0.1uF,275,110,,radial,safety,X2,0,,,€0.55,\n"
    "A-4,Alder,0.1uF,275,110,,radial,,X2,,10,,1:0.5; 25:0.4,\n"
)
WIDE = "part,value,volts,1,10,100\nA-1,47uF,25,0.42,0.31,0.19\nA-2,100uF,16,,0.40,\n"


@pytest.mark.parametrize("text", [LADDERS, WIDE], ids=["ladders", "wide"])
def test_many_at_once(tmp_path: Path, text: str) -> None:
    path = tmp_path / "fernlight.csv"
    path.write_text(text, encoding="utf-8")
    catalogue, told = read_catalogue(path, "fernlight")
    assert catalogue is not None, told
    rows = [*range(len(catalogue)), 0]
    random.Random(1).shuffle(rows)
    assert catalogue.parts(rows) == [catalogue.part(row) for row in rows]
    assert catalogue.parts([]) == []


def test_the_sheet_is_kept(tmp_path: Path) -> None:
    book = Workbook()
    for name in ("radial", "axial"):
        sheet = book.create_sheet(name)
        sheet.append(["part", "value", "volts", "prices"])
        sheet.append([f"{name}-1", "47uF", "25", "1:0.42"])
    del book["Sheet"]
    book.save(tmp_path / "fernlight.xlsx")
    catalogue, told = read_catalogue(tmp_path / "fernlight.xlsx", "fernlight")
    assert catalogue is not None, told
    rows = range(len(catalogue))
    assert catalogue.parts(rows) == [catalogue.part(row) for row in rows]
