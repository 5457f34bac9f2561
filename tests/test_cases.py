"""A folder a kind of flag: `row.toml` holds the rows, `expected.json` every flag that they get.

`row.toml` may also say which rows are `hidden`, which areas are `merged`, and `command = "make"` or
"proof"; rows `beside` are another book's, whose pictures were made before.
A `workshop.toml`, `designs` and `symbols` lie beside the book. `proofed` are the rows as they were
when their pictures were sent; "{code}" in Approved then stands for the picture's code, and the
folder `changed` holds what is another thing since. `pytest --update` writes expectations.
"""

from __future__ import annotations

import json
import shutil
import tomllib
from itertools import zip_longest
from pathlib import Path
from typing import Any

import pytest
from books import write_book

from proofgen.day import pipeline, rows, shop
from proofgen.flags.flag import Flag
from proofgen.flags.kinds import KINDS
from proofgen.resources import folder

HERE = Path(__file__).parent
CASES = sorted(path.name for path in (HERE / "cases").iterdir() if path.is_dir())


@pytest.fixture(scope="module")
def designs(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The designs that ship, and those of the tests."""
    everything = tmp_path_factory.mktemp("designs")
    for source in (folder("templates"), HERE / "designs"):
        shutil.copytree(source, everything, dirs_exist_ok=True)
    return everything


@pytest.fixture(scope="module")
def opened() -> dict[Path | None, shop.Shop]:
    return {}


@pytest.fixture
def in_test_shop(monkeypatch, designs, opened) -> None:
    """The pipeline with the tests' designs, opened once for all cases."""
    monkeypatch.setattr(shop, "folder", lambda n: designs if n == "templates" else folder(n))
    monkeypatch.setattr(rows, "_open", opened)


def flags_of(case: Path, scratch: Path) -> list[list[str]]:
    """Every flag of the case as [id, where], the book's own first."""
    said = tomllib.loads((case / "row.toml").read_text(encoding="utf-8"))
    if (case / "workshop.toml").exists():
        shutil.copy(case / "workshop.toml", scratch)
    for own in ("designs", "symbols"):
        if (case / own).exists():
            shutil.copytree(case / own, scratch / own)
    codes = proofed(said, scratch)
    if (case / "changed").exists():
        shutil.copytree(case / "changed", scratch, dirs_exist_ok=True)
    now = [
        {**row, "approved": row["approved"].format(code=code)} if "approved" in row else row
        for row, code in zip_longest(said.get("rows", ()), codes, fillvalue="")
    ]
    book = scratch / "orders.csv"
    if "csv" in said:
        book.write_bytes(said["csv"].encode(said.get("encoding", "utf-8")))
    else:
        hidden, merged = said.get("hidden", ()), said.get("merged", ())
        book = write_book(scratch / "orders.xlsx", now, hidden, merged)
    options = pipeline.Options(skip_hidden=said.get("skip_hidden", False))
    if "beside" in said:
        other = write_book(scratch / "other.xlsx", said["beside"])
        pipeline.proof(other, options, lambda *_: None)
    if said.get("command") == "proof":
        run = pipeline.proof(book, options, lambda *_: None)
    elif said.get("command", "check") == "make":
        run = pipeline.make(book, pipeline.Options(), lambda *_: None, everything=False)
    else:
        run = pipeline.check(book, options, lambda *_: None)
        again = pipeline.check(book, options, lambda *_: None)
        assert judged(again) == judged(run), "remembered as something else than it was"
    flags = [*run.flags, *(flag for made in run.rows for flag in made.flags)]
    assert all(flag.text.endswith(".") and "None" not in flag.text for flag in flags)
    return [[flag.kind.id, flag.where] for flag in flags]


def judged(run: pipeline.Run) -> list[tuple[str, str, tuple[Flag, ...]]]:
    return [(made.verdict, made.code, made.flags) for made in run.rows]


def proofed(said: dict[str, Any], scratch: Path) -> list[str]:
    """The codes of the pictures of the rows as they were."""
    if "proofed" not in said:
        return []
    book = write_book(scratch / "orders.xlsx", said["proofed"])
    codes = [made.code for made in pipeline.proof(book, pipeline.Options(), lambda *_: None).rows]
    rows._open.clear()
    return codes


@pytest.mark.usefixtures("in_test_shop")
@pytest.mark.parametrize("name", CASES)
def test_case(name, tmp_path, update):
    case = HERE / "cases" / name
    found = flags_of(case, tmp_path)
    expected = case / "expected.json"
    if update:
        text = ",\n ".join(json.dumps(flag, ensure_ascii=False) for flag in found)
        expected.write_text(f"[{text}]\n", encoding="utf-8", newline="\n")
    assert name in [flag for flag, _ in found]
    assert found == json.loads(expected.read_text(encoding="utf-8"))


def test_every_kind_of_flag_has_a_case():
    assert sorted(kind.id for kind in KINDS) == CASES
