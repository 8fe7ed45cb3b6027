"""What somebody sees in the first hour with lists and prices of their own: an empty bench, an order, goods in."""

from __future__ import annotations

import json
import os
from typing import TYPE_CHECKING

import pytest
from typer.testing import CliRunner, Result

from recap.bench.starter import empty_files, starter_files
from recap.cli import app
from recap.settings import read_settings

if TYPE_CHECKING:
    from pathlib import Path

FORUM = "TONE board\nC1, C2 10uF 25V NP\nC3 100uF 6V3\nC4 - 47uF 16V\n"
SHOP = (
    "Stock no.;Description;Cap (uF);Rated V;Temp rating;Endurance;1+;10+;Qty avail.\n"
    "F-104;Radial non-polar electrolytic;10;50;105C;2000;0,31;0,26;60\n"
    "F-101;Radial electrolytic;10;25;105C;2000;0,11;0,09;500\n"
    "F-107;Radial electrolytic;100;16;105C;3000;0,54;0,43;40\n"
    "F-470;Radial electrolytic;47;16;105C;3000;0,125;0,10;40\n"
)


def recap(*words: object) -> Result:
    return CliRunner(env={"COLUMNS": "80"}).invoke(app, [str(word) for word in words])


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    """An empty bench, filled as its own next steps say."""
    folder = tmp_path / "bench"
    assert "recap import YOURLIST --bench" in recap("new", folder, "--empty").stdout
    post = tmp_path / "post.txt"
    post.write_text(FORUM, encoding="utf-8")
    assert recap("import", post, "--bench", folder, "--chassis", "tarn").exit_code == 0
    for name, row in (("sets.csv", "one,tarn,,full,\n"), ("catalogs/suppliers.csv", "fenn,EUR,1,0:4.50,,,,,19\n")):
        path = folder / name
        path.write_text(path.read_text(encoding="utf-8") + row, encoding="utf-8")
    (folder / "catalogs" / "fenn.csv").write_text(SHOP, encoding="cp1252")
    return folder


def test_an_empty_bench_has_the_example_s_settings_and_headers_but_none_of_its_goods(tmp_path: Path) -> None:
    files, example = empty_files(), starter_files()
    assert not [name for name in files if name.startswith("caplists") or name.endswith(("kettle.csv", "barrow.csv"))]
    for name, data in files.items():
        lines = [line for line in data.decode().splitlines() if not line.startswith("#")]
        assert len(lines) == 1 or name == "bench.toml", name
        assert name == "bench.toml" or example[name].startswith(data)
    (tmp_path / "bench.toml").write_bytes(files["bench.toml"])
    settings, told = read_settings(tmp_path / "bench.toml")
    assert (told, settings.offer_days) == ([], 365)
    assert recap("new", tmp_path / "x", "--empty", "--demo").exit_code == 2


def test_a_look_at_a_list_shows_what_each_line_was_read_as(tmp_path: Path) -> None:
    post = tmp_path / "post.txt"
    post.write_text(FORUM, encoding="utf-8")
    shown = " ".join(recap("import", post).stdout.split())
    assert "2 C1, C2 10 µF 25 V bipolar TONE board" in shown
    assert "3 C3 100 µF 6.3 V TONE board" in shown


def test_the_order_says_what_is_bipolar_what_fits_with_care_and_what_comes_next(bench: Path) -> None:
    done = recap("order", bench, "--care", "--no-compare")
    assert done.exit_code == 0, done.output
    lines = [" ".join(line.split()) for line in done.stdout.splitlines()]
    assert "F-104 10 µF 50 V radial bipolar 3 3 0.310 0.93" in lines
    assert "F-470 47 µF 16 V radial 2 2 0.125 0.25" in lines
    care = lines[lines.index("These fit only with care: read why before you order") + 1]
    assert care.startswith("100 µF 6.3 V <- F-107: voltage: 16 V is more than 2 times the old 6.3 V")
    assert "when you have really ordered it, --keep" in done.stderr
    assert "F-101" not in done.stdout  # a polar part never goes where a bipolar one was


def test_what_fits_with_care_is_taken_only_where_nothing_fits_outright(bench: Path) -> None:
    cheap = "F-681;Radial electrolytic;68;16;105C;3000;0,02;0,02;40\n"  # 145 % of 47 µF: with care, and cheaper
    (bench / "catalogs" / "fenn.csv").write_text(SHOP + cheap, encoding="cp1252")

    def bought(*words: str) -> set[str]:
        answer = json.loads(recap("order", bench, "--json", *words).stdout)
        return {line["part"] for parcel in answer["suppliers"] for line in parcel["lines"]}

    assert bought("--care") == {"F-104", "F-107", "F-681"}
    assert bought("--care-if-needed") == {"F-104", "F-107", "F-470"}
    settings = bench / "bench.toml"
    settings.write_text(
        settings.read_text(encoding="utf-8").replace("care_if_needed = false", "care_if_needed = true"),
        encoding="utf-8",
    )
    assert bought() == {"F-104", "F-107", "F-470"}
    assert bought("--care") == {"F-104", "F-107", "F-681"}
    assert recap("order", bench, "--no-care").exit_code == 3


