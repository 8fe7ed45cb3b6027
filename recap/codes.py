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
    "file-exists": Code("A file is there already", "recap new into a bench that exists", "Name another folder."),
    "file-unwritable": Code("A file can't be written", "no permission, or a full disk", "Name another folder."),
    "file-is-folder": Code("A folder stands where a file should", "drawer.csv is a folder", "Name a file in it."),
    "file-unreadable": Code("The file can't be opened", "no permission to read", "Check its permissions."),
    "file-empty": Code("Nothing in it", "a file of 0 bytes or of blank lines", "Fill it, or delete it."),
    "file-wrong-type": Code("Not what its name says", "a PDF named .csv", "Export a table; name it as what it is."),
    "file-too-large": Code("More than is read", "a list of 60 MB", "Split it; large catalogues belong in CSV."),
    "file-has-nul": Code("NUL bytes in a text", "a program named .csv; UTF-16 without mark", "Save it as UTF-8."),
    "byte-unreadable": Code("A byte that is no letter", "0x81 in a CP1252 file", "Type the letter; save as UTF-8."),
    "text-turned": Code("Direction of writing turned", "U+202E before 74: 47 is shown", "Type what is meant anew."),
    "encoding-mixed": Code("UTF-8 and CP1252 in one file", "lists pasted together", "Save it again as UTF-8."),
    "encoding-cp1250": Code("Read as CP1250", "a price list in Polish or Czech", "Nothing; UTF-8 is safer."),
    "encoding-cp1251": Code("Read as CP1251", "a list in Russian", "Nothing; UTF-8 is safer."),
    "encoding-by-words": Code("Read in the page its words tell", "a list in Greek", "Nothing; UTF-8 is safer."),
    "encoding-cp1252": Code("Read as CP1252", "µ stored as one byte", "Nothing; UTF-8 is safer."),
    "line-too-long": Code("A line without end", "a line of 100 MB", "Break the line up, or name the right file."),
    "too-many-rows": Code("More rows than any list has", "a million rows", "Split it, or name the right file."),
    "too-many-columns": Code("More columns than any table has", "a cell in column XFD", "Delete what lies far out."),
    "too-many-cells": Code("More cells than are read", "a merged area of a sheet", "Delete what isn't the table."),
    "quote-unclosed": Code("A quotation mark never closed", "\"10 µF, 50 V at the row's end", "Close it or double it."),
    "cell-formula": Code("A formula where a value belongs", "=B2*1000", "Put the value in its place."),
    "cell-formula-empty": Code(
        "A formula without a result: the cell can't be read",
        "=B2*1000, never worked out",
        "Open the workbook in a spreadsheet and save it; nothing, where nobody needs the cell.",
    ),
    "cell-error": Code("An error where a value belongs", "#REF!", "Put the value in its place."),
    "cell-part-struck": Code("Partly struck through", "47 struck out, 100 behind it", "Leave only what counts."),
    "sheet-hidden": Code("A hidden sheet was read", "a price list hidden in a workbook", "Show it and look."),
    "cells-hidden": Code("Hidden rows or columns were read", "rows that a filter hides", "Show them and look."),
    "sheet-name": Code("A sheet's name is no name", "../../prices", "Rename the sheet; ask who sent it."),
    "workbook-broken": Code("A damaged workbook", "an .xlsx cut short by a download", "Save it again."),
    "workbook-bomb": Code("A workbook that unpacks without end", "1 MB that becomes 1 GB", "Don't trust the file."),
    "workbook-entities": Code("A workbook with a document type", "XML entities", "Don't trust the file."),
    # writing (commands with --out)
    "would-overwrite": Code(
        "A file of that name lies there", "order.xlsx of last week", "Name another, or add --force."
    ),
    "not-writable": Code(
        "The file can't be written", "a full disk, a folder without permission", "Make room, or name another."
    ),
}
"""Files and tables as such: missing, empty, broken, too large."""

