"""From a sheet of orders to proofs and production art for personalised wooden keepsakes."""

__version__ = "0.1.0"
