"""A pattern that is compiled on first use serves as one that was compiled at once."""

from __future__ import annotations

import re

from recap.normalise.later import compiled


def test_it_serves_as_a_compiled_one() -> None:
    writing = r"(?P<number>\d+)\s?(?P<unit>µF)"
    later, once = compiled(writing, re.IGNORECASE), re.compile(writing, re.IGNORECASE)
    text = "47 µf and 10µF"
    assert [m.groupdict() for m in later.finditer(text)] == [m.groupdict() for m in once.finditer(text)]
    for name in ("match", "search", "fullmatch"):
        for at in (0, 5):
            mine, plain = getattr(later, name)(text, at), getattr(once, name)(text, at)
            assert (mine and mine.span()) == (plain and plain.span())
    assert later.sub("_", text) == once.sub("_", text)
    assert (later.pattern, later.flags, dict(later.groupindex)) == (once.pattern, once.flags, dict(once.groupindex))
