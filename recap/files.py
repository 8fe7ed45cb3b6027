"""Write a file so that a reader sees the old one or the new one, never half of it, and the old one is kept if asked."""

from __future__ import annotations

import contextlib
import os
import secrets
import unicodedata
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator


def composed(name: str) -> str:
    """Return a name with its accents in one piece (NFC): files that came from a Mac have them in two."""
    return unicodedata.normalize("NFC", name)


def stem_of(path: Path) -> str:
    """Return what a file stands for: its name without the ending."""
    return composed(path.stem)


def meant_instead(path: Path) -> str | None:
    """Return the path that is meant by one with backslashes, where that is there and this isn't."""
    other = Path(str(path).replace("\\", "/"))
    return str(other) if other != path and other.exists() else None


_WRITTEN: dict[Path, None] = {}


def written() -> tuple[Path, ...]:
    """Return what this process wrote and is still there: who stops it half-way wants to know."""
    return tuple(path for path in _WRITTEN if path.exists())


def forget_written() -> None:
    """Begin anew: a command begins."""
    _WRITTEN.clear()


def note_written(path: Path) -> None:
    """Remember a file, or a folder, that this process wrote."""
    _WRITTEN[path] = None


@contextmanager
def noting(path: Path, made: Path) -> Iterator[None]:
    """Remember ``path`` if ``made`` gets that name meanwhile, also where Ctrl-C comes just then."""
    try:
        yield
    finally:
        if not made.exists() or (made.is_file() and made.stat().st_nlink > 1):
            note_written(path)


def write_atomically(path: Path, data: bytes | str) -> None:
    """Write ``data`` to ``path`` through a temporary file beside it; text is UTF-8 as given.

    An existing file keeps its permissions. Raises OSError where the folder can't be written;
    the old file is then untouched and no temporary file stays behind.
    """
    mode = path.stat().st_mode & 0o777 if path.exists() else 0o666 & ~_umask()
    with _finished(path, data.encode() if isinstance(data, str) else data, mode) as made, noting(path, made):
        os.replace(made, path)  # noqa: PTH105


def write_new(path: Path, data: bytes | str) -> None:
    """Do the same with a name that is free; raises FileExistsError where somebody has taken it, even meanwhile."""
    content = data.encode() if isinstance(data, str) else data
    with _finished(path, content, 0o666 & ~_umask()) as made, noting(path, made):
        give_name(made, path)


def keep_beside(path: Path, names: Iterable[Path]) -> Path:
    """Copy a file to the first of the names that is free, whole, and return it; all lie in the file's own folder.

    No file is ever replaced, even where two do so at once. Raises OSError where nothing can be written.
    """
    with _finished(path, path.read_bytes(), path.stat().st_mode & 0o777) as made:
        for name in names:
            with contextlib.suppress(FileExistsError):
                give_name(made, name)
                return name
    raise FileExistsError(path)


@contextmanager
def alone_in(folder: Path) -> Iterator[None]:
    """Keep other commands of ours from replacing files of a folder meanwhile; a process that dies lets go.

    Where the system can't lock a folder (Windows, some network disks) there is no waiting.
    """
    with contextlib.ExitStack() as stack:
        with contextlib.suppress(ImportError, OSError):
            import fcntl

            handle = os.open(folder, os.O_RDONLY)
            stack.callback(os.close, handle)
            fcntl.flock(handle, fcntl.LOCK_EX)
        yield


@contextmanager
def _finished(path: Path, content: bytes, mode: int) -> Iterator[Path]:
    """Write a temporary file beside ``path``, on the disk before it is used; what is left of it at the end goes."""
    made = unfinished_name(path)  # chosen before it is made: so Ctrl-C just then leaves nothing that nobody knows of
    try:
        with open(os.open(made, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:  # noqa: PTH123
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        made.chmod(mode)
        yield made
    finally:
        take_away(made)


def take_away(*made: Path) -> None:
    """Remove files, those that are there; even where Ctrl-C comes just then, which is raised after that."""
    try:
        for path in made:
            path.unlink(missing_ok=True)
    except KeyboardInterrupt:
        for path in made:
            path.unlink(missing_ok=True)
        raise


def unfinished_name(path: Path) -> Path:
    """Return a name of its own beside ``path``, which no command takes for anything."""
    return path.parent / f".{path.name}.{secrets.token_hex(4)}.part"  # a folder may be named by dots alone


def give_name(made: Path, path: Path) -> None:
    """Give a finished file its name, which nobody may have taken meanwhile; both are in one folder.

    Raises FileExistsError where the name is taken. File systems without hard links (FAT, as on memory
    sticks) can't refuse and rename in one step: there the name is looked at just before.
    """
    try:
        os.link(made, path)
    except FileExistsError:
        raise
    except OSError:
        if path.exists():
            raise FileExistsError(path) from None
        os.replace(made, path)  # noqa: PTH105


def _umask() -> int:
    current = os.umask(0)
    os.umask(current)
    return current
