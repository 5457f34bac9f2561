"""From a sheet of orders to proofs and production art for personalised wooden keepsakes."""

import os

__version__ = "0.1.0"

# Rows are shared out among processes; threads of numpy's own would only keep this one from being
# copied for them. It is read when numpy is first imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
