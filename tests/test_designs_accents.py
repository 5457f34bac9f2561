"""The inscriptions and dates of the designs that ship take the accents of Latin scripts."""

from __future__ import annotations

import pytest
from designs_folder import order, shipped, workshop

from proofgen.artwork.rules import rules_for
from proofgen.day.shop import NOWHERE, open_bench
from proofgen.designs.resolve import resolve
from proofgen.lettering.bench import Bench
from proofgen.lettering.fit import fit

LETTERS = (
    "àâçéèê",
    "île naïve",
    "Noël où dû",
    "áčďéěíňó",
    "řšťúůýž",
    "áéíóöőúüű",
    "ąćęłńóśźż",
    "áâãñóôõ",
    "åäöø",
    "çğışöü",
    "ăâîșț",
    "þðæöáí",
)
PHRASES = (
    "În amintirea",
    "Tōkyō",
    "Ngày hội đèn lồng",
    "Þórður í Höfn",
)


@pytest.fixture(scope="module")
def bench() -> Bench:
    return open_bench(NOWHERE)


def failing(design: str, field: str, text: str, bench: Bench) -> list[str]:
    """What stops a text in a field."""
    made, _ = resolve(shipped()[design], order({"name": "Ann", field: text}), workshop())
    assert made is not None
    (slot,) = (slot for slot in made.slots if slot.field == field)
    lettering, flags = fit(text, slot, rules_for(slot, made, workshop()), bench, field)
    return [] if lettering else [flag.text for flag in flags]


@pytest.mark.parametrize("design", ["medallion", "plaque", "remembrance"])
@pytest.mark.parametrize("small", LETTERS)
def test_an_inscription(design: str, small: str, bench: Bench) -> None:
    assert failing(design, "inscription", small, bench) == []
    assert failing(design, "inscription", small.upper(), bench) == []


@pytest.mark.parametrize("design", ["medallion", "plaque", "remembrance"])
@pytest.mark.parametrize("phrase", PHRASES)
def test_a_phrase(design: str, phrase: str, bench: Bench) -> None:
    assert failing(design, "inscription", phrase, bench) == []


@pytest.mark.parametrize("date", ["12 février 1950", "7 août 2020", "3 září 1950", "1 März 1950"])
def test_a_date(date: str, bench: Bench) -> None:
    assert failing("remembrance", "born", date, bench) == []
