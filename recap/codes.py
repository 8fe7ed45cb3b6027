"""The register of diagnostic and doubt codes: what each means and what to do about it.

A doubt is a code that sticks to a position until the user settles it. ``blocks`` tells whether
`recap order` refuses to buy for a position that carries it. Codes are kebab-case and never reused.
Each stage keeps its own table here, in the order of the work.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Code:
    """One code: a title, an example as it is met, what to do, and whether it blocks an order."""

    title: str
    example: str
    todo: str
    blocks: bool = False


FILES: dict[str, Code] = {
    "file-missing": Code("No such file", "caplists/TV5.csv isn't there", "Check the name and the folder."),
    "file-is-folder": Code("A folder stands where a file should", "drawer.csv is a folder", "Name a file in it."),
    "file-unreadable": Code("The file can't be opened", "no permission to read", "Check its permissions."),
    "file-empty": Code("Nothing in it", "a file of 0 bytes or of blank lines", "Fill it, or delete it."),
    "file-wrong-type": Code("Not what its name says", "a PDF named .csv", "Export a table; name it as what it is."),
    "file-too-large": Code("More than is read", "a list of 60 MB", "Split it; large catalogues belong in CSV."),
    "file-has-nul": Code("NUL bytes in a text", "a program named .csv; UTF-16 without mark", "Save it as UTF-8."),
    "byte-unreadable": Code("A byte that is no letter", "0x81 in a CP1252 file", "Type the letter; save as UTF-8."),
    "encoding-mixed": Code("UTF-8 and CP1252 in one file", "lists pasted together", "Save it again as UTF-8."),
    "encoding-cp1252": Code("Read as CP1252", "µ stored as one byte", "Nothing; UTF-8 is safer."),
    "line-too-long": Code("A line without end", "a line of 100 MB", "Break the line up, or name the right file."),
    "too-many-rows": Code("More rows than any list has", "a million rows", "Split it, or name the right file."),
    "too-many-columns": Code("More columns than any table has", "a cell in column XFD", "Delete what lies far out."),
    "too-many-cells": Code("More cells than are read", "a merged area of a sheet", "Delete what isn't the table."),
    "quote-unclosed": Code("A quotation mark never closed", '"10 µF, 50 V at the row\'s end', "Close it or double it."),
    "cell-formula": Code("A formula where a value belongs", "=B2*1000", "Put the value in its place."),
    "cell-formula-empty": Code("A formula without a result", "=B2*1000, never worked out", "Save it in a spreadsheet."),
    "cell-error": Code("An error where a value belongs", "#REF!", "Put the value in its place."),
    "cell-part-struck": Code("Partly struck through", "47 struck out, 100 behind it", "Leave only what counts."),
    "sheet-hidden": Code("A hidden sheet was read", "a price list hidden in a workbook", "Show it and look."),
    "sheet-name": Code("A sheet's name is no name", "../../prices", "Rename the sheet; ask who sent it."),
    "workbook-broken": Code("A damaged workbook", "an .xlsx cut short by a download", "Save it again."),
    "workbook-bomb": Code("A workbook that unpacks without end", "1 MB that becomes 1 GB", "Don't trust the file."),
    "workbook-entities": Code("A workbook with a document type", "XML entities", "Don't trust the file."),
}
"""Files and tables as such: missing, empty, broken, too large."""

LISTS: dict[str, Code] = {
    # readings of a value or a voltage (normalise/values.py)
    "unit-missing": Code(
        "a number of 1 or more without a unit, taken as µF",
        "220",
        "write the unit: 220 µF, 22 pF",
        blocks=True,
    ),
    "thousands-or-decimal": Code(
        "the point may mark thousands or decimals; no value taken",
        "1.000uF",
        "write 1000 µF or 1 µF",
        blocks=True,
    ),
    "count-or-thousands": Code(
        "the space may group thousands or part a count from a value; taken as one number",
        "2 200 µF",
        "write 2200 µF, or put the count into qty",
        blocks=True,
    ),
    "alternatives": Code(
        "several values or voltages are named; none taken",
        "47-100uF, 25/50 V, 10V or 16V?",
        "look at the part or the schematic and write the one that holds",
        blocks=True,
    ),
    "ocr-digit": Code(
        "a letter stands where a digit belongs, as scanners misread them; the digit taken",
        "l00uF, 47OuF, 2SV",
        "compare with the source and correct the number",
        blocks=True,
    ),
    "no-preferred-value": Code(
        "no E series and no old practice has this capacitance",
        "46 µF",
        "look for a typing error; the nearest made values are its neighbours in E24",
        blocks=True,
    ),
    "looks-measured": Code(
        "the number reads like a meter's display, not like a printed value",
        "178.3 nF",
        "write the value printed on the part or in the schematic",
        blocks=True,
    ),
    "three-digit-code": Code(
        "a three-digit code with two readings; pF taken, nothing for a last digit 8 or 9",
        "102: 1 nF, or 1000 µF in part numbers of electrolytics",
        "write the value with its unit",
        blocks=True,
    ),
    "milli-or-micro": Code(
        "m is milli by IEC 60062 and micro in old lists; no value taken",
        "100m",
        "write 100 µF or 0.1 F",
        blocks=True,
    ),
    "prefix-missing": Code(
        "farad without a readable prefix: a µ may have been lost; µF taken from 10 up, nothing below",
        "47F, 47?F, 0.1F",
        "write the prefix: 47 µF",
        blocks=True,
    ),
    "marked-uncertain": Code(
        "the list itself marks the reading as uncertain",
        "16V?, ~47uF",
        "check the part and take the mark away",
        blocks=True,
    ),
    "implausible-value": Code(
        "a capacitance that no part of a set has",
        "47000000 µF",
        "correct the number or its unit",
        blocks=True,
    ),
    "odd-voltage": Code(
        "no part is, or was, marked with this voltage",
        "61 V",
        "look for a typing error: 16 V, 63 V",
        blocks=True,
    ),
    "unknown-mark": Code(
        "recap decode met a mark that no table knows",
        "XQ9",
        "look for a misread letter; makers' own marks (series, logo, batch) mean nothing to it",
    ),
    "pair-or-sections": Code(
        "two equal numbers may be a value and a voltage, or two sections; value and voltage taken",
        "50/50",
        "write 50 µF 50 V, or 50+50 µF",
        blocks=True,
    ),
}
"""Cap lists: doubts about a position, lines passed over."""

BENCH: dict[str, Code] = {}
"""The bench folder: catalogues, terms, sets, drawer, extras, settings."""

ORDER: dict[str, Code] = {
    # what is on the job (match/groups.py)
    "set-without-list": Code("A set whose chassis has no cap list", "chassis K7 in sets.csv", "Import the list."),
    "set-unknown": Code("A set that isn't on the bench", "--sets A,Z", "Use a name from sets.csv."),
    "job-blank": Code("A set without a job, taken as full", "an empty job cell", "Write full, none, boards or refs."),
    "job-word-unmatched": Code("A job's word that names nothing", "PSU where no board is PSU", "Correct the word."),
    "value-missing": Code("A position without a capacitance", "C12, 50 V", "Write its value into the list.", blocks=True),
    "position-held": Code("A position kept back", "C12 with an unsettled doubt", "Settle the doubt in the cap list."),
    "profile-unknown": Code("A derating profile that doesn't exist", 'profile = "hme"', "Use a name from the hint."),
}
"""Working out the order."""

WORK: dict[str, Code] = {}
"""Goods in, checklist, page, record."""


def register() -> dict[str, Code]:
    """Return every code of every stage."""
    return FILES | LISTS | BENCH | ORDER | WORK
