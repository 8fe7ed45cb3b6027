"""Photos from a phone: checked, bounded, turned upright, and written anew without anything but the picture."""

from __future__ import annotations

import hashlib
import io
import warnings
from threading import Lock

from PIL import Image, ImageOps, UnidentifiedImageError

from recap.audit.stored_rows import Photo

MOST_BYTES = 20_000_000
"""Of an upload."""
MOST_PIXELS = 60_000_000
MOST_ON_A_SIDE = 30_000
"""A strip one pixel wide and as many long as are taken needs gigabytes, for each of its rows is kept apart."""
LONGEST_SIDE = 2400
"""Of what is kept: enough to read a designator on a whole board."""
QUALITY = 85
FORMATS = ("JPEG", "PNG", "WEBP")
_ONE_AT_A_TIME = Lock()
"""A picture of as many pixels as are taken needs some hundred megabytes to unpack; forty at once, too many."""


class PhotoError(ValueError):
    """Not a photo we take; the text says why."""


def checked_photo(content: bytes) -> Photo:
    """Return the picture re-encoded as JPEG: no EXIF, no location, no comment, nothing that came along."""
    if len(content) > MOST_BYTES:
        raise PhotoError(f"larger than {MOST_BYTES // 1_000_000} MB")
    try:
        with _ONE_AT_A_TIME:
            picture = _decoded(content)
    except PhotoError:
        raise
    # A broken picture makes Pillow raise nearly anything; whatever it is, this is no photo.
    except (
        UnidentifiedImageError,
        OSError,
        ValueError,
        SyntaxError,
        EOFError,
        KeyError,
        IndexError,
        MemoryError,
    ) as fault:
        raise PhotoError("not a JPEG, PNG or WebP picture, or a broken one") from fault
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as fault:
        raise PhotoError("too many pixels") from fault
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=QUALITY, optimize=True)
    kept = out.getvalue()
    return Photo(hashlib.sha256(kept).hexdigest(), "image/jpeg", picture.width, picture.height, kept)


def _decoded(content: bytes) -> Image.Image:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of odd notes inside a picture, which are thrown away
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        with Image.open(io.BytesIO(content), formats=FORMATS) as probe:
            if probe.width * probe.height > MOST_PIXELS or max(probe.size) > MOST_ON_A_SIDE:
                raise PhotoError("too many pixels")
            probe.verify()
        with Image.open(io.BytesIO(content), formats=FORMATS) as opened:
            opened.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
            upright = ImageOps.exif_transpose(opened).convert("RGB")
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
    # A new image carries pixels only: metadata of the old one can't slip into the file.
    plain = Image.new("RGB", upright.size)
    plain.paste(upright)
    return plain
