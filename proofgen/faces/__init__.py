"""Faces: files, variation, shaping, outlines and measures per glyph."""
