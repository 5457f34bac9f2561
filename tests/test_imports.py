"""Which room may import which: the plan of the house, kept by a test."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from graphlib import TopologicalSorter
from pathlib import Path

import proofgen

PACKAGE = Path(proofgen.__file__).parent

# What every room may use: it knows nothing of the job.
TOOLS = {"errors", "files", "config", "resources", "progress", "cache"}

# In the order in which data walks through them; a room imports only from rooms above it.
ROOMS: dict[str, set[str]] = {
    "geometry": set(),
    "flags": set(),
    "workshop": set(),
    "faces": {"geometry"},
    "orders": {"flags", "workshop"},
    "designs": {"geometry", "flags", "workshop", "orders"},
    "money": {"workshop"},
    "lettering": {"geometry", "flags", "workshop", "faces", "designs"},
    "artwork": {"geometry", "flags", "workshop", "faces", "orders", "designs", "lettering"},
    "checks": {"geometry", "flags", "workshop", "orders", "designs", "lettering", "artwork"},
    "nesting": {"geometry"},
    "remedies": {"flags", "workshop", "faces", "orders", "designs", "lettering", "artwork"},
    "records": {"geometry", "flags", "orders", "designs", "lettering", "artwork"},
    "desk": {"flags", "workshop", "orders", "designs", "money", "artwork", "records"},
    "proofs": {"geometry", "workshop", "faces", "orders", "designs", "lettering", "artwork"},
    "results": {"flags", "orders", "artwork"},
    "contact": {"flags", "orders", "artwork", "results"},
    "starting": {"workshop", "orders", "designs"},
    "production": {
        *("geometry", "workshop", "orders", "designs", "lettering", "artwork", "proofs"),
    },
    "sheets": {"geometry", "workshop", "orders", "designs", "artwork", "nesting", "records"},
    "jobsheet": {
        *("geometry", "workshop", "faces", "orders", "artwork", "proofs", "results"),
        *("nesting", "sheets"),
    },
    "season": {"flags", "workshop", "money", "sheets"},
    "testcard": {
        *("geometry", "workshop", "faces", "orders", "designs", "lettering", "artwork", "proofs"),
    },
}
# What joins the rooms, for the commands: each may use every room, and those before it here.
JOINING = ["day", "making", "books", "told", "cli"]

# Where each library is spoken to, by file or by room; its objects stop there.
ADAPTERS: dict[str, tuple[str, ...]] = {
    "shapely": ("geometry.",),
    "pathops": ("geometry.weld",),
    "uharfbuzz": ("faces.face",),
    "fontTools": ("faces.",),
    "bidi": ("faces.direction",),
    "svgelements": ("designs.drawing",),
    "isal": ("cache", "proofs.png", "records.archive", "records.memory"),
    "openpyxl": (
        *("orders.scan", "orders.xlsx", "results.", "season.workbook", "starting."),
        "testcard.answers_book",
    ),
    "PIL": ("proofs.", "results.thumbnail", "day.sets"),
    "reportlab": ("proofs.sheet",),
    "tomlkit": ("workshop.edit",),
    "spyrrow": ("nesting.child",),
    "ezdxf": ("production.sheet_dxf",),
    "click": ("cli.",),
    "sqlite3": ("cache", "records.archive", "records.schema"),
}


@cache
def _files() -> tuple[tuple[str, ast.Module], ...]:
    """Every file of ours by its name as a module, without the package's."""
    files = {
        ".".join(file.relative_to(PACKAGE).with_suffix("").parts): file
        for file in sorted(PACKAGE.rglob("*.py"))
    }
    return tuple((n, ast.parse(file.read_text(encoding="utf-8"))) for n, file in files.items())


def _imported(tree: ast.Module) -> Iterator[str]:
    """Every module that is named in an import, wherever in the file it stands."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are absolute"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def _own(tree: ast.Module) -> set[str]:
    """The modules of ours that a file imports, without the package's name."""
    known = {name for name, _ in _files()}
    found = set()
    for name in _imported(tree):
        parts = name.split(".")
        if parts[0] == "proofgen":
            inner = ".".join(parts[1:])
            found.add(inner if inner in known else ".".join(parts[1:-1]))
    return found - {""}


def test_a_room_imports_only_what_the_plan_allows() -> None:
    wrong = []
    for name, tree in _files():
        room = name.split(".")[0]
        if room in TOOLS or name == "__init__":
            continue
        allowed = _above(room) | TOOLS | {room}
        wrong += [f"{name} imports {m}" for m in _own(tree) if m.split(".")[0] not in allowed]
    assert wrong == []


def test_the_plan_itself_only_looks_up() -> None:
    rooms = list(ROOMS)
    assert [room for room in rooms if not ROOMS[room] <= set(rooms[: rooms.index(room)])] == []


def _above(room: str) -> set[str]:
    return ROOMS[room] if room in ROOMS else {*ROOMS, *JOINING[: JOINING.index(room)]}


def test_tools_import_no_room() -> None:
    wrong = []
    for name, tree in _files():
        used = {module.split(".")[0] for module in _own(tree)}
        wrong += [f"{name} imports {room}" for room in used - TOOLS if name in TOOLS]
    assert wrong == []


def test_there_are_no_cycles() -> None:
    # static_order raises CycleError, which names the cycle.
    assert list(TopologicalSorter({name: _own(tree) for name, tree in _files()}).static_order())


def test_libraries_stop_at_their_adapters() -> None:
    wrong = []
    for name, tree in _files():
        used = {module.split(".")[0] for module in _imported(tree)} & set(ADAPTERS)
        wrong += [f"{name} imports {lib}" for lib in used if not name.startswith(ADAPTERS[lib])]
    assert wrong == []
