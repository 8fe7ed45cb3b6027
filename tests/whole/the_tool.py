"""The tool as its user meets it: a command line in, one JSON document and an exit status out."""

from __future__ import annotations

import json
import time
from dataclasses import dataclass
from typing import Any

from typer.testing import CliRunner

from recap.cli import app

QUIET = {"COLUMNS": "200", "NO_COLOR": "1"}


@dataclass(frozen=True)
class Answer:
    """What one run gave back."""

    status: int
    doc: Any
    said: str
    seconds: float


def run(*words: str) -> Answer:
    """One command; what it prints to standard output must be one JSON document or nothing."""
    start = time.perf_counter()
    result = CliRunner().invoke(app, list(words), env=QUIET)
    seconds = time.perf_counter() - start
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    doc = json.loads(result.stdout) if result.stdout.strip() else None
    return Answer(result.exit_code, doc, result.stderr, seconds)
