"""Reading the order book. Knows no geometry and writes nothing."""
