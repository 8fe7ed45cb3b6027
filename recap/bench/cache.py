"""Large catalogues kept as read (:mod:`recap.bench.keeping`), so that the next run need not read them again.

Entries hold the columns of text, the checks' results and what was told; words are read from the texts each time.
"""

from __future__ import annotations

import contextlib
import json
import mmap
import os
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, BinaryIO

import numpy as np
import pyarrow as pa

from recap.bench.arrow import to_arrow, to_numpy
from recap.bench.cells import Cells
from recap.bench.keeping import digest_by, entries_of, entry_of, flat, store, unflat
from recap.bench.texts import TextColumn, TextTable

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from numpy.typing import NDArray

    from recap.diagnostics import Diagnostic

WORTH_KEEPING = 2 * 2**20
"""Smaller files are read faster than they are looked up."""
ENDING = ".arrow"
_ENDS = "ends"
_MEANT = "meant "


@dataclass(frozen=True, slots=True)
class Entry:
    """A catalogue as read and found in order.

    Its table, each row's first quantity, the prices' decimal mark, the currencies seen beside them, the other
    columns' decimal marks, what columns of numbers mean, its cells, and what was told.
    """

    table: TextTable
    least: NDArray[np.int64]
    mark: str | None
    currencies: frozenset[str]
    marks: Mapping[str, str | None]
    numbers: Mapping[str, bytes]
    cells: Cells
    told: tuple[Diagnostic, ...]


def fingerprint(path: Path) -> str:
    """Return the digest of the file's content, worked out on all cores.

    Raises OSError where the file can't be read.
    """
    with (
        path.open("rb") as file,
        mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as content,
        ThreadPoolExecutor(max_workers=min(8, os.cpu_count() or 1)) as pool,
    ):
        return digest_by(content, pool.map)


def known(folder: Path, path: Path) -> bool:
    """Tell whether anything is kept of a file of this name: only then its digest is worth working out beforehand."""
    return any(entries_of(folder, path, ENDING))


def kept(folder: Path, path: Path, digest: str) -> Entry | None:
    """Return the entry of ``path`` with this digest, None where there is none that can be used."""
    entry = entry_of(folder, path, digest, ENDING)
    try:
        with pa.memory_map(str(entry)) as source:
            (batch,), (cells,) = list(pa.ipc.open_stream(source)), list(pa.ipc.open_stream(source))
        about = json.loads(batch.schema.metadata[b"recap"])
        if about["digest"] != digest:
            return None
        return _unpacked(batch, about, _cells(batch, cells), str(path))
    except (OSError, pa.ArrowException, KeyError, ValueError, TypeError, IndexError):
        return None


def keep(folder: Path, path: Path, digest: str, entry: Entry) -> None:
    """Store an entry and take away older ones of the same file; does nothing where the folder can't be written."""
    with contextlib.suppress(OSError, pa.ArrowException):
        store(folder, path, digest, ENDING, lambda target: _write(target, entry, digest))


def _write(target: Path, entry: Entry, digest: str) -> None:
    arrays: list[pa.Array] = []
    columns = [_described(name, column, arrays) for name, column in entry.table.columns.items()]
    breaks = [_described(quantity, column, arrays) for quantity, column in entry.table.breaks]
    arrays += [to_arrow(entry.table.rows), to_arrow(entry.least), to_arrow(entry.cells.rows)]
    about = {
        "digest": digest,
        "file": entry.table.file,
        "columns": columns,
        "breaks": breaks,
        "sheets": entry.table.sheets,
        "mark": entry.mark,
        "marks": dict(entry.marks),
        "currencies": sorted(entry.currencies),
        "told": [flat(diagnostic) for diagnostic in entry.told],
    }
    named = {str(i): array for i, array in enumerate(arrays)}
    with target.open("wb") as file:
        _write_batch(file, named, {"recap": json.dumps(about), **{_MEANT + n: t for n, t in entry.numbers.items()}})
        codes = {name: to_arrow(np.append(codes, 0).astype(codes.dtype)) for name, codes in entry.cells.codes.items()}
        _write_batch(file, {_ENDS: to_arrow(entry.cells.ends), **codes}, {})
        file.flush()
        os.fsync(file.fileno())


def _write_batch(file: BinaryIO, arrays: dict[str, pa.Array], about: dict[str, str | bytes]) -> None:
    schema = pa.schema([pa.field(name, array.type) for name, array in arrays.items()], metadata=about)
    with pa.ipc.new_stream(file, schema) as writer:
        writer.write_batch(pa.record_batch(list(arrays.values()), schema=schema))


def _described(name: object, column: TextColumn, arrays: list[pa.Array]) -> list[object]:
    if column.codes is None:
        arrays.append(column.texts)
    else:
        codes = to_arrow(column.codes.astype(_narrowest(len(column.texts))))
        arrays.append(pa.DictionaryArray.from_arrays(codes, column.texts))
    return [name, column.header, column.unit]


def _narrowest(count: int) -> type[np.signedinteger[Any]]:
    if count <= np.iinfo(np.int8).max:
        return np.int8
    return np.int16 if count <= np.iinfo(np.int16).max else np.int32


def _cells(rows: pa.RecordBatch, cells: pa.RecordBatch) -> Cells:
    """Return the cells: their codes have one item less than their ends."""
    columns = {name: to_numpy(array) for name, array in zip(cells.schema.names, cells.columns, strict=True)}
    ends = columns.pop(_ENDS)
    return Cells({name: codes[:-1] for name, codes in columns.items()}, to_numpy(rows.columns[-1]), ends)


def _unpacked(batch: pa.RecordBatch, about: dict[str, Any], cells: Cells, file: str) -> Entry:
    arrays = iter(batch.columns)
    columns = {name: _column(next(arrays), header, unit) for name, header, unit in about["columns"]}
    breaks = tuple((int(name), _column(next(arrays), header, unit)) for name, header, unit in about["breaks"])
    rows, least = to_numpy(next(arrays)), to_numpy(next(arrays))
    sheets = tuple((int(start), name) for start, name in about["sheets"])
    table = TextTable(file, columns, breaks, rows, sheets)
    currencies = frozenset(about["currencies"])
    told = tuple(unflat(one, about["file"], file) for one in about["told"])
    numbers = {key.decode()[len(_MEANT) :]: text for key, text in batch.schema.metadata.items() if key != b"recap"}
    return Entry(table, least, about["mark"], currencies, about["marks"], numbers, cells, told)


def _column(array: pa.Array, header: str, unit: str | None) -> TextColumn:
    if isinstance(array, pa.DictionaryArray):
        return TextColumn(header, unit, array.dictionary, to_numpy(array.indices))
    return TextColumn(header, unit, array)
