"""Filling sheets with pieces, in the right order of work, with the time known."""
