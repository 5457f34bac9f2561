"""Faces: files, variation, shaping, outlines, and measures per glyph. Knows no zones or orders."""
