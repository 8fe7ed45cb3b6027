"""Chip sizes that look like designators, among designators: ``C0805`` beside ``C12`` is no place of its own."""

from __future__ import annotations

from dataclasses import replace

from recap.normalise.designator_names import is_chip_size
from recap.normalise.tokens import Sort, Token


def _without_sizes(token: Token) -> Token:
    """Take ``C0805`` out of a group in which no other designator has such a number."""
    refs = token.what.refs
    left = tuple(ref for ref in refs if not (is_chip_size(ref) and ref[1] == "0"))
    if len(left) == len(refs) or not left or any(len(ref) > 4 for ref in left):  # noqa: PLR2004 - C, and four digits
        return token
    return token._replace(what=replace(token.what, refs=left))


def without_packages(tokens: list[Token]) -> list[Token]:
    """Take a lone ``C0805`` for a package where another designator stands on the line that isn't of that sort."""
    tokens = [_without_sizes(token) if token.sort is Sort.REFS else token for token in tokens]
    groups = [token for token in tokens if token.sort is Sort.REFS]
    sized = [token for token in groups if is_chip_size(token.text)]
    if not sized or len(sized) == len(groups):
        return tokens
    if any(len(ref) > 4 for token in groups if token not in sized for ref in token.what.refs):  # noqa: PLR2004
        sized = [token for token in sized if token.text[1] == "0"]
    return [token._replace(sort=Sort.CODE, what=None) if token in sized else token for token in tokens]
