"""The door on the local network: a one-time code lets a phone in, a cookie keeps it in."""

from __future__ import annotations

import hashlib
import hmac
import secrets
import threading
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

ALPHABET = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"
"""No 0, O, 1, I: the code may be typed by hand."""
CODE_LENGTH = 10
"""32**10 codes, and :data:`WRONG_CODES` tries for each: guessing is hopeless."""
WRONG_CODES = 10
MOST_SESSIONS = 50


class Gate:
    """Knows the code of the moment and who has come in with an earlier one. Safe between threads."""

    def __init__(self, announce: Callable[[str], None]) -> None:
        """Make the first code and ``announce`` it; every code that is used up is followed by another."""
        self._announce = announce
        self._lock = threading.Lock()
        self._sessions: list[str] = []
        self._wrong = 0
        self._code = ""
        self._renew()

    def exchange(self, code: str) -> str | None:
        """Return a session token for the right code, which is then used up; None for a wrong one."""
        tidy = "".join(letter for letter in code.upper() if letter.isalnum())
        with self._lock:
            if not hmac.compare_digest(tidy.encode(), self._code.encode()):
                self._wrong += 1
                if self._wrong >= WRONG_CODES:
                    self._renew()
                return None
            token = secrets.token_urlsafe(32)
            self._sessions = [*self._sessions, _digest(token)][-MOST_SESSIONS:]
            self._renew()
            return token

    def knows(self, token: str | None) -> bool:
        """Tell whether this token was handed out."""
        if not token:
            return False
        offered = _digest(token)
        with self._lock:
            return any(hmac.compare_digest(offered, known) for known in self._sessions)

    def _renew(self) -> None:
        self._wrong = 0
        self._code = "".join(secrets.choice(ALPHABET) for _ in range(CODE_LENGTH))
        self._announce(self._code)


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
