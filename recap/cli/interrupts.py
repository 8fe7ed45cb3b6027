"""What Ctrl-C does: before a command began it ends the program at once, after that the command tidies up first.

While the command line is taken apart, Python's exception for Ctrl-C may come in the midst of a library that drops it
and prints where it was; nothing was written then, so nothing is to be tidied up. Where Ctrl-C is ignored, it stays so.
"""

from __future__ import annotations

import signal
import threading


def end_at_once() -> None:
    """Let Ctrl-C end the program where it is."""
    _change(signal.default_int_handler, signal.SIG_DFL)


def tidy_up() -> None:
    """Let Ctrl-C raise KeyboardInterrupt again, if :func:`end_at_once` took that away."""
    _change(signal.SIG_DFL, signal.default_int_handler)


def _change(before: object, after: signal._HANDLER) -> None:
    if threading.current_thread() is threading.main_thread() and signal.getsignal(signal.SIGINT) == before:
        signal.signal(signal.SIGINT, after)