LISTS: dict[str, Code] = {
    # readings of a value or a voltage (normalise/values.py)
    "unit-missing": Code(
        "a number of 1 or more without a unit, taken as µF",
        "220",
        "write the value with its unit",
        blocks=True,
    ),
    "point-lost": Code(
        "a zero leads a whole number: a decimal point may be lost; no value taken",
        "047uF: .047, 0.47 or 47 µF",
        "write 0.047 µF or 47 µF",
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
    "henry-or-tolerance": Code(
        "an H behind a letter code is a tolerance or henry; the capacitance taken",
        "4u7H: 4.7 µF ±3 %, or a coil of 4.7 µH",
        "write 4.7 µF, or delete the line of a coil",
        blocks=True,
    ),
    "leader-or-point": Code(
        "a few dots lead up to a number, and the last may be its decimal point; the number taken without it",
        "C12...47 µF: 47 or .47 µF",
        "put a space behind the dots",
        blocks=True,
    ),
    "milli-or-micro": Code(
        "m is milli by IEC 60062 and micro in old lists; no value taken, of mF beside µF micro",
        "100m; 2.2 mF in a list with 10 µF",
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
    # designators and counts
    "ref-twice": Code(
        "the same designator stands twice on one board, or again on a board to whose numbers it doesn't belong",
        "C12 10 µF ... C12 22 µF",
        "correct one of them, or name the boards they are on; delete a line that repeats another",
        blocks=True,
    ),
    "ref-twice-in-line": Code("a designator stands twice in one line", "C3, C7, C3", "take one away or correct it"),
    "ref-misread": Code(
        "a letter stands where a designator has a digit, or another one for its C; the likely one taken",
        "Cl2, C1O",
        "compare with the source and correct the designator",
    ),
    "line-continued": Code(
        "designators alone on a line, read as belonging to the value above",
        "10 µF 16 V: C3 / C7",
        "put them on one line",
    ),
    "ref-missing": Code(
        "a row of a list with designators has none", "| | 47 µF | 25 V |", "write the designator, or delete the row"
    ),
    "counted-twice": Code(
        "quantities that may say again what the designators say",
        "C1 10 µF, C2 10 µF ... Summary: 3x 10 µF",
        "delete the lines that only add up, or name their designators",
        blocks=True,
    ),
    "parts-repeated": Code(
        "a line says that further parts are the same as those listed; none were added for it",
        "Right channel: same as left",
        "list them with their designators, or give the quantities",
    ),
    "total-differs": Code(
        "the list says how many capacitors it holds, and holds another number",
        "the 23 caps of the kit, over 24 of them",
        "look for a line that is missing or was read wrongly, or correct the number",
    ),
    "ref-unread": Code("the cell for designators holds something else", "see photo", "write the designators"),
    "ref-other-part": Code(
        "the designator belongs to a part that is no capacitor, yet a capacitance stands beside it",
        "R12 47 µF",
        "correct the designator or delete the line",
        blocks=True,
    ),
    "range-shortened": Code(
        "the end of a range or list of designators is shortened; its missing digits were filled in",
        "C123-5: C123, C124, C125",
        "write the designators in full",
    ),
    "range-backwards": Code("a range runs backwards; only its two ends were taken", "C20-C10", "write it C10-C20"),
    "range-mixed": Code(
        "the ends of a range differ in number and letter, or its letters run backwards; only the two ends were taken",
        "C3A-C5B",
        "write the designators in full",
    ),
    "range-long": Code("a range takes in very many designators", "C1-C60", "check that all of them are meant"),
    "range-absurd": Code(
        "a range that no board holds; what lies between its ends wasn't taken",
        "C1-C99999",
        "correct the range",
        blocks=True,
    ),
    "count-mismatch": Code(
        "the count doesn't match the number of designators; the designators were taken",
        "3x C5, C7 47 µF",
        "correct the count or the designators",
        blocks=True,
    ),
    "counts-multiplied": Code(
        "every count is as many times its designators: a list for several boards; the designators were taken",
        "C1, C2 with 4 pieces, C3 with 2, C4-C6 with 6",
        "Nothing, or a set for each of the boards.",
    ),
    "size-reversed": Code(
        "wider than high, as cans of that width aren't: length and diameter perhaps in reverse; taken as written",
        "11x5 radial",
        "measure it, and write D5 H11",
    ),
    "count-or-ref": Code(
        "the number in front may be a count or a designator without its letter; taken as a count",
        "C101 220 µF ... 102 100 µF",
        "write C102 100 µF, or 102x 100 µF",
        blocks=True,
    ),
    "count-or-class": Code(
        "X2 is two pieces, a plug, or a class",
        "10 µF 16 V X2",
        "write 2x, or the class with its mains voltage",
        blocks=True,
    ),
    "count-conflict": Code("two counts on one line; the first taken", "2x 47 µF (3)", "write one count", blocks=True),
    "count-implausible": Code("a count no set has use for", "5000x 47 µF", "correct the count", blocks=True),
    # what a line states of a part
    "value-missing": Code("no capacitance stands on the line", "C12 25 V", "write the capacitance", blocks=True),
    "value-conflict": Code(
        "two capacitances stand on one line; none taken", "C12 47 µF 100 µF", "write the one that holds", blocks=True
    ),
    "volts-conflict": Code(
        "two voltages stand on one line; none taken", "C12 47 µF 16 V 25 V", "write the one that holds", blocks=True
    ),
    "volts-whose": Code(
        "a voltage behind several values may hold for all of them; taken for the last",
        "C12 47uF, C13 100uF 25V",
        "write it behind each value, or write: both 25 V",
        blocks=True,
    ),
    "volts-over": Code(
        "voltages that head columns; none was taken for the parts below them",
        "Value, 16V, 25V over C1 and C2",
        "write the voltage into the row of each part",
        blocks=True,
    ),
    "rail-voltage": Code(
        "a voltage that seems to be that of a supply, not of the part; no rating taken",
        "C12 10 µF +12V, C13 10 µF 5V rail",
        "write the part's own rating",
        blocks=True,
    ),
    "volts-unit-missing": Code(
        "a bare number behind a capacitance, taken as its voltage", "C12 47uF 25", "write the unit: 25 V", blocks=True
    ),
    "temp-unit-missing": Code(
        "a bare number behind value and voltage, taken as the temperature", "C12 47uF 25V 105", "write 105 °C"
    ),
    "temp-unusual": Code("no capacitor is rated for this temperature", "108 °C", "correct it: 85, 105, 125 °C"),
    "temp-conflict": Code("two temperatures on one line; none taken", "85 °C 105 °C", "write the one that holds"),
    "mount-conflict": Code(
        "two mountings on one line; none taken", "radial axial", "write the one that holds", blocks=True
    ),
    "kind-conflict": Code(
        "kinds that exclude each other; none taken", "electrolytic film", "write the one that holds", blocks=True
    ),
    "polarity-no": Code(
        "no polarity, taken for bipolar; it may only say that the part is no electrolytic",
        "Polarity: no; Type: N",
        "write bipolar, film or ceramic",
    ),
    "kind-unlikely": Code(
        "no electrolytic is made that small: perhaps n was read for µ", "Elko 47 nF", "check the unit", blocks=True
    ),
    "life-conflict": Code("two rated lives for one part, or one that can't be read", "2000h 5000h", "write one: 2000h"),
    "ripple-conflict": Code("two ripple currents on one line; none taken", "500 mA 1 A", "write the one that holds"),
    "size-conflict": Code("two sizes on one line; none taken", "10x16 12.5x20", "write the one that holds"),
    "size-unit-unclear": Code("so small a size may be in inches; none taken", "0.5x1", "write the unit: mm, inch"),
    "size-unclear": Code("lengths that don't say what they measure; none taken", "5 mm, 8x12x18", "write D8 H12 P3.5"),
    "unit-misread": Code(
        "a unit as text recognition misreads µF; µF taken", "47yF", "compare with the source", blocks=True
    ),
    "kilo-point": Code(
        "a k stands for the point of a number of µF; thousands of µF taken", "2k2 µF", "compare with the part: 2200 µF?"
    ),
    "word-misspelt": Code("a word that nearly says kind or mount; the nearest was taken", "axail", "correct the word"),
    "number-unread": Code("a bare number whose meaning isn't clear", "C12 47uF 25V 7", "write its unit, or delete it"),
    "cell-unread": Code(
        "a cell holds nothing that its column is for", "value: see text", "correct the cell", blocks=True
    ),
    "columns-disagree": Code(
        "two columns say different things of one part; the column headed for it taken",
        "Voltage 16 V, description 25V",
        "correct one of them",
        blocks=True,
    ),
    "can-sections": Code(
        "a can of several sections, one position for each",
        "50+50 µF 350 V: C1a, C1b",
        "settle whether single parts fit in its place, and that all share one minus",
    ),
    "date-in-cell": Code(
        "a date stands where a size or value belongs: the spreadsheet made one of it; nothing taken",
        "10-16 became 16 October",
        "type it again as text (10x16)",
        blocks=True,
    ),
    "ditto-unclear": Code("a ditto with nothing above that it could repeat", '"', "write what is meant", blocks=True),
    "struck-part": Code(
        "part of the line is struck through; the rest was read",
        "~~16 V~~ 25 V",
        "delete what doesn't hold",
        blocks=True,
    ),
    "original-unclear": Code(
        "the line names what the part was; that was taken as the part in the set",
        "C12 100 µF (was 47 µF)",
        "check which of the two the set holds",
        blocks=True,
    ),
    "remark-unclear": Code(
        "a remark may speak against what the line states, or hold for a part of it",
        "C12 10 µF axial, may be 22 µF; C3 (bipolar), C4",
        "write what holds for the part, and take the remark out",
        blocks=True,
    ),
    "corrected": Code(
        "a sentence beside the list corrects this position; the correction taken",
        "edit: C402 is 35 V, not 25",
        "compare with the part",
        blocks=True,
    ),
    "fitted-sometimes": Code(
        "a remark says that the part is not always fitted",
        "not fitted on early boards",
        "look at the board",
        blocks=True,
    ),
    "left-alone": Code(
        "the list says that this part stays, is in order or was replaced already",
        "C12 47 µF 25 V leave",
        "take it off the set's job in sets.csv (full -C12), or delete the line; a doubt only where a column says so",
        blocks=True,
    ),
    "variants-apart": Code(
        "a list has a column for each variant of a chassis; each variant's parts are read as a board of its own",
        "Location, Mono 90, Colour 91",
        "name the variant that a set is under boards in sets.csv",
    ),
    "ticks-passed-over": Code(
        "a column marks rows as done, bought or checked; they were read like the others",
        "Done: x",
        "delete the rows that are not on the job",
    ),
    "part-number-contradicts": Code(
        "a part number looks like another value or voltage than the line states",
        "47 µF 16 V, ...1V470",
        "check which is right; part numbers are not decoded into values",
        blocks=True,
    ),
    # lines and headers
    "heading-read": Code("a heading and what it sets for the lines below it", "POWER BOARD", "nothing, if it is right"),
    "heading-unclear": Code(
        "a line that looks like a heading but isn't understood; it says whether the board named above it ends there",
        "From the upper left of the case downwards:",
        "write the board's name alone on the line, in a few words",
    ),
    "looks-like-prices": Code(
        "a price list was given where a list of a set's capacitors is read",
        "part number, value, volts, price",
        "put it into the bench's folder of catalogues instead: `recap catalog BENCH` shows what is read of it",
    ),
    "heading-times": Code(
        "a heading says that there are several of its board; each part below it was counted once",
        "Main amp (x2)",
        "add the parts of the other ones too, or their count in column qty",
    ),
    "rule-read": Code(
        "a sentence that says what all parts of one value are; laid on those that don't say otherwise",
        "all 10 µF are bipolar",
        "nothing, if it is right",
    ),
    "legend-read": Code(
        "a line that explains the list's own marks; they are understood in its lines",
        "(a) = axial",
        "nothing, if it is right",
    ),
    "title-read": Code("a line that names the list", "Capacitor list", "nothing"),
    "header-read": Code("a table's columns and what they were taken for", "Ref | Value | V", "nothing, if it is right"),
    "units-read": Code("a row of units below the header", "| µF | V |", "nothing, if it is right"),
    "footnote-read": Code(
        "a footnote, laid on the positions that bear its mark", "* bipolar", "nothing, if it is right"
    ),
    "other-part": Code("a line about a part that is no capacitor", "R12 4k7", "nothing"),
    "not-fitted": Code("the place stays empty: no position", "C14 EMPTY", "nothing, if it is right"),
    "line-passed-over": Code("a line without any part", "Prices as of May", "nothing, if it is right"),
    "prose-names-part": Code(
        "a sentence names a part or a value and was not taken for a position",
        "I changed C12 first",
        "if a position is meant, put it on a line of its own",
    ),
    "line-long": Code("a line too long for a record", "a whole page without line ends", "one position to a line"),
    "line-spoilt": Code(
        "a line that looks like a part: run together, misread, or only a part number; it was not read",
        "C13100uF 25V, 2x XYZ-FR1V102",
        "write it as: C13 100 µF 25 V",
    ),
    "line-unread": Code("a line of which nothing was made", "[C12] see p. 4", "write it as: C12 47 µF 25 V"),
    "header-unknown": Code(
        "a header that is not understood; in a list its cells were read as remarks, in other tables not at all",
        "Wrt",
        "rename it if it matters",
    ),
    "cell-long": Code("a cell too long to be read; it was passed over", "a page of text in one cell", "shorten it"),
    "list-too-long": Code("no capacitor list has so many lines", "a million lines", "name the right file, or split it"),
    "list-exists": Code("the chassis has a stored list already", "caplists/x.csv", "--force, which keeps the old one"),
    "list-empty": Code("no capacitor was found in the list", "a list of valves", "check that it is the right file"),
}
"""Cap lists: doubts about a position, lines passed over."""

BENCH: dict[str, Code] = {
    "description-read": Code(
        "A price list's description says what has no column of its own: kind, way of mounting, safety class.",
        "Description: Radial non-polar electrolytic 10uF 50V",
        "Nothing, if it is right; columns of those names count before it.",
    ),
    "header-by-cells": Code(
        "A column taken for what its cells are by their units",
        "25 V and 63 V under a header in another language",
        "Nothing, if it is right; else head it with the right name.",
    ),
    "header-blank": Code("A column without a header", "prices in column G, G1 empty", "Head it, or delete it."),
    "heading-carried": Code(
        "A line over rows says something of them",
        "Bipolar, 85 °C, alone in its row",
        "Nothing, if it is right; a cell of a row's own counts before it.",
    ),
    "heading-both": Code(
        "A line over rows that names polar and bipolar parts",
        "Electrolytics and bipolars",
        "Give the rows a column for the kind, or each sort a heading of its own.",
    ),
    "heading-idle": Code("A line over rows that says nothing", "Autumn offers", "Nothing, or give a column."),
    "row-passed-over": Code("A row of a price list that is no offer", "Total items: 5; page 2", "Nothing."),
    "part-made": Code(
        "Part numbers made of what the rows say",
        "a surplus list without numbers",
        "Nothing; with the supplier's own numbers they stay the same when the list changes.",
    ),
    "pack-unclear": Code(
        "A price that may be for one piece or for a pack",
        "Elko 47 µF, pack of 10: 0.95",
        "Give a column pack size and head the price: Price per pack, or Price each.",
    ),
    "pack-price": Code(
        "A price beside the size of a pack, taken for that of one piece",
        "Pack: 10, Price: 4.20",
        "Head it Price per pack if it is the pack's, Price each if it is a piece's.",
    ),
    "pack-size": Code("Sold only by so many", "Pack: reel of 500", "Blank the cell if single pieces are sold."),
    "price-per": Code("Prices of several pieces, divided", "Preis je 100", "Nothing, if it is right."),
    "price-per-title": Code(
        "A title by which all prices are those of several pieces; they were divided",
        "Alle Preise per 100 Stück",
        "Head the price column so, if it is right: Price per 100.",
    ),
    "price-discount": Code(
        "Prices worked out of a discount, exactly",
        "Rabatt ab 10: 3 %",
        "Nothing, if it is right; where the shop rounds to whole cents, give a column 10+ with its prices.",
    ),
    "grid-read": Code(
        "A grid of prices, made a list",
        "µF down the side, 16 V, 25 V, 50 V along the top",
        "Look at the one offer that is named, and order by value and voltage: a grid has no part numbers.",
    ),
    "grid-unclear": Code(
        "A grid that doesn't say what its numbers are",
        "µF, 16, 25, 50 over numbers",
        "Write the units (16 V), and a line above it: Prices in EUR per piece.",
    ),
    "part-ended": Code(
        "A part that may no longer be sold, and of which no stock is stated",
        "Lifecycle: Obsolete",
        "Ask the supplier; or write 0 as its stock.",
    ),
    "part-used": Code("A part that was in use before", "100 µF 25 V, ausgelötet", "Delete the row for new parts only."),
    "part-spoilt": Code(
        "A part number as spreadsheets spoil them",
        "1.00E+05, Mar-01, 20 digits that end in zeros, a leading zero lost",
        "Type it again as the supplier writes it, in a cell formatted as text.",
    ),
    "size-inches": Code(
        "Sizes so small that they may be in inches; not taken",
        "Diameter 0.5, 0.625",
        "Head the columns with the unit: Diameter (mm), Diameter (inch).",
    ),
    "unit-old": Code(
        "mF taken for µF, as old lists write it", "mF over 8, 16, 50", "Write millifarads in µF: 1000 µF for each."
    ),
    "price-per-unclear": Code(
        "A line that says of how many pieces the prices are", "All prices per 100", "Put it into the price's header."
    ),
    "price-passed-over": Code(
        "A price column that wasn't read, beside one that was",
        "List price, old price, price with tax",
        "Nothing, or delete the other.",
    ),
    "price-breaks-unclear": Code(
        "Price columns numbered 1, 2, 3", "Price 1, Price 2, Price 3", "Head them by quantity."
    ),
    "price-step-missing": Code(
        "No price from some quantity on", "1: 0.42, 10: 0.31, 100: on request", "Nothing; or type the price."
    ),
    "terms-in-list": Code(
        "A line that speaks of the supplier's terms", "Minimum order 10 EUR", "Write it in suppliers.csv."
    ),
    "price-doubted": Code("A price to look at", "~1.40, or 0.60/10", "Write the price of one piece alone."),
    "price-changed": Code(
        "A line that lays a percentage on all prices, or takes one off",
        "Alle Preise abzüglich 15 %, plus 5 % metal surcharge",
        "Write the prices that are paid into the column, and delete the line.",
    ),
    "price-tax": Code(
        "Prices with or without tax, against suppliers.csv",
        "Prix TTC where suppliers.csv adds 20 %",
        "Leave tax blank there if it is in the prices; else write the percent, or 0 where you pay none.",
    ),
    "stock-unclear": Code("A stock in words", "on order", "Write 0 where it can't be had in time."),
    "settings-missing": Code("No bench.toml", "a folder without one", "Nothing, or write one: recap new DIR."),
    "settings-broken": Code("bench.toml is no TOML", "currency = EUR", "Put text in quotation marks."),
    "settings-unknown": Code("A setting that doesn't exist", "max_supliers = 2", "Use the name in the hint."),
    "settings-type": Code("A setting of the wrong type", 'max_suppliers = "two"', "Write what is asked for."),
    "settings-range": Code("A setting out of its bounds", "derating = 80", "Write a number within the bounds."),
    "bench-no-folder": Code("The bench is no folder", "recap order sets.csv", "Name the folder."),
    "file-twice": Code("Two files for one thing", "drawer.csv and drawer.xlsx", "Delete or rename one."),
    "file-passed-over": Code(
        "A file that is no table, or a price list of a supplier nobody named",
        "caplists/photo.jpg",
        "Nothing; or export it as CSV, or give its supplier a row in suppliers.csv.",
    ),
    "table-passed-over": Code("A table in a form that isn't read", "sets.ods", "Save it as .xlsx or .csv."),
    "sheet-passed-over": Code("A sheet without headers", "a sheet of notes in a price list", "Name its columns."),
    "header-missing": Code("A needed column isn't there", "a catalogue without part numbers", "Name the column."),
    "header-near": Code("A header near a known one", "Voltge", "Rename it; nothing is guessed."),
    "header-twice": Code("Two columns for one thing", "Voltage and WV", "Delete or rename one."),
    "header-passed-over": Code("A column nobody needs", "Datasheet", "Nothing."),
    "row-too-wide": Code("More cells than headers", "C1,4,7,50", "Quote cells that hold a comma."),
    "row-struck": Code("A row struck through", "a part no longer sold", "Nothing, or undo the strike."),
    "cell-is-date": Code("A date where none belongs", "10-16 turned into October", "Format the cell as text."),
    "field-unclear": Code("A quantity that isn't understood", "volts: high", "Write it as the hint shows."),
    "count-wrong": Code("No whole number", "stock: a boxful", "Write a number, or leave it blank."),
    "part-missing": Code("A row without part number", "a subtotal in a price list", "Type it or delete the row."),
    "part-twice": Code("One part number in two rows", "HRN-47-25 twice", "Delete one, or correct it."),
    "price-missing": Code("A row without a price", "price on request", "Type it or delete the row."),
    "price-unreadable": Code("No price, or two readings", "1:1,250", "Write 1:1.25 with a decimal point."),
    "price-negative": Code("A price below zero", "1:-0.42", "Correct it."),
    "price-zero": Code("A price of zero", "1:0.00", "Type the price or delete the row."),
    "price-not-paid": Code(
        "Only a list price or an old one was found, and read",
        "UVP beside a price whose header isn't understood",
        "Head the column of what is paid: price.",
    ),
    "rows-left-out": Code(
        "How many rows of a price list were left out because they can't be read",
        "6 of 25 rows",
        "Correct them: an order may come out dearer than it need.",
    ),
    "price-level": Code(
        "A supplier many times dearer or cheaper than all others",
        "96.00 where others ask 0.09: a spreadsheet took the point for one of thousands",
        "Look at its price list, its pack sizes and its rate.",
    ),
    "price-order": Code("Quantities don't rise", "100:0.19 10:0.31", "List each once, rising."),
    "price-rises": Code("More pieces cost more each", "1:0.30 10:0.42", "Check it with the supplier."),
    "minimum-below-prices": Code("Minimum below the first price", "minimum 1, prices from 10", "Correct one."),
    "supplier-missing": Code("Terms without a supplier", "a blank cell in suppliers.csv", "Type the name."),
    "supplier-twice": Code("One supplier in two rows", "two rows of terms", "Delete one."),
    "supplier-reserved": Code("A supplier called drawer", "catalogs/drawer.csv", "Rename it."),
    "currency-wrong": Code("No currency code", "currency: euros", "Write EUR, USD, GBP."),
    "currency-unclear": Code(
        "Prices in two currencies, neither the supplier's",
        "Price EUR and Price USD of a supplier in GBP",
        "Set the currency in suppliers.csv, or delete the columns that don't count.",
    ),
    "currency-differs": Code("Prices in another currency", "$ in a catalogue in EUR", "Correct one of the two."),
    "rate-missing": Code("A currency without a rate", "USD on a bench in EUR", "Write what one costs."),
    "rate-wrong": Code("A rate that can't be", "0, or 0.9 for the bench's own currency", "Correct it."),
    "shipping-order": Code("Shipping tiers out of order", "50:3.50 0:5.90", "Begin at 0, rising."),
    "amount-wrong": Code("No amount of money", "handling: some", "Write 1.50."),
    "amount-negative": Code("An amount below zero", "handling: -1", "Write 0 or more."),
    "percent-wrong": Code("No percentage", "tax: high", "Write 19."),
    "percent-small": Code("Less than one percent", "tax: 0.19", "Write 19 if that is meant."),
    "terms-missing": Code("A catalogue without terms", "no row in suppliers.csv", "Add a row."),
    "list-changed": Code("A price list changed while one was merged", "two merges at once", "Run it again."),
    "merge-not-the-same": Code("A merged list doesn't read back", "never, if all is well", "Merge by hand; report it."),
    "catalogue-missing": Code("Terms without a catalogue", "a shop no longer used", "Nothing."),
    "set-missing": Code("A row without a set", "a blank first cell", "Type its name."),
    "set-twice": Code("Two sets of one name", "S1 twice", "Give each its own."),
    "chassis-unknown": Code("A chassis without a cap list", "K8 where only K7 is there", "Import its list."),
    "board-unknown": Code("A board the cap list hasn't", "boards: PSO", "Use a name from the list."),
    "drawer-unnamed": Code("A drawer part without number", "a bag without label", "Type what is printed on it."),
    "extra-without-part": Code("An extra without part number", "mains switch", "Write a supplier's number."),
    "extra-set-unknown": Code("An extra for a set not there", "set: S9", "Use a name from sets.csv."),
}
"""The bench folder: catalogues, terms, sets, drawer, extras, settings."""

ORDER: dict[str, Code] = {
    # what is on the job (match/groups.py)
    "set-without-list": Code("A set whose chassis has no cap list", "chassis K7 in sets.csv", "Import the list."),
    "set-unknown": Code("A set that isn't on the bench", "--sets A,Z", "Use a name from sets.csv, as written there."),
    "job-blank": Code("A set without a job, taken as full", "an empty job cell", "Write full, none, boards or refs."),
    "job-word-unmatched": Code("A job's word that names nothing", "PSU where no board is PSU", "Correct the word."),
    "position-unknown": Code("A place that isn't on the bench", "S1:C999", "Use a set or chassis and its ref: S1:C12."),
    "profile-unknown": Code("A derating profile that doesn't exist", 'profile = "hme"', "Use a name from the hint."),
}
"""Working out the order."""

WORK: dict[str, Code] = {
    "record-unusable": Code(
        "record.db can't be used",
        "The file is damaged, is no record, or was written by a newer version.",
        "Nothing was changed. Put a backup in its place, use the newer version, or move the file away to begin anew.",
    ),
    "cannot-listen": Code(
        "the bench page can't be served there",
        "Another program uses the port, or the machine is on no network.",
        "Name another --port, or with --lan this machine's --address.",
    ),
    "in-already": Code(
        "positions on the job have their new part in, by the record",
        "12 positions on the job are in by the record: nothing is bought for them",
        "take them off the job in sets.csv, or let recap order --again buy for them too",
    ),
    "order-open": Code(
        "an order that is kept already covers positions on the job",
        "The order of last week is on its way, and its sets still have a job in sets.csv.",
        "This order buys for them again. Take what is ordered off the job, or close that order: "
        "`recap receive BENCH --order ID --close`.",
    ),
    "order-counted": Code(
        "a kept order has bought for positions: an estimate reckons their hours and no money",
        "The parcel is on its way, or lies on the bench.",
        "Nothing; an order that won't come is closed: `recap receive BENCH --order ID --close`.",
    ),
    "order-twice": Code(
        "the very order is kept already, and something of it is still owed",
        "recap order BENCH --keep, typed twice",
        "Nothing, if it was ordered once. If the kept one won't come: `recap receive BENCH --order ID --close`.",
    ),
    "order-unknown": Code(
        "no such order is kept",
        "`recap receive bench --order 2025-01-31-9`, but the record holds no order of that number.",
        "Keep orders with `recap order BENCH --keep`; `recap receive BENCH` lists what is owed.",
    ),
    "line-unknown": Code(
        "the order has no such line",
        "`--line HRN-47=10`, but HRN-47 is not on the order.",
        "Check the part number; for another part than ordered add `--instead OLD=NEW`.",
    ),
    "more-than-ordered": Code(
        "more came than was owed",
        "12 pieces are booked for a line that still owes 10.",
        "The surplus went to the drawer. If the count is wrong, take it out with `recap drawer --move PART=-2`.",
    ),
    "substitute-care": Code(
        "a substitute fits only with care",
        "The supplier sent a part with wider lead spacing.",
        "Read the reasons; it is booked. Look at each place before fitting.",
    ),
    "substitute-refused": Code(
        "a substitute doesn't fit",
        "The supplier sent 16 V parts for 25 V places.",
        "Nothing was booked. Send it back, or put it in the drawer with `recap drawer --move PART=QTY`.",
    ),
    "substitute-unknown": Code(
        "nothing is known about a substitute",
        "The part is in no catalogue and not in the drawer.",
        'Say what it is: `--spec "NEW=47uF 25V 105C radial 5x11 p2"`.',
    ),
    "drawer-edited": Code(
        "drawer.csv was edited after the tool had booked movements of the same part",
        "The file said 10 pieces, 3 were fitted from the drawer, and now it says 7.",
        "Until you say which, the smaller number counts. `recap drawer BENCH --counted` if the file is what lies there "
        "now, `--corrected` if the bookkeeping goes on on top of it.",
    ),
    "place-unknown": Code(
        "no such board or position in this set",
        "`recap note bench S1 --ref C99`, but the list has no C99.",
        "Check the designator and, where several boards have it, name the --board.",
    ),
    "export-unreadable": Code(
        "what is to be imported is no export of a record",
        "A file that isn't JSON, or a folder without events.csv.",
        "Name what `recap record export` wrote. Nothing was imported.",
    ),
    "record-conflict": Code(
        "the record and what is imported tell different things under one id",
        "An event was changed in the exported file by hand.",
        "Nothing was imported. Entries are only ever added: restore the export, or begin a new record.",
    ),
}
"""Goods in, checklist, page, record."""

USAGE: dict[str, Code] = {
    "wrong-usage": Code("Options that don't go together", "--cert without --key", "Do as the message says."),
    "unknown-code": Code("No code of that name", "recap explain unit-mising", "recap explain lists them all."),
    "unknown-topic": Code("No topic of that name", "recap guide prices", "recap guide lists them all."),
}
"""What was typed on the command line."""


def register() -> dict[str, Code]:
    """Return every code of every stage."""
    return FILES | LISTS | BENCH | ORDER | WORK | USAGE
