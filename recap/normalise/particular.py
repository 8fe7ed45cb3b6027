"""Of two words for kind or mount the more particular one holds, where it includes what the other says."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, TypeVar

from recap.model import Kind, Mount

if TYPE_CHECKING:
    from collections.abc import Mapping
    from collections.abc import Set as AbstractSet

T = TypeVar("T", Kind, Mount)

KIND_INCLUDES: Final = {
    Kind.SAFETY: {Kind.FILM, Kind.CERAMIC, Kind.BIPOLAR},
    Kind.BIPOLAR: {Kind.ELECTROLYTIC},
    Kind.TANTALUM: {Kind.ELECTROLYTIC},
    Kind.OTHER: {Kind.ELECTROLYTIC},
    Kind.CERAMIC: {Kind.BIPOLAR},
    Kind.FILM: {Kind.BIPOLAR},
}
"""A bipolar electrolytic is bipolar, a tantalum electrolytic tantalum.

Unpolarised is no contradiction of ceramic or film; it only decides where no other word stands.
"""
MOUNT_INCLUDES: Final = {Mount.SNAP_IN: {Mount.RADIAL}, Mount.SCREW: {Mount.AXIAL}}
"""A snap-in can stands on its leads: radial says no more than that."""


def particular(stated: AbstractSet[T], includes: Mapping[T, AbstractSet[T]]) -> T | None:
    """Return the one that is stated, or the one that includes all others; None where they contradict each other."""
    if len(stated) == 1:
        return next(iter(stated))
    return next((one for one in includes if one in stated and stated <= includes[one] | {one}), None)
