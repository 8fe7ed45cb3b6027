"""Write a file so that a reader sees the old one or the new one, never half of it."""

from __future__ import annotations

import os
import tempfile
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path


def write_atomically(path: Path, data: bytes | str) -> None:
    """Write ``data`` to ``path`` through a temporary file beside it; text is UTF-8 as given.

    An existing file keeps its permissions. Raises OSError where the folder can't be written;
    the old file is then untouched and no temporary file stays behind.
    """
    content = data.encode() if isinstance(data, str) else data
    mode = path.stat().st_mode & 0o777 if path.exists() else 0o666 & ~_umask()
    handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(temporary, mode)  # noqa: PTH101 - the name is a plain string here
        os.replace(temporary, path)  # noqa: PTH105
    except BaseException:
        os.unlink(temporary)  # noqa: PTH108
        raise


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
