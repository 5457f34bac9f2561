"""Shapes in millimetres, y down, with curves kept as curves. Knows no fonts, orders or files."""
