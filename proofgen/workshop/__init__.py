"""The workshop file: machine, materials, finishes, limits, colours, edition year. Knows no orders."""
