"""The workshop file: machine, materials, finishes, limits, colours, year. Knows no orders."""
