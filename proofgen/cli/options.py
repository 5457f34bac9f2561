"""What several commands take on the command line."""

from __future__ import annotations

import logging
import re
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from proofgen.errors import UnusableError

if TYPE_CHECKING:
    from proofgen.day.pipeline import Options

Command = Callable[..., Any]

DONE, STOPPED, UNUSABLE = 0, 1, 2

log = logging.getLogger("proofgen")

# How a line of our log begins.
_OURS = re.compile(rb"\d{4}-\d\d-\d\d [\d:,]+ [A-Z]+ proofgen")


def _log_to(_context: click.Context, _parameter: click.Parameter, file: Path | None) -> None:
    for old in tuple(log.handlers):
        log.removeHandler(old)
        old.close()
    log.propagate = False
    log.addHandler(logging.NullHandler() if file is None else _log_file(file))
    log.setLevel(logging.DEBUG)


def _log_file(file: Path) -> logging.Handler:
    """A log that may replace an older one of ours, and nothing else."""
    try:
        begun = file.read_bytes()[:200] if file.exists() else b""
        if begun and not _OURS.match(begun):
            raise UnusableError(f"{file} is there already and is no log; name another file for it.")
        handler = logging.FileHandler(file, mode="w", encoding="utf-8")
    except OSError as error:
        raise UnusableError(f"{file}: cannot be written ({error.strerror}).") from None
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))
    return handler


BOOK = click.argument("book", type=click.Path(path_type=Path))
WORKSHOP = click.option(
    "--workshop",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Workshop file; else workshop.toml beside the book; else the defaults that ship.",
)
LOG = click.option(
    "--log",
    metavar="FILE",
    type=click.Path(path_type=Path),
    callback=_log_to,
    expose_value=False,
    is_eager=True,
    help="Write down what is done, and the details of an error.",
)
JSON = click.option("--json", "json", is_flag=True, help="Print one JSON object, nothing else.")
WRITE_BACK = click.option(
    "--write-back",
    is_flag=True,
    help="Put verdict, remedy and code into columns of the book itself, after a backup of it.",
)
ORDER = click.option("--order", "orders", multiple=True, help="Only this order; may be repeated.")
BOOK_OPTIONS = (
    BOOK,
    ORDER,
    click.option(
        "--out",
        metavar="DIR",
        type=click.Path(path_type=Path),
        help="Folder for what is written; else beside the book.",
    ),
    WORKSHOP,
    click.option("--sheet", default="", metavar="NAME", help="Where several sheets hold orders."),
    click.option("--skip-hidden", is_flag=True, help="Leave out hidden and filtered rows."),
    click.option(
        "--jobs",
        metavar="N",
        type=click.IntRange(min=0),
        default=0,
        help="Processes to work with; 0, as by itself, for what suits.",
    ),
    LOG,
    JSON,
)


def with_(*decorators: Command) -> Command:
    """Several decorators as one, the first outermost."""

    def decorate(command: Command) -> Command:
        for decorator in reversed(decorators):
            command = decorator(command)
        return command

    return decorate


class _Day(click.DateTime):
    """A day of this age, so that days before and after it can be counted."""

    def __init__(self) -> None:
        super().__init__(formats=["%Y-%m-%d"])

    def convert(self, value: Any, param: Any, ctx: Any) -> datetime:
        found: datetime = super().convert(value, param, ctx)
        if not 2000 <= found.year <= 2999:
            self.fail(f"{value}: the year must be 2000 to 2999.", param, ctx)
        return found


DAY = _Day()
ANYWAY = click.option("--anyway", is_flag=True, help="Also what is not approved or not made yet.")
LINE = click.option(
    "--line",
    type=click.IntRange(min=0),
    default=0,
    metavar="N",
    help="Which line of an order of several.",
)
ORDERS = click.argument("orders", nargs=-1)
MATERIAL = click.option("--material", default="", metavar="ID", help="Else the first there is.")


def options_of(**options: Any) -> Options:
    """What the command line said, as the pipeline takes it."""
    from proofgen.day import pipeline

    return pipeline.Options(**options)
