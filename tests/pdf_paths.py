"""What is drawn on a page of a PDF, by PDFium."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
from numpy.typing import NDArray

MM = 72 / 25.4  # points
Points = NDArray[np.float64]


def drawn(page: pypdfium2.PdfPage, *, texts: bool = False) -> Iterator[Points]:
    """The points (n, 2) of every path in mm from the top left; nothing else is on the page, but
    for `texts` where they may be.
    """
    for item in page.get_objects():
        if texts and item.type == pdfium.FPDF_PAGEOBJ_TEXT:
            continue
        assert item.type == pdfium.FPDF_PAGEOBJ_PATH
        matrix = item.get_matrix()
        x, y = ctypes.c_float(), ctypes.c_float()
        points = []
        for number in range(pdfium.FPDFPath_CountSegments(item)):
            segment = pdfium.FPDFPath_GetPathSegment(item, number)
            pdfium.FPDFPathSegment_GetPoint(segment, x, y)
            points.append(matrix.on_point(x.value, y.value))
        found = np.array(points) / MM
        yield np.column_stack([found[:, 0], page.get_height() / MM - found[:, 1]])
