"""The command line: what it asks of the pipeline, what it prints, and its exit codes."""

from __future__ import annotations

import json
import logging
import math
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from proofgen.artwork.artwork import Artwork, Made
from proofgen.cli.program import main
from proofgen.day import pipeline
from proofgen.errors import UnusableError
from proofgen.flags.flag import Flag, FlagKind, Severity
from proofgen.geometry.path import Path as Outline
from proofgen.lettering.lettering import Lettering, SetLine
from proofgen.orders.order import Order, Source

NOTE = FlagKind("a-note", Severity.NOTE, "noted", "Look.", "why", "test")
STOP = FlagKind("a-stop", Severity.STOP, "{measured} under {limit}", "Shorten it.", "why", "test")


@pytest.fixture(autouse=True)
def _no_log_left_open() -> Iterator[None]:
    yield
    log = logging.getLogger("proofgen")
    for handler in tuple(log.handlers):
        log.removeHandler(handler)
        handler.close()
    log.propagate = True


class Calls:
    """Stands in for the pipeline's commands and keeps what they were asked."""

    def __init__(self, run: pipeline.Run | BaseException) -> None:
        self.run = run
        self.options = pipeline.Options()
        self.everything: bool | None = None

    def __call__(
        self, _book: Path, options: pipeline.Options, _progress: Any, everything: bool | None = None
    ) -> pipeline.Run:
        self.options, self.everything = options, everything
        if isinstance(self.run, BaseException):
            raise self.run
        return self.run


def answer(
    monkeypatch: pytest.MonkeyPatch, command: str, run: pipeline.Run | BaseException
) -> Calls:
    calls = Calls(run)
    monkeypatch.setattr(pipeline, command, calls)
    return calls


def made(row: int, *flags: Flag, name: str = "Ada", artwork: bool = False) -> Made:
    order = Order("A-1", row - 1, Source("orders.xlsx", "Orders", row), "boat", (("name", name),))
    if not artwork:
        return Made(order, None, flags)
    lettering = Lettering(
        *("name", "front", name, "vollkorn", (("wght", 500.0),), 0.0, 9.5, 1.0),
        *((SetLine(name, (1, 2, 2), (0.0, 0.0)),), Outline(()), 0.6, math.inf, 4.25),
    )
    art = Artwork(order, "boat", "Boat", (90.0, 60.0), (), (lettering,), "none")
    return Made(order, art, flags, "the-code")


def test_options_reach_the_pipeline(monkeypatch: pytest.MonkeyPatch) -> None:
    calls = answer(monkeypatch, "make", pipeline.Run(()))
    typed = "make b.xlsx --all --order 7 --order 8 --out o --workshop w.toml --jobs 2"
    assert main([*typed.split(), "--sheet", "May", "--skip-hidden"]) == 0
    assert calls.options == pipeline.Options(("7", "8"), Path("o"), Path("w.toml"), "May", True, 2)
    assert calls.everything is True


def test_a_stopped_row_exits_with_1(monkeypatch: pytest.MonkeyPatch) -> None:
    answer(monkeypatch, "check", pipeline.Run((made(2), made(3, Flag(STOP, "row 3", 0.2, 0.3)))))
    assert main(["check", "b.xlsx"]) == 1
    answer(monkeypatch, "check", pipeline.Run((made(2, Flag(NOTE, "row 2")),)))
    assert main(["check", "b.xlsx"]) == 0