def test_json_has_the_comparison_too_unless_it_is_not_wanted(bench: Path) -> None:
    names = [a["name"] for a in json.loads(recap("order", bench, "--care", "--json").stdout)["alternatives"]]
    assert names == ["this order", "cheapest part, line by line"]
    assert json.loads(recap("order", bench, "--care", "--json", "--no-compare").stdout)["alternatives"] == []


def test_a_bench_without_a_set_says_what_is_missing(bench: Path) -> None:
    (bench / "sets.csv").write_text("set,chassis,boards,job,note\n", encoding="utf-8")
    done = recap("order", bench)
    assert done.exit_code == 0
    assert "Nothing to buy: no position is on the job. Each set has a row in sets.csv" in " ".join(done.stdout.split())
    assert "Total" not in done.stdout


def test_what_cannot_be_had_is_said_once(bench: Path) -> None:
    done = recap("order", bench, "--no-care")
    assert done.exit_code == 3
    _, why = done.stdout.split("100 µF 6.3 V: 2 pieces (1 of them to spare) can't be had")
    assert "F-107 (fenn) would with care" in " ".join(why.split())
    assert "near: fenn F-107" not in why
    assert "1 of them could be had from parts that fit with care: --care-if-needed" in " ".join(why.split())
    assert "taken off the job in sets.csv: full -C" in " ".join(why.split())


def test_the_same_doubt_in_several_sets_is_told_once(bench: Path) -> None:
    stored = bench / "caplists" / "tarn.csv"
    header, *rows = stored.read_text(encoding="utf-8").splitlines()
    stored.write_text("\n".join([f"{header},doubts", f"{rows[0]},remark-unclear", *rows[1:], ""]), encoding="utf-8")
    with (bench / "sets.csv").open("a", encoding="utf-8") as sets:
        sets.write("two,tarn,,full,\n")
    told = " ".join(recap("order", bench, "--care").stdout.split())
    ref = rows[0].split(",")[0]
    assert "in doubt: 2 positions: 2 pieces can't be had" in told
    assert f"where: one: {ref}; two: {ref}" in told


def test_where_nothing_can_be_had_no_order_is_kept_and_no_file_written(bench: Path, tmp_path: Path) -> None:
    (bench / "catalogs" / "fenn.csv").write_text("part;value;volts;price\nF-1;1 pF;6;0.10\n", encoding="utf-8")
    done = recap("order", bench, "--keep", "--out", tmp_path / "out")
    assert done.exit_code == 3
    assert "proven" not in done.stdout
    assert "no order was kept" in done.stderr
    assert "no files were written" in done.stderr
    assert not (tmp_path / "out").exists()
    assert "no order is kept" in recap("receive", bench).output.lower()


def test_goods_in_say_what_each_part_is_and_how_to_go_on(bench: Path) -> None:
    kept = recap("order", bench, "--care", "--keep")
    assert f"when the parcels come: recap receive {bench}" in kept.stderr
    owed = recap("receive", bench)
    assert "10 µF 50 V radial bipolar" in owed.stdout
    assert f"recap receive {bench} --all" in owed.stderr
    refused = recap("receive", bench, "--instead", "F-104=F-101")
    assert refused.exit_code == 1
    assert "nothing was booked" in refused.stderr
    assert f"Next: recap bags {bench}" in recap("receive", bench, "--all").stderr
    assert "All came" not in recap("receive", bench).stderr  # nothing is owed any more, so nothing can come
    lying = " ".join(recap("drawer", bench).stdout.split())
    assert "F-104 10 µF 50 V radial bipolar 0 +1 1" in lying
    assert "in file: what drawer.csv says." in lying
    assert "set aside" not in lying


def test_bags_fit_eighty_columns_with_the_boards_as_headings(bench: Path) -> None:
    shown = recap("bags", bench).stdout.splitlines()
    assert max(map(len, shown)) <= 80
    lines = [" ".join(line.split()) for line in shown]
    assert lines[lines.index("TONE board") + 1] == "2 F-104 10 µF 50 V radial bipolar C1, C2 fenn"


# --- wrong turns ----------------------------------------------------------------------------------------


def words(result: Result) -> str:
    """All that was said, on one line, without the frame of a wrong usage."""
    return " ".join(result.output.replace("│", " ").split())


def test_an_order_kept_twice_by_mistake_is_kept_once(bench: Path) -> None:
    first_time = recap("order", bench, "--care", "--keep")
    assert "kept in the record" in words(first_time)
    again = recap("order", bench, "--care", "--keep")
    assert (again.exit_code, "this very order is kept already" in words(again)) == (1, True)
    first = words(again).split("kept already, as ")[1].split(",")[0]
    assert recap("receive", bench, "--order", first, "--close").exit_code == 0
    assert "kept in the record" in words(recap("order", bench, "--care", "--keep"))


