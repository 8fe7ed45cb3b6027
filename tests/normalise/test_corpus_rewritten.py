"""The lists of the corpus written another way say the same: other units, joints, capitals, scanners' letters.

Every tenth list is rewritten for each manner, another tenth for each, so that the test stays short.
"""

from __future__ import annotations

import re
import shutil
from typing import TYPE_CHECKING

import pytest

from tests.corpus.score import HERE, judge, lists

if TYPE_CHECKING:
    from pathlib import Path

SHARE = 10
_FARADS = r"(?<=\d)(\s?)[uµμ]F\b"
_BETWEEN = r"(?<=[uµ]F) (?=\d+\s?V\b)"
MANNERS = {
    "mfd": (_FARADS, r"\1mfd"),
    "capital mu": (_FARADS, "\\1\u039cF"),
    "no F": (r"(?<=\d)(\s?)([uµμ])F\b", r"\1\2"),
    "a blank in the unit": (r"(?<=\d)([uµμ])F\b", r" \1F"),
    "VDC": (r"(?<=\d)(\s?)V\b(?![~=])", r"\1VDC"),
    "at": (_BETWEEN, " @ "),
    "a stroke": (_BETWEEN, "/"),
    "an x": (_BETWEEN, " x "),
    "a hyphen": (_BETWEEN, "-"),
    "no blank": (_BETWEEN, ""),
    "brackets": (r"(?<=[uµ]F) (\d+\s?V)\b", r" (\1)"),
    "a colon": (r"(?m)^(C\d+) (?=\d)", r"\1: "),
    "O for nought": (r"(?<=[1-9])0(?=\s?[uµμ]F\b)", "O"),
    "S for five": (r"(?<![\w.,/-])(\d?)5(?=0?\s?V\b)", r"\1S"),
    "l for one": (r"(?<![\w.,/-])1(?=[0-9]{0,3}\s?[uµμ]F\b)", "l"),
}


@pytest.mark.parametrize(("at", "manner"), list(enumerate(MANNERS)), ids=MANNERS)
def test_a_list_written_another_way_is_never_misread_in_silence(at: int, manner: str, tmp_path: Path) -> None:
    pattern, by = MANNERS[manner]
    tried = 0
    silent: list[str] = []
    for path in [path for path in lists() if path.suffix != ".xlsx"][at % SHARE :: SHARE]:
        try:
            text = path.read_bytes().decode("utf-8")
        except UnicodeDecodeError:
            continue
        rewritten = re.sub(pattern, by, text)
        if rewritten == text:
            continue
        (tmp_path / path.name).write_bytes(rewritten.encode("utf-8"))
        shutil.copy(HERE / f"{path.stem}.truth.json", tmp_path)
        silent += judge(tmp_path / path.name).silent
        tried += 1
    assert silent == []
    assert tried