def test_json_has_the_keys_that_programs_rely_on(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    stop = Flag(STOP, "row 3", 0.25, math.inf, remedy="Two lines would do.")
    run = pipeline.Run(
        (made(2, name="Åsa", artwork=True), made(3, stop)),
        (Flag(NOTE, "orders.xlsx"),),
        {2: tmp_path / "x" / ".." / "p.png"},
        {2: (tmp_path / "front.svg", tmp_path / "back.svg")},
    )
    answer(monkeypatch, "proof", run)
    assert main(["proof", "b.xlsx", "--json"]) == 1
    out, err = capsys.readouterr()
    assert json.loads(out) == {
        "version": 1,
        "flags": [
            {
                "id": "a-note",
                "severity": "note",
                "where": "orders.xlsx",
                "measured": None,
                "limit": None,
                "text": "orders.xlsx: noted. Look.",
                "remedy": "Look.",
            }
        ],
        "results": None,
        "sets": [],
        "left": [],
        "earlier": [],
        "pages": [],
        "rows": [
            {
                "order": "A-1",
                "line": 1,
                "row": 2,
                "verdict": "ready",
                "flags": [],
                "code": "the-code",
                "picture": str(tmp_path.resolve() / "p.png"),
                "production": [str(tmp_path.resolve() / f"{n}.svg") for n in ("front", "back")],
                "lettering": [
                    {
                        "field": "name",
                        "layer": "front",
                        "face": "vollkorn",
                        "axes": {"wght": 500.0},
                        "cap_height": 9.5,
                        "narrowed": 1.0,
                        "tracking": 0.0,
                        "thinnest_stroke": 0.6,
                        "narrowest_gap": None,
                        "clearance": 4.25,
                        "lines": ["Åsa"],
                    }
                ],
            },
            {
                "order": "A-1",
                "line": 2,
                "row": 3,
                "verdict": "stop",
                "code": None,
                "flags": [
                    {
                        "id": "a-stop",
                        "severity": "stop",
                        "where": "row 3",
                        "measured": 0.25,
                        "limit": None,
                        "text": stop.text,
                        "remedy": "Two lines would do.",
                    }
                ],
                "picture": None,
                "production": [],
                "lettering": [],
            },
        ],
    }
    assert "Åsa" in out
    assert "orders.xlsx: noted" in err


def test_text_has_rows_flags_and_the_count(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    rows = (made(2, name="Ada\x1b[2J"), made(13, Flag(STOP, "row 13", 0.2, 0.3), name="Bo"))
    answer(monkeypatch, "check", pipeline.Run(rows, results=tmp_path / "r.xlsx"))
    main(["check", "b.xlsx"])
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].split() == ["row", "2", "A-1", "Ada·[2J", "ready"]
    assert lines[1].split() == ["row", "13", "A-1", "Bo", "stop"]
    assert lines[2] == "    stop: row 13: 0.20 under 0.30. Shorten it."
    assert lines[3] == "2 rows: 1 ready, 0 look, 1 stop"
    assert lines[4] == f"results in {tmp_path / 'r.xlsx'}"


@pytest.mark.parametrize("arguments", [["check"], ["paint"], ["check", "b", "--jobs", "two"], []])
def test_a_wrong_call_exits_with_2(
    arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    code = main(arguments)
    out, err = capsys.readouterr()
    # Older versions of click take a call without a command as a wish for help.
    assert code == 2 or (code == 0 and not arguments)
    assert "Usage" in out + err
    assert "Traceback" not in err


def test_unusable_input_is_one_sentence(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    answer(monkeypatch, "check", UnusableError("b.xlsx: there is no such file."))
    assert main(["check", "b.xlsx", "--json"]) == 2
    assert capsys.readouterr() == ("", "proofgen: b.xlsx: there is no such file.\n")


def test_a_mistake_of_ours_is_one_sentence_and_goes_into_the_log(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    answer(monkeypatch, "check", ZeroDivisionError("by\nnothing"))
    assert main(["check", "b.xlsx"]) == 2
    sentence = capsys.readouterr().err
    assert sentence.count("\n") == 1
    assert "--log FILE" in sentence
    log = tmp_path / "run.log"
    assert main(["check", "b.xlsx", "--log", str(log)]) == 2
    assert str(log) in capsys.readouterr().err
    assert "Traceback" in log.read_text(encoding="utf-8")


def test_a_log_that_cannot_be_written_is_named(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert main(["check", "b.xlsx", "--log", str(tmp_path / "none" / "run.log")]) == 2
    assert "run.log" in capsys.readouterr().err


def test_interrupting_is_not_a_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    answer(monkeypatch, "check", KeyboardInterrupt())
    assert main(["check", "b.xlsx"]) == 130
    assert capsys.readouterr().err.strip().endswith("proofgen: interrupted.")


def test_help_imports_nothing_heavy() -> None:
    heavy = (
        "numpy",
        "shapely",
        "openpyxl",
        "PIL",
        "fontTools",
        "uharfbuzz",
        "pathops",
        "svgelements",
    )
    program = (
        "import sys; from proofgen.cli.program import main; code = main(['--help']);"
        f"print([name for name in {heavy!r} if name in sys.modules], code)"
    )
    ran = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, encoding="utf-8", check=True
    )
    assert ran.stdout.splitlines()[-1] == "[] 0"


@pytest.mark.parametrize("name", ["orders.xlsx", "notes.txt"])
def test_a_log_replaces_nothing_of_the_persons(name, tmp_path, capsys):
    file = tmp_path / name
    file.write_bytes(b"PK\x03\x04 dear to me")
    assert main(["check", str(file), "--log", str(file)]) == 2
    assert file.read_bytes() == b"PK\x03\x04 dear to me"
    assert "name another file" in capsys.readouterr().err


def test_a_log_replaces_an_older_log(tmp_path):
    log = tmp_path / "proofgen.log"
    for _ in range(2):
        assert main(["check", str(tmp_path / "absent.xlsx"), "--log", str(log)]) == 2
    assert log.read_text(encoding="utf-8").count("unusable input") == 1
