"""A signal at the n-th moment of a command's writing: Ctrl-C or the end of the power just there, found without luck.

Moments lie before and after whatever changes what is on the disk: files made, named, moved, removed, brought to the
disk, and statements of SQLite that write.
"""

from __future__ import annotations

import os
import sqlite3
import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import signal
    from collections.abc import Callable
    from pathlib import Path

CHANGING = {"os.rename", "os.link", "os.remove", "os.mkdir", "os.rmdir", "os.chmod"}
"""Audit events (docs.python.org/3/library/audit_events.html) of what changes a folder, each told before it happens."""
WRITING_SQL = ("BEGIN", "INSERT", "CREATE", "COMMIT", "ROLLBACK", "PRAGMA JOURNAL")


@dataclass
class Moments:
    """Counts moments in the process that it is set up in, and sends this process the signal at the n-th."""

    home: Path
    number: signal.Signals
    nth: int
    seen: int = 0

    def set_up(self) -> None:
        """Begin to count; there is no way back, as the process is to end with its command."""
        sys.addaudithook(self._hear)
        os.fsync = self._around(os.fsync)
        connect, outer = sqlite3.connect, self

        class Counted(sqlite3.Connection):
            def execute(self, sql: str, *values: Any) -> sqlite3.Cursor:
                writes = sql.lstrip().upper().startswith(WRITING_SQL)
                return (outer._around(super().execute) if writes else super().execute)(sql, *values)

            def backup(self, *to: Any, **how: Any) -> None:
                outer._around(super().backup)(*to, **how)

        def connected(*place: Any, **how: Any) -> sqlite3.Connection:
            return connect(*place, **{"factory": Counted, **how})

        sqlite3.connect = connected  # type: ignore[assignment]

    def _around(self, does: Callable[..., Any]) -> Callable[..., Any]:
        def done(*words: Any, **how: Any) -> Any:
            self._count()
            answer = does(*words, **how)
            self._count()
            return answer

        return done

    def _hear(self, event: str, words: tuple[Any, ...]) -> None:
        if event in CHANGING or (event == "open" and _writes(*words)):
            names = [os.fsdecode(word) for word in words if isinstance(word, str | bytes | os.PathLike)]
            if any(name.startswith(str(self.home)) for name in names):
                self._count()

    def _count(self) -> None:
        self.seen += 1
        if self.seen == self.nth:
            os.kill(os.getpid(), self.number)


def _writes(_path: object, mode: str | None, flags: int) -> bool:
    return bool(flags & (os.O_WRONLY | os.O_RDWR)) or (mode is not None and any(c in mode for c in "wax+"))
