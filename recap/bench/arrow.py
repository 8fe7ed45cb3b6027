"""Between NumPy and Arrow: the arrays share their memory, and pandas stays where it is.

Arrow's own ways, ``pa.array`` and ``to_numpy``, import pandas where it is installed: a quarter of a second that an
order's answer would wait for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pyarrow as pa

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray


def to_arrow(numbers: NDArray[Any]) -> pa.Array:
    """Return whole numbers or floats as an Arrow array."""
    memory = pa.py_buffer(np.ascontiguousarray(numbers))
    return pa.Array.from_buffers(pa.from_numpy_dtype(numbers.dtype), len(numbers), [None, memory])


def to_numpy(array: pa.Array) -> NDArray[Any]:
    """Return an Arrow array of numbers or truth values, none of them missing, as one of NumPy that is only read.

    Raises TypeError or BufferError, by Arrow's version, where any is missing.
    """
    if pa.types.is_boolean(array.type):
        found: NDArray[Any] = np.from_dlpack(array.cast(pa.uint8())).astype(np.bool_)
        return found
    return np.from_dlpack(array)


def strings(texts: Iterable[str]) -> pa.StringArray:
    """Return texts as an Arrow array."""
    encoded = [text.encode() for text in texts]
    ends = np.cumsum([0, *map(len, encoded)], dtype=np.int32)
    return pa.StringArray.from_buffers(len(encoded), pa.py_buffer(ends), pa.py_buffer(b"".join(encoded)))
