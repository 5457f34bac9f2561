"""The contact sheet as a person uses it: keys, search, copying, printing, on a phone and a desk."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from browser import CHROMIUM, Tab, tab
from PIL import Image

from proofgen.contact.cards import Card
from proofgen.contact.page import write_page

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="there is no Chromium on this machine")

ROWS = 3000
HOSTILE = '<img src=x onerror="document.title=1"><script>document.title=2</script>'
SIZES = {"phone": ((390, 844), True), "desk": ((1280, 900), False)}
# WCAG 2.2, relative luminance; the background is that of the nearest box that has one.
CONTRAST = """
(() => {
  const light = (c) => { const [r, g, b] = c.match(/[\\d.]+/g).slice(0, 3)
    .map((v) => v / 255).map((v) => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  const behind = (e) => { while (e) { const c = getComputedStyle(e).backgroundColor;
    if (!/^rgba.*, 0\\)$/.test(c)) return c; e = e.parentElement; } return "rgb(255, 255, 255)"; };
  const texts = [...document.querySelectorAll("body *")].filter((e) => e.offsetParent
    && [...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim()));
  return Math.min(...texts.map((e) => { const a = light(getComputedStyle(e).color),
    b = light(behind(e)); return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05); }));
})()
"""
NAMELESS = """
[...document.querySelectorAll("button, input, select")].filter((e) => e.offsetParent
  && !(e.getAttribute("aria-label") || e.textContent.trim() || e.labels?.length)).length
"""
SMALL = """
[...document.querySelectorAll("button")].filter((e) => e.offsetParent
  && e.getBoundingClientRect().height < 40).length
"""


def card(row: int, picture: Path) -> Card:
    verdict = ("ready", "look", "stop")[row % 3]
    flags = (("look", f"row {row}: odd.", "Look at it."),) if verdict != "ready" else ()
    return Card(
        order=f"T-{row}",
        row=row,
        buyer="Bo",
        title="Regatta boat" if row % 2 else "Harbour lantern",
        verdict=verdict,
        code=f"K{row}",
        texts=(("name", HOSTILE if row == 2 else f"Zoë {row}"),),
        flags=flags,
        message=f"Hello {row}",
        picture=picture,
    )


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sheet")
    picture = folder / "picture.png"
    Image.new("RGB", (108, 135), (160, 120, 80)).save(picture)
    page = folder / "contact.html"
    write_page(page, "A workshop", [card(row, picture) for row in range(2, ROWS + 2)])
    return page


@pytest.fixture(scope="module", params=SIZES)
def opened(request, sheet: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Tab]:
    size, mobile = SIZES[request.param]
    with tab(tmp_path_factory.mktemp("browser"), sheet, size, mobile) as found:
        yield found


@pytest.fixture
def page(opened: Tab) -> Tab:
    """All rows, nothing open, what would be copied noted."""
    opened.run("document.getElementById('large').close()")
    opened.run("document.getElementById('search').reset()")
    opened.run("document.getElementById('search').dispatchEvent(new Event('input'))")
    opened.run(
        "window.copied = null; Object.defineProperty(navigator, 'clipboard', {configurable: true,"
        " value: {writeText: async (text) => { window.copied = text; }}})"
    )
    return opened


def test_it_fits_the_screen_and_can_be_read_and_touched(page: Tab) -> None:
    assert page.run("document.documentElement.scrollWidth <= innerWidth")
    assert page.run(CONTRAST) >= 4.5
    assert page.run(NAMELESS) == 0
    assert page.run(SMALL) == 0
    assert page.run("document.querySelectorAll('article').length") < ROWS


def test_it_finds_and_filters(page: Tab) -> None:
    page.run("at('wanted').value = 'zoe 17'; choose()")
    names = page.run("[...document.querySelectorAll('dd')].map((e) => e.textContent).join()")
    assert "Zoë 17" in names
    assert "Zoë 18" not in names
    page.run("at('wanted').value = ''; at('design').value = 'Regatta boat'")
    page.run("document.querySelector('#verdicts input[value=stop]').click()")
    boats = sum(row % 2 == 1 and row % 3 != 2 for row in range(2, ROWS + 2))
    assert page.run("at('count').textContent") == f"{boats} of {ROWS} rows"


def test_keys_enlarge_turn_over_and_close(page: Tab) -> None:
    page.run("document.querySelectorAll('button.picture')[1].focus()")
    page.press("Enter", 13)
    assert page.run("at('large').open")
    assert "order T-3" in page.run("at('whole').alt")
    page.press("ArrowRight", 39)
    assert "order T-4" in page.run("at('whole').alt")
    page.press("ArrowLeft", 37)
    page.press("ArrowLeft", 37)
    assert "order T-2" in page.run("at('whole').alt")
    page.press("Escape", 27)
    assert not page.run("at('large').open")
    focused = page.run("document.activeElement.getAttribute('aria-label')")
    assert focused == "Enlarge the picture of order T-3, row 3"


def test_the_message_is_copied_and_a_picture_that_cannot_be_opens(page: Tab) -> None:
    buttons = "[...document.querySelectorAll('.buttons button')]"
    named = f"(word) => {buttons}.find((button) => button.textContent === word)"
    page.run(f"({named})('Copy message').click()")
    assert (
        page.run("new Promise((done) => setTimeout(() => done(window.copied), 100))") == "Hello 2"
    )
    page.run("window.opened = ''; window.open = (address) => { window.opened = address; }")
    page.run(f"({named})('Copy picture').click()")
    said = page.run("new Promise((done) => setTimeout(() => done(at('said').textContent), 500))")
    assert page.run("window.opened") == "picture.png"
    assert "opens by itself" in said


def test_print_has_every_row_and_no_controls(page: Tab) -> None:
    page.run("dispatchEvent(new Event('beforeprint'))")
    page.call("Emulation.setEmulatedMedia", media="print")
    assert page.run("document.querySelectorAll('article').length") == ROWS
    assert page.run(
        "[...document.querySelectorAll('button:not(.picture), form')].every((e) => !e.offsetParent)"
    )
    page.call("Emulation.setEmulatedMedia", media="")


def test_texts_stay_texts_and_nothing_leaves_the_page(page: Tab) -> None:
    assert page.run("document.title") == "A workshop"
    assert page.run("document.querySelectorAll('article script, article img[onerror]').length") == 0
    assert [each for each in page.requests if not each.startswith(("file:", "data:"))] == []
