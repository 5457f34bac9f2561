"""Composing: an order, a design and its lettering become artwork with a proof code."""
