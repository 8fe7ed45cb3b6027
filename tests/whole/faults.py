"""The tool run as the real world runs it: killed at a random moment, on a full disk, in a folder that can't be written.

Every command is a process of its own, forked from this one so that nothing has to be imported again; its
output goes into files. A disk of a few megabytes (tmpfs) is mounted where this may be done; elsewhere a
limit on the size of files and permissions stand in.
"""

from __future__ import annotations

import faulthandler
import gc
import importlib
import os
import pkgutil
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import traceback
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.whole.moments import Moments

DISK_BYTES = 24_000_000
INTERRUPTED = 130
"""What a shell tells of a command that Ctrl-C ended, whether it tidied up first or not."""
LONGEST = 120.0
"""Processor seconds after which a command counts as hung: others may need the machine too."""
STANDING = 1800.0
"""Seconds by the clock after which it counts as hung in any case: it may wait for something that never comes."""


def preload() -> None:
    """Import once what the commands import, give one of them, and read a list: that makes ready what is made late."""
    import matplotlib.backends.backend_svg
    import matplotlib.figure  # noqa: F401
    import openpyxl  # noqa: F401
    import pandas as pd  # noqa: F401
    import reportlab.platypus  # noqa: F401
    import scipy.stats  # noqa: F401
    from typer.testing import CliRunner

    import recap

    for module in pkgutil.walk_packages(recap.__path__, "recap."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    from recap.normalise.caplist import read_cap_list

    with tempfile.TemporaryDirectory() as folder:
        for ending, text in ((".csv", "ref,value,volts\nC1,47uF,25\n"), (".txt", "PSU\nC1, C2 4u7 50V bipolar\n")):
            path = Path(folder) / f"list{ending}"
            path.write_text(text, encoding="utf-8")
            read_cap_list(path)
    CliRunner().invoke(recap.cli.app, ["explain", "unit-missing"])
    gc.collect()
    gc.freeze()  # what is here now is the same for all commands: their own clearing up need not look at it


@dataclass(frozen=True)
class Outcome:
    """How a command ended: ``status`` is None where it was killed."""

    words: tuple[str, ...]
    status: int | None
    out: str
    err: str
    interrupted: bool = False
    listened: bool = True

    def __str__(self) -> str:
        """The command, its status and the end of what it said."""
        return f"recap {' '.join(self.words)} -> {self.status}\n  out: {self.out[-300:]!r}\n  err: {self.err[-1200:]!r}"


@dataclass
class Running:
    """A command that was started. What it says comes through pipes: no limit on files cuts it short."""

    words: tuple[str, ...]
    pid: int
    pipes: dict[str, int]
    said: dict[str, bytes]
    interrupted: bool = False

    def text(self, name: str) -> str:
        """What it said so far on ``out`` or ``err``."""
        with suppress(BlockingIOError, KeyError):
            while more := os.read(self.pipes[name], 65536):
                self.said[name] += more
        return self.said[name].decode("utf-8", "replace")

    def worked(self) -> float:
        """Processor seconds that it took so far, where the system tells."""
        try:
            fields = (
                Path(f"/proc/{self.pid}/stat").read_text(encoding="ascii", errors="replace").rpartition(")")[2].split()
            )
        except OSError:
            return 0.0
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def stop_listening(self) -> None:
        """Take no more of its answer, as a pager does that is left."""
        os.close(self.pipes.pop("out"))

    def kill(self) -> None:
        """As the power does: without warning."""
        os.kill(self.pid, signal.SIGKILL)

    def interrupt(self) -> None:
        """As Ctrl-C does."""
        self.interrupted = True
        os.kill(self.pid, signal.SIGINT)

    def wait(self) -> Outcome:
        """Its outcome; a command that doesn't end is stopped and says where it was."""
        end = time.monotonic() + STANDING
        while True:
            pid, state = os.waitpid(self.pid, os.WNOHANG)
            out, err = self.text("out"), self.text("err")
            if pid:
                break
            if self.worked() > LONGEST or time.monotonic() > end:
                os.kill(self.pid, signal.SIGABRT)
            time.sleep(0.005)
        for pipe in self.pipes.values():
            os.close(pipe)
        status = os.waitstatus_to_exitcode(state)
        ended = {-signal.SIGKILL: None, -signal.SIGINT: INTERRUPTED}.get(status, status)
        return Outcome(self.words, ended, out, err, self.interrupted, "out" in self.pipes)


def start(
    *words: str, largest_file: int | None = None, back: timedelta | None = None, moment: Moments | None = None
) -> Running:
    """Start ``recap WORDS``.

    With ``largest_file`` no file may grow beyond so many bytes, ``back`` turns its clock, at a ``moment`` of its
    writing it gets a signal.
    """
    ends = {name: os.pipe() for name in ("out", "err")}
    pid = os.fork()
    if pid == 0:
        try:
            for reading, _ in ends.values():
                os.close(reading)  # else it would never be told that nobody listens
            if back is not None:
                put_clock_back(back)
            if moment is not None:
                moment.set_up()
            _be_the_command(words, [ends[name][1] for name in ("out", "err")], largest_file)
        finally:
            os._exit(99)  # whatever happens, the child must not go on as its parent
    for reading, writing in ends.values():
        os.close(writing)
        os.set_blocking(reading, False)
    sent = moment is not None and moment.number is signal.SIGINT
    pipes = {name: reading for name, (reading, _) in ends.items()}
    return Running(words, pid, pipes, {"out": b"", "err": b""}, sent)


def _be_the_command(words: tuple[str, ...], pipes: list[int], largest_file: int | None) -> None:
    from recap.cli import main

    for number, pipe in enumerate(pipes, start=1):
        os.dup2(pipe, number)
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    sys.stdout = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
    sys.stderr = open(2, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
    faulthandler.enable(sys.stderr)
    os.environ.update({"COLUMNS": "100", "NO_COLOR": "1"})
    if largest_file is not None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (largest_file, largest_file))
    sys.argv = ["recap", *words]
    try:
        main()
        status = 0
    except SystemExit as end:
        status = end.code if isinstance(end.code, int) else int(end.code is not None)
    except BaseException:  # noqa: BLE001 - the child tells everything
        traceback.print_exc()
        status = 98
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(status)


def run(
    *words: str, largest_file: int | None = None, back: timedelta | None = None, moment: Moments | None = None
) -> Outcome:
    """Run a command to its end."""
    return start(*words, largest_file=largest_file, back=back, moment=moment).wait()


def put_clock_back(by: timedelta) -> None:
    """Let this process take it to be earlier: whatever of the project asks for the time hears that."""

    class Alike(type):
        """Passes for the class below it wherever a value is asked for its sort: only the time is another."""

        def __instancecheck__(cls, value: object) -> bool:
            return isinstance(value, cls.__mro__[1])

        def __subclasscheck__(cls, other: type) -> bool:
            return issubclass(other, cls.__mro__[1])

        def __eq__(cls, other: object) -> bool:
            return other is cls.__mro__[1] or other is cls

        def __hash__(cls) -> int:
            return hash(cls.__mro__[1])

    class Earlier(datetime, metaclass=Alike):
        @classmethod
        def now(cls, tz: tzinfo | None = None) -> datetime:  # type: ignore[override]
            return datetime.now(tz) - by

    class EarlierDay(date, metaclass=Alike):
        @classmethod
        def today(cls) -> date:  # type: ignore[override]
            return date.today() - by  # noqa: DTZ011 - what the project asks

    for name, module in [*sys.modules.items()]:
        if name == "datetime" or name.startswith("recap"):
            for word, real, earlier in (("datetime", datetime, Earlier), ("date", date, EarlierDay)):
                if getattr(module, word, None) is real:
                    setattr(module, word, earlier)


class Disk:
    """A small disk of its own for the bench; ``real`` tells whether it is one."""

    def __init__(self) -> None:
        """Mount it, or stand in for it with a plain folder."""
        self.home = Path(tempfile.mkdtemp(prefix="recap-disk-"))
        options = f"size={DISK_BYTES},mode=0777"
        self.real = os.geteuid() == 0 and not _quiet("mount", "-t", "tmpfs", "-o", options, "tmpfs", str(self.home))

    def close(self) -> None:
        """Take it away."""
        if self.real:
            _quiet("umount", "-l", str(self.home))
        shutil.rmtree(self.home, ignore_errors=True)

    @contextmanager
    def full(self, left: int) -> Iterator[None]:
        """Fill it up to about ``left`` bytes; without a disk of our own nothing happens."""
        filler = self.home / "filler.bin"
        free = shutil.disk_usage(self.home).free if self.real else 0
        with filler.open("wb") as file:
            file.write(b"\0" * max(0, free - left))
        try:
            yield
        finally:
            filler.unlink()

    @contextmanager
    def read_only(self) -> Iterator[None]:
        """Let nothing be written on it."""
        if self.real:
            assert not _quiet("mount", "-o", "remount,ro", str(self.home))
        folders = [] if self.real else [path for path in self.home.rglob("*") if path.is_dir()]
        for folder in folders:
            folder.chmod(0o555)
        try:
            yield
        finally:
            for folder in folders:
                folder.chmod(0o755)
            if self.real:
                assert not _quiet("mount", "-o", "remount,rw", str(self.home))


def _quiet(*command: str) -> int:
    try:
        return subprocess.run(command, capture_output=True, check=False).returncode
    except FileNotFoundError:
        return 127
