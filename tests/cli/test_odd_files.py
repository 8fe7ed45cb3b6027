"""Whatever lies where a file of the bench belongs, a command ends with an answer that names it, or reads it."""

from __future__ import annotations

import gzip
import json
import os
import shutil
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from typer.testing import CliRunner

from recap.cli import app
from tests.bench_folder.folders import FILES, make

if TYPE_CHECKING:
    from collections.abc import Callable

MORE = {
    "drawer.csv": "part,value,volts,temp,life,mount,kind,qty\nD-47,47 µF,25 V,105,5000 h,radial,electrolytic,3\n",
    "extras.csv": "item,qty,part\nplug,1,P-10-50\n",
}
ALL = {**FILES, **MORE}
BOM = "\ufeff".encode()
ODD: dict[str, Callable[[bytes], bytes]] = {
    "nothing": lambda _: b"",
    "a mark alone": lambda _: BOM,
    "two marks": lambda raw: BOM + BOM + raw,
    "a mark inside": lambda raw: raw.replace(b"\n", b"\n" + BOM, 1),
    "UTF-16 without its mark": lambda raw: raw.decode().encode("utf-16-le"),
    "half a letter of UTF-16": lambda raw: raw.decode().encode("utf-16") + b"A",
    "NUL bytes at the end": lambda raw: raw + bytes(4096),
    "surrogates": lambda raw: raw + b"\xed\xa0\x80,\xf8\x88\x80\n",
    "tabs and feeds between lines": lambda raw: raw.replace(b"\n", b"\x0b\n\x0c"),
    "a quotation never closed": lambda raw: b'"' + raw,
    "a quotation behind each cell": lambda raw: raw.replace(b",", b'",'),
    "packed by gzip": gzip.compress,
    "a picture": lambda raw: b"\x89PNG\r\n\x1a\n" + raw,
    "a page": lambda raw: b"<!DOCTYPE html><table><tr><td>" + raw.replace(b",", b"</td><td>"),
    "JSON": lambda raw: json.dumps({"a": raw.decode()}).encode(),
    "a hundred thousand commas": lambda raw: raw + b"," * 100_000 + b"\n",
    "terminal commands": lambda raw: raw.replace(b"1", b"\x1b[2J1"),
}


def run(*words: object) -> Any:
    return CliRunner().invoke(app, [str(word) for word in words], env={"COLUMNS": "120", "NO_COLOR": "1"})


def command(bench: Path, name: str) -> list[object]:
    if name.startswith("caplists"):
        return ["import", bench / name, "--json"]
    return ["drawer", bench, "--json"] if name == "drawer.csv" else ["order", bench, "--json", "--no-compare"]


@pytest.mark.parametrize("odd", ODD)
@pytest.mark.parametrize("name", ALL)
def test_odd_content_ends_with_an_answer(tmp_path: Path, name: str, odd: str) -> None:
    bench = make(tmp_path, {**MORE, name: ODD[odd](ALL[name].encode())})
    answer = run(*command(bench, name))
    assert answer.exception is None or isinstance(answer.exception, SystemExit), answer.exc_info
    document = json.loads(answer.stdout)
    assert answer.exit_code in {0, 1, 3}
    if answer.exit_code == 1:
        assert any(one["severity"] == "error" and one["hint"] for one in document["diagnostics"])
        assert any(name.rpartition("/")[2] in one["file"] for one in document["diagnostics"])
    assert "\x1b" not in answer.output


PLACES: dict[str, Callable[[Path], object]] = {
    "a folder": Path.mkdir,
    "a pipe": os.mkfifo,
    "a link to itself": lambda path: path.symlink_to(path.name),
    "a link to nothing": lambda path: path.symlink_to("nothing"),
    "a link to a device": lambda path: path.symlink_to("/dev/zero"),
}


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("name", [*ALL, "record.db"])
def test_what_is_no_file_is_an_error_and_never_passed_over(tmp_path: Path, name: str, place: str) -> None:
    bench = make(tmp_path, dict(MORE))
    (bench / name).unlink(missing_ok=True)
    PLACES[place](bench / name)
    answer = run("history", bench, "S1") if name == "record.db" else run(*command(bench, name))
    assert isinstance(answer.exception, SystemExit), answer.exc_info
    assert answer.exit_code == 1
    assert name.rpartition("/")[2] in answer.output


def test_what_the_drawer_file_says_stands_in_its_json(tmp_path: Path) -> None:
    bench = make(tmp_path, {"drawer.csv": "part,value,volts,qty,shelf mark\nD-47,47 µF,25 V,3,x\n"})
    document = json.loads(run("drawer", bench, "--json").stdout)
    assert [(one["severity"], one["code"]) for one in document["diagnostics"]] == [("warning", "header-unknown")]


def test_a_folder_of_a_table_s_name_among_price_lists(tmp_path: Path) -> None:
    bench = make(tmp_path, {})
    shutil.copytree(bench / "catalogs", bench / "catalogs" / "ombrel.csv")
    answer = run("catalog", bench)
    assert answer.exit_code == 1
    assert "ombrel.csv is a folder" in answer.output


@pytest.mark.parametrize("name", ["CON", "nul.txt", "com1", "LPT9", "k.", "..", "a/b", "a\x1b[2J", "a\nb", ".k", "*"])
def test_a_chassis_that_cannot_name_a_file_everywhere(tmp_path: Path, name: str) -> None:
    bench = make(tmp_path, {})
    answer = run("import", bench / "caplists/K7.csv", "--bench", bench, f"--chassis={name}")
    assert answer.exit_code == 2
    assert sorted(path.name for path in (bench / "caplists").iterdir()) == ["K7.csv"]


def test_a_set_s_name_that_cannot_be_seen_is_not_written(tmp_path: Path) -> None:
    bench = make(tmp_path, {})
    before = (bench / "sets.csv").read_bytes()
    answer = run("import", bench / "caplists/K7.csv", "--bench", bench, "--chassis", "K9", "--sets=a\x1b[2J")
    assert answer.exit_code == 2
    assert (bench / "sets.csv").read_bytes() == before
