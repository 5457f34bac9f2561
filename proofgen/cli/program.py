"""The command line: parse, one call, print, exit code. Decides nothing.

Exit codes of every command: 0 done, 1 some rows stopped, 2 the book, workshop or call cannot be
used. Whatever takes long to import is imported inside the commands, so that --help is quick.
"""

from __future__ import annotations

import io
import logging
import sys
from collections.abc import Sequence

import click

from proofgen.cli.bench import calibrate, made, redo, resume
from proofgen.cli.card import testcard
from proofgen.cli.day import collected, message, next_year, packed, start, status
from proofgen.cli.designs import choices, designs
from proofgen.cli.money import money, season
from proofgen.cli.options import DONE, UNUSABLE, log
from proofgen.cli.rows import check, make, proof
from proofgen.cli.sheets import sheets, stock
from proofgen.errors import UnusableError

# What a shell expects of a program that was interrupted: 128 + SIGINT (POSIX, 2.8.2).
_INTERRUPTED = 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; the person sees sentences, never a traceback."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    try:
        code = _cli.main(arguments, prog_name="proofgen", standalone_mode=False)
    except click.ClickException as error:
        error.show()
        return UNUSABLE
    except UnusableError as error:
        log.info("unusable input", exc_info=True)
        return _say(str(error))
    except (click.Abort, KeyboardInterrupt):
        _say("interrupted.")
        return _INTERRUPTED
    except Exception as error:  # The only place that may: a bug of ours must end in a sentence.
        return _say_bug(error)
    return int(code or DONE)


def _say(sentence: str) -> int:
    click.echo(f"proofgen: {sentence}", err=True)
    return UNUSABLE


def _say_bug(error: Exception) -> int:
    log.critical("unexpected error", exc_info=error)
    file = next((h.baseFilename for h in log.handlers if isinstance(h, logging.FileHandler)), None)
    what = f"{type(error).__name__}: {error}".splitlines()[0]
    if file:
        return _say(f"this is a mistake of the program's ({what}); please send us {file}.")
    return _say(
        f"this is a mistake of the program's ({what}); run the same command with --log FILE and "
        "send us that file."
    )


@click.group()
@click.version_option(package_name="proofgen", message="%(prog)s %(version)s")
def _cli() -> None:
    """From a sheet of orders to proofs and production art for wooden keepsakes."""


for _command in (
    *(check, proof, make, status, message, packed, collected, start, next_year),
    *(designs, choices, sheets, stock, made, redo, resume, calibrate, testcard, money, season),
):
    _cli.add_command(_command)
