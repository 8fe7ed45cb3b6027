"""The lexer leaves out readers that can't find anything: it must never leave out one that would."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.normalise import tokens
from recap.normalise.clean import clean, squeeze
from recap.normalise.token_sorts import Scan

CORPUS = Path(__file__).parents[1] / "corpus"
LISTS = sorted(path for path in CORPUS.rglob("*") if path.suffix in {".txt", ".md", ".csv", ".tsv"})
CUES = """
was 10uF now 22uF -> 47uF => 100uF replace with 4.7uF used upgraded subst. sub with ersetzt durch remplacé
par sostituito con sustituido por vervangen door cambiado por changé en getauscht gegen refitted 10 put in
10 eingebaut 10 new: 10 neu: 10 or better equiv.: 10 i used fits <- 10 statt instead of vorher previously
formerly old: factory d'origine wie C3 like C3 siehe C3 = C3 measured 9 reads 9 tested 9 gemessen 9 ditto
do. idem -"- "  '' same as above s.o. id. http://a.example/b www.a.example a.b@c.example 1-234-567-11
CP_Radial_D8.0mm_P3.50mm 12. May 1999 2.3.1999 dec 1980 105°C +85C -40..105C T105 2x 3 x 5mm Ø8 H12 RM5
450/450/25V 50+50 100/16 4n7 R47 104K lOOuF VDC25 rated 16V ±20% +80-20% 85 mA x3 (2) 4 pcs qty 5 2000h
€0.50 $1 date code 7412 #ff0000 47k 4k7 Tropfentantal (empty) X2 Y1 Keramik-Kond. MKS2 ABC123-X
"""
"""Every sort of token at least once."""


def _left_out(line: str) -> list[str]:
    """Return what readers would find that the lexer doesn't ask there."""
    text = squeeze(clean(line).text)
    digits_end, readers, readers_behind = tokens._able(text)
    found = []
    for at, letter in enumerate(text):
        if letter.isspace():
            continue
        kind = "digit" if letter.isdigit() or letter in ",." else "letter" if letter.isalpha() else "sign"
        asked = tokens._asked(text, at, readers if at < digits_end else readers_behind)
        for seen in (False, True):
            scan = Scan(text, refs_seen=seen, at_start=at == 0, last_end=at)
            for reader in tokens._READERS:
                left_out = kind in reader.starts and reader.read not in asked
                if left_out and reader.read(scan, at) is not None:
                    found.append(f"{text[at : at + 30]!r} {reader}")
    return found


@pytest.mark.parametrize("path", LISTS, ids=lambda path: path.stem)
def test_no_reader_that_would_find_something_is_left_out(path: Path) -> None:
    lines = path.read_text("utf-8", errors="replace").splitlines()
    assert [found for line in lines[:25] for found in _left_out(line[:300])] == []


@given(st.lists(st.sampled_from(CUES.split()), min_size=1, max_size=8).map(" ".join), st.data())
@settings(max_examples=150, deadline=None)
def test_nor_in_any_mixture_of_cues_and_slips(text: str, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(text)))
    slip = data.draw(st.sampled_from(["", *" .,-10µCVxO|(/ß½٣"]))
    assert _left_out(text[:at] + slip + text[at:]) == []
