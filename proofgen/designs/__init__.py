"""The parametric template and what it resolves to for one order. Knows no order books."""
