"""Pages of rows made for the browser, and what a person does with one."""

from __future__ import annotations

import functools
import http.server
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from browser import Tab
from PIL import Image

from proofgen.contact.cards import Card
from proofgen.contact.page import write_page
from proofgen.results.thumbnail import Thumbnails

HOSTILE = (
    '</script><script>document.title="changed"</script><img src="http://x.invalid/" onerror=x>'
)
LONG = "Lanternwickharbourmaster" * 8
TITLE = "A & B <workshop>"
# Of the last but one, which cannot be made, as it was typed.
FINISHES = {
    3: (("finish", "natural"), ("hanger", "ribbon")),
    5: (("finish", "natural"), ("finish", "walnut stain")),
    7: (("finish", "wallnut"),),
    8: (("finish", "walnut stain"),),
}
WHOLE = (470, 300)  # px, of the picture of a whole order
WIDTH = 400  # px; a picture is as much wider as its number says


def quiet(_done: int, _total: int) -> None:
    """Tests show no progress."""


def card(row: int, name: str, verdict: str, design: str, picture: Path | None) -> Card:
    flags = () if verdict == "ready" else ((verdict, f"row {row}: odd.", "Look at it."),)
    texts = (("name", name), ("year", "2027"))
    message = f"Hello {name},\nhere it is." if picture else ""
    code = "" if row == 7 else f"K7MQ-{row:04d}"
    sets = (picture.with_name("order #5-set.png"),) if picture and row == 5 else ()
    return Card(
        *(f"T-{row}", row, f"B. {row}", design, verdict, code, texts, flags, message, picture),
        sets=sets,
        apart="Row 4 of this order stops: the message is without it." if row == 3 else "",
    )


def drawn(folder: Path, number: int) -> Path:
    """A picture whose width tells which it is."""
    path = folder / f"No. {number} #.png"
    Image.new("RGB", (WIDTH + number % 100, 500), (230, number % 256, 180)).save(path)
    return path


def few(folder: Path) -> Path:
    """A page of seven rows; the third and the sixth have no picture."""
    rows = (
        card(2, "Amélie", "ready", "Boat", drawn(folder, 2)),
        card(3, "Ida & Bo", "look", "Boat", drawn(folder, 3)),
        card(4, HOSTILE, "stop", "Boat", None),
        card(5, "Ida", "ready", "Lantern", drawn(folder, 5)),
        card(6, "Łucja O\u2019Groß-Ø", "look", "Lantern", drawn(folder, 6)),
        card(7, "Ida", "stop", "Lantern", None),
        card(8, "Евгения", "ready", "Plaque", drawn(folder, 8)),
    )
    rows = tuple(replace(each, chosen=FINISHES.get(each.row, ())) for each in rows)
    Image.new("RGB", WHOLE, (90, 120, 180)).save(folder / "order #5-set.png")
    write_page(folder / "contact.html", TITLE, rows, Thumbnails(folder), quiet)
    return folder / "contact.html"


def many(folder: Path) -> Path:
    """A page of 3,000 rows, the first two as bad as rows get, some with a picture."""
    verdicts = ("ready", "look", "stop")
    rows = [card(2, HOSTILE, "look", HOSTILE, drawn(folder, 2)), card(3, LONG, "stop", LONG, None)]
    for row in range(4, 3002):
        picture = None if row % 30 else drawn(folder, row)
        rows.append(card(row, f"Ida {row}", verdicts[row % 3], "Boat", picture))
    write_page(folder / "contact.html", TITLE, rows, Thumbnails(folder), quiet)
    return folder / "contact.html"


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The folder on a web server of this machine, for as long as the block lasts."""

    class Quiet(http.server.SimpleHTTPRequestHandler):
        def log_message(self, *said: object) -> None:
            """Tests say nothing."""

    answers = functools.partial(Quiet, directory=str(folder))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), answers) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()


def focused(tab: Tab) -> str:
    return str(tab.run("document.activeElement.getAttribute('aria-label')"))


def enlarged(tab: Tab) -> int:
    """Which picture is enlarged, by its width; 0 where none is."""
    tab.until("!document.getElementById('large').open || document.getElementById('whole').complete")
    width = tab.run(
        "document.getElementById('large').open && document.getElementById('whole').naturalWidth"
    )
    return width - WIDTH if width else 0


def rows(tab: Tab) -> list[int]:
    """The rows whose cards stand there."""
    return [
        int(order.removeprefix("T-"))
        for order in tab.run("[...document.querySelectorAll('h2')].map((h) => h.textContent)")
    ]


def said(tab: Tab, place: str) -> str:
    return str(tab.run(f"document.getElementById('{place}').textContent"))


def click(tab: Tab, selector: str) -> None:
    """Press what the selector finds, in its middle, as a finger or a mouse does."""
    x, y = tab.run(f"""(() => {{
        const found = document.querySelector(`{selector}`);
        found.scrollIntoView({{ block: 'center' }});
        const box = found.getBoundingClientRect();
        return [box.x + box.width / 2, box.y + box.height / 2];
    }})()""")
    tab.click(x, y)


CONTROLS = """[...document.querySelectorAll('button, select, input')]
    .filter((control) => control.checkVisibility())
    .map((control) => control.type === 'checkbox' ? control.closest('label') : control)"""