def test_a_set_without_its_option_is_asked_for_with_it(bench: Path) -> None:
    for command in ("bags", "checklist", "order", "estimate"):
        said = recap(command, bench, "one")
        assert (said.exit_code, f"sets stand behind --sets: recap {command} --sets A,B" in words(said)) == (2, True)


def test_a_text_that_begins_as_an_option_is_shown_how_to_stand(bench: Path) -> None:
    said = recap("note", bench, "one", "-5V rail is low")
    assert (said.exit_code, '-- "-5V rail is low"' in words(said)) == (2, True)
    assert recap("note", bench, "one", "--", "-5V rail is low").exit_code == 0
    assert "-5V rail is low" in recap("history", bench, "one").stdout


def test_a_command_to_be_typed_next_can_be_copied_with_its_blanks(tmp_path: Path) -> None:
    post = tmp_path / "Zoë's list (old).txt"
    post.write_text(FORUM, encoding="utf-8")
    said = words(recap("import", post)).replace(" ", "")
    assert f'recapimport"{post}"--benchBENCH'.replace(" ", "") in said
    folder = tmp_path / "my bench"
    assert f'recap order "{folder}"' in recap("new", folder).stdout
    assert f"recap order {tmp_path / 'plain'}" in recap("new", tmp_path / "plain").stdout


@pytest.mark.parametrize("parts", [("470uF", "25V"), ("470uF", "25V", "470uF", "35V")])
def test_parts_typed_without_quotation_marks_are_not_compared_in_halves(parts: tuple[str, ...]) -> None:
    said = recap("margin", *parts)
    assert (said.exit_code, "in" in words(said) and "quotation marks" in words(said)) == (2, True)
    assert recap("margin", "470uF", "470uF 35V").exit_code == 0


def test_a_price_list_given_as_a_capacitor_list_is_named_as_one(tmp_path: Path) -> None:
    """Its hundred rows would be a hundred doubts, each with a hint that helps nobody."""
    shop = tmp_path / "fenn.csv"
    shop.write_text(SHOP, encoding="utf-8")
    said = recap("import", shop)
    assert "price lists go into the bench's catalogs folder" in words(said)
    assert "number-unread" not in said.stderr


@pytest.mark.parametrize(
    "text",
    [
        "part,qty,value,volts,price\nF-1,1,10uF,25,0.10\nF-2,1,47uF,16,0.12\n",
        "ref,part,value,volts,price\nC1,F-1,10uF,25,0.10\nC2,F-2,47uF,16,0.12\n",
        "value,volts\n10uF,25\n47uF,16\n",
    ],
    ids=["with counts", "with designators", "without prices"],
)
def test_a_list_that_also_tells_parts_or_prices_is_none(tmp_path: Path, text: str) -> None:
    post = tmp_path / "list.csv"
    post.write_text(text, encoding="utf-8")
    assert "looks-like-prices" not in recap("import", post).stderr


def test_a_price_list_is_not_offered_to_be_stored_as_a_cap_list(tmp_path: Path) -> None:
    shop = tmp_path / "shop.csv"
    shop.write_text("part,value,volts,price\nA-1,47uF,25,0.10\nA-2,10uF,50,0.08\n", encoding="utf-8")
    told = recap("import", shop).stderr
    assert "looks-like-prices" in told
    assert "To store it" not in told


def test_before_an_order_is_kept_nothing_is_to_be_bagged(bench: Path) -> None:
    told = recap("receive", bench, "--all")
    assert "No order is kept: recap order BENCH --keep keeps one." in " ".join(told.stdout.split())
    assert "Next" not in told.stderr


@pytest.mark.parametrize(("name", "todo"), [("list.docx", "copy the list out of it"), ("list.ods", "save it as .xlsx")])
def test_a_document_that_only_looks_like_a_workbook_inside_is_called_what_it_is(
    tmp_path: Path, name: str, todo: str
) -> None:
    """Both are zip containers (ISO/IEC 29500, 26300: from memory), as workbooks are; a new ending wouldn't help."""
    (tmp_path / name).write_bytes(b"PK\x03\x04" + bytes(40))
    assert todo in recap("import", tmp_path / name).stderr


def test_a_folder_that_is_not_there_is_named_inside_a_bench_too(bench: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(bench)
    assert "there is no folder ../bnk" in words(recap("order", "../bnk"))
    assert "it is no folder here" in words(recap("order", "bnk"))


@pytest.mark.skipif(os.sep == "\\", reason="there backslashes are right")
def test_backslashes_are_named_where_slashes_are_meant(bench: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(bench.parent)
    assert "./bench is there: write / between folders".removeprefix("./") in words(recap("order", ".\\bench"))
    assert "bench/sets.csv is there: write / between folders" in words(recap("import", "bench\\sets.csv"))
