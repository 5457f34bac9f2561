"""Fitting: text, faces, a zone and limits in; lettering out. Touches no files."""
