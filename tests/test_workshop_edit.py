"""Numbers changed in a workshop file: nothing else in it may move."""

from __future__ import annotations

import tomllib

import pytest

from proofgen.errors import UnusableError
from proofgen.workshop.edit import with_numbers

WEB = ("materials", "birch-3", "limits", "web", "least")
KERF = ("machine", "kerf")

WRITTEN = """# My workshop, in the loft.
format = 1

[machine]      # the old one
dot = 0.10     # measured in May
kerf = 0.2     # at the edge of the bed

# What the birch can do.
[materials.birch-3.limits]
web = { wanted = 2.5, least = 1.5 }   # after the kerf
engraved_gap = { least = 0.40, wanted = 0.6 }

[finishes.seaglass]
title = "sea glass stain"  # from the harbour shop
"""


def test_a_number_changes_and_all_else_stays() -> None:
    edited = with_numbers(WRITTEN, {KERF: 0.15, WEB: 1.32}, "workshop.toml")
    assert edited == WRITTEN.replace("kerf = 0.2 ", "kerf = 0.15 ").replace("1.5 }", "1.32 }")


@pytest.mark.parametrize(
    "text",
    [
        "format = 1\n",
        "format = 1",
        'format = 1\r\n[materials.birch-3]\r\ntitle = "wood"\r\n\r\n[machine]\r\ndot = 0.1\r\n',
        'format = 1\nmaterials.birch-3.title = "wood"\n[machine]\ndot = 0.1\n',
        'format = 1\nmaterials = { birch-3 = { title = "wood" } }\nmachine = { dot = 0.1 }\n',
        "format = 1\n[materials.birch-3.limits]\nweb.wanted = 3\n[machine]\n[materials.maple-3]\n",
        "format = 1\n[materials.birch-3.limits.web]\nleast = 3\n# the end",
        "format = 1\n[materials]\n[materials.'birch-3'.limits]\n'web' = {least = 3}\n[machine]\n",
    ],
)
def test_whatever_way_a_table_is_written(text: str) -> None:
    edited = with_numbers(text, {WEB: 1.32, KERF: 2.0}, "workshop.toml")
    read, before = tomllib.loads(edited), tomllib.loads(text)
    assert read["machine"].pop("kerf") == 2
    assert read["materials"]["birch-3"]["limits"]["web"].pop("least") == 1.32
    before.get("machine", {}).pop("kerf", None)
    assert read["format"] == 1
    for key in ("title", "limits"):
        was = before.get("materials", {}).get("birch-3", {}).get(key)
        if key == "limits" and was:
            was["web"].pop("least", None)
        assert was is None or read["materials"]["birch-3"][key] == was
    kept = [line for line in text.splitlines() if "web" not in line and "least" not in line]
    assert all(line in edited for line in kept if "{" not in line)
    # Line ends are of one kind, as they were.
    assert ("\r\n" in text) == ("\r\n" in edited)
    assert edited.count("\n") == edited.count("\r\n") or "\r" not in edited


def test_a_new_table_is_written_as_a_person_would() -> None:
    edited = with_numbers("format = 1\n", {KERF: 0.15, WEB: 2.0}, "workshop.toml")
    assert edited.splitlines() == [
        "format = 1",
        "",
        "[machine]",
        "kerf = 0.15",
        "",
        "[materials.birch-3.limits]",
        "web = {least = 2}",
    ]


def test_what_cannot_be_changed_is_said_with_what_to_write() -> None:
    """Tables torn apart, which the library writes back as something else."""
    torn = (
        "format = 1\n[materials.maple-3]\ntitle = 'a'\n[machine]\n"
        "[materials.oak-3.limits]\n[hangers.a]\n[materials]\n"
    )
    with pytest.raises(UnusableError, match=r"workshop\.toml.*by hand: .*web\.least = 1\.32"):
        with_numbers(torn, {WEB: 1.32, KERF: 0.15}, "workshop.toml")
