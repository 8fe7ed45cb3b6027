"""Arrays go from NumPy to Arrow and back without a copy and without pandas: nothing is lost on the way."""

from __future__ import annotations

import numpy as np
import pyarrow as pa
import pytest
from hypothesis import given
from hypothesis import strategies as st

from recap.bench.arrow import strings, to_arrow, to_numpy


@given(
    st.lists(st.integers(-100, 100)),
    st.sampled_from([np.int8, np.int16, np.int32, np.int64, np.float64]),
    st.integers(1, 3),
)
def test_numbers_come_back_as_they_went(numbers: list[int], kind: type[np.generic], step: int) -> None:
    given_numbers = np.array(numbers, kind)[::step]
    sent = to_arrow(given_numbers)
    assert sent.type == pa.from_numpy_dtype(kind)
    back = to_numpy(sent)
    assert back.dtype == kind
    assert back.tolist() == given_numbers.tolist()


@given(st.lists(st.booleans()), st.integers(0, 9))
def test_truth_values_come_back_from_where_a_slice_begins(flags: list[bool], start: int) -> None:
    assert to_numpy(pa.array(flags, pa.bool_()).slice(min(start, len(flags)))).tolist() == flags[start:]


@pytest.mark.filterwarnings("ignore:Exporting an unversioned DLPack")
def test_a_number_that_is_missing_is_refused() -> None:
    with pytest.raises((TypeError, BufferError)):
        to_numpy(pa.array([1, None]))


@given(st.lists(st.text(alphabet=st.characters(exclude_categories=["Cs"]))))
def test_texts_of_any_script_are_kept(texts: list[str]) -> None:
    found = strings(texts)
    found.validate(full=True)
    assert found.to_pylist() == texts
