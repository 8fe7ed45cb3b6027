"""Reading printed pages back with libraries that had no part in making them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pypdfium2
import zxingcpp

if TYPE_CHECKING:
    from PIL.Image import Image


def page_texts(pdf: bytes) -> list[str]:
    """Return the text of each page, as PDFium extracts it."""
    document = pypdfium2.PdfDocument(pdf)
    return [page.get_textpage().get_text_range() for page in document]


def page_sizes_mm(pdf: bytes) -> list[tuple[float, float]]:
    document = pypdfium2.PdfDocument(pdf)
    return [(round(page.get_width() / 72 * 25.4, 1), round(page.get_height() / 72 * 25.4, 1)) for page in document]


def page_image(pdf: bytes, page: int = 0, dots_per_inch: int = 200) -> Image:
    image: Image = pypdfium2.PdfDocument(pdf)[page].render(scale=dots_per_inch / 72, grayscale=True).to_pil()
    return image


def scanned(image: Image) -> list[str]:
    """Return what the QR codes of a page say, as ZXing reads them."""
    return sorted(found.text for found in zxingcpp.read_barcodes(image))


def inked_mm(image: Image, dots_per_inch: int = 200) -> tuple[float, float, float, float]:
    """Return the box around all ink: left, top, right, bottom in mm."""
    box = image.point(lambda grey: 255 * (grey < 128)).getbbox()
    assert box is not None
    left, top, right, bottom = (side / dots_per_inch * 25.4 for side in box)
    return left, top, right, bottom
