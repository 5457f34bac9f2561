"""The contact sheet as a person uses it, in a real Chromium at the sizes of a phone and a desk."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import axe_core_python.base
import contact_pages
import pytest
from browser import CHROMIUM, Browser, Tab
from contact_pages import CONTROLS, HOSTILE, TITLE, click, enlarged, focused, rows, said, served

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="there is no Chromium on this machine")

SIZES = pytest.mark.parametrize("size", [(390, 844), (1280, 900)], ids=["phone", "desk"])
TARGET = 40  # px: a fingertip; WCAG 2.2 asks for 24 (2.5.8) and better 44 (2.5.5)
CONTRAST = 4.5  # WCAG 2.2, 1.4.3: text of any size meets what small text needs
LOCAL = ("file:", "data:", "blob:", "http://127.0.0.1:")
AXE = Path(axe_core_python.base.__file__).with_name("axe.min.js")


@pytest.fixture(scope="module")
def few(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return contact_pages.few(tmp_path_factory.mktemp("few"))


@pytest.fixture(scope="module")
def many(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return contact_pages.many(tmp_path_factory.mktemp("many"))


@pytest.fixture
def tab(chromium: Browser) -> Iterator[Tab]:
    """A tab, in which nothing may go wrong and which may ask for nothing beyond this machine."""
    with chromium.tab() as found:
        yield found
        assert found.broken == []
        asked = [address for address in found.asked if not address.startswith(LOCAL)]
        assert asked == []


@SIZES
def test_thousands_of_rows_are_usable(tab: Tab, many: Path, size: tuple[int, int]) -> None:
    tab.size(*size)
    tab.open(many)
    assert said(tab, "count") == "3000 of 3000 rows"
    first = tab.run("document.querySelectorAll('article').length")
    assert 20 <= first <= 200, "cards are built as they are needed"
    wider = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    assert tab.run(wider) == 0
    assert tab.run("innerWidth") == size[0], "a page that does not fit is laid out wider"
    least = "(c) => Math.min(c.getBoundingClientRect().width, c.getBoundingClientRect().height)"
    assert tab.run(f"{CONTROLS}.length") > 10
    assert tab.run(f"Math.min(...{CONTROLS}.map({least}))") >= TARGET
    tab.run("window.scrollTo(0, document.body.scrollHeight)")
    tab.until(f"document.querySelectorAll('article').length > {first}")

    assert tab.run("document.title") == TITLE
    assert said(tab, "cards").count(HOSTILE) == 2, "name and design"
    data = "document.querySelectorAll('script:not([type=\\'text/plain\\'])').length"
    assert tab.run(data) == 2
    assert [address for address in tab.asked if address[:4] != "data"] == [many.as_uri()]


def test_pictures_are_enlarged_and_turned_over_by_keys(tab: Tab, few: Path) -> None:
    tab.size(1280, 900)
    tab.open(few)
    tab.run("document.querySelectorAll('.picture')[1].focus()")
    tab.press("Enter")
    assert enlarged(tab) == 3
    assert "picture 2 of 5" in said(tab, "about")
    tab.press("ArrowRight")
    assert enlarged(tab) == 5, "the row between has no picture"
    click(tab, "#whole")
    tab.press("ArrowLeft")
    tab.press("ArrowLeft")
    tab.press("ArrowLeft")
    assert enlarged(tab) == 2, "before the first there is none"
    tab.press("Escape")
    assert enlarged(tab) == 0
    last_seen = "Enlarge the picture of order T-2, row 2"
    tab.until(f"document.activeElement.ariaLabel === '{last_seen}'")
    tab.press("Enter")
    assert enlarged(tab) == 2
    tab.press("Escape")
    assert (enlarged(tab), focused(tab)) == (0, last_seen)


@pytest.mark.parametrize("size", [(390, 844), (844, 390), (667, 320), (1280, 900)])
def test_an_enlarged_picture_is_seen_whole(tab: Tab, few: Path, size: tuple[int, int]) -> None:
    """With the buttons under it, also on a phone that is held sideways."""
    tab.size(*size)
    tab.open(few)
    click(tab, ".picture")
    tab.until("document.getElementById('whole').naturalWidth")
    dialog = "document.getElementById('large')"
    assert tab.run(f"{dialog}.scrollHeight - {dialog}.clientHeight") == 0
    for part in ("whole", "about", "before", "after", "shut"):
        box = f"document.getElementById('{part}').getBoundingClientRect()"
        assert tab.run(f"{box}.top") >= 0, part
        assert tab.run(f"{box}.bottom") <= size[1], part
        assert tab.run(f"{box}.right") <= size[0], part
    shape = "(i) => i.width / i.height * i.naturalHeight / i.naturalWidth"
    assert tab.run(f"({shape})(document.getElementById('whole'))") == pytest.approx(1, abs=0.02)
    assert tab.run("document.getElementById('whole').height") >= size[1] / 2


def test_a_message_is_copied(tab: Tab, few: Path) -> None:
    """By the browser's clipboard, by the older way where that is refused, else plainly not."""
    tab.size(390, 844)
    tab.open(few)
    message = "Hello Ida & Bo,\nhere it is."
    for refused in ("0", "navigator.clipboard.writeText = () => Promise.reject(new Error('no'))"):
        tab.run("navigator.clipboard.writeText('before')")
        tab.run(refused)
        tab.run("document.getElementById('said').textContent = ''")
        click(tab, "[aria-label='Copy message of order T-3, row 3']")
        tab.until("document.getElementById('said').textContent")
        apart = "Row 4 of this order stops: the message is without it."
        assert said(tab, "said") == f"The message is copied. {apart}"
        assert said(tab, "cards").count(apart) == 1
        assert tab.run("navigator.clipboard.readText()") == message
        assert focused(tab) == "Copy message of order T-3, row 3"
    tab.run("document.execCommand = () => false")
    click(tab, "[aria-label='Copy message of order T-3, row 3']")
    tab.until("document.getElementById('said').textContent.includes('not')")
    assert said(tab, "said") == "The browser does not let this page copy."


COPIED = """navigator.clipboard.read().then(([item]) => item.getType('image/png'))
    .then(createImageBitmap).then((image) => [image.width, image.height])"""


def test_a_picture_is_copied_from_a_page_on_disk(tab: Tab, few: Path) -> None:
    """As it is opened by a double click, also where the page was moved away from its pictures."""
    for folder in (few.parent, few.parent / "elsewhere"):
        folder.mkdir(exist_ok=True)
        page = folder / few.name
        page.write_bytes(few.read_bytes())
        tab.size(390, 844)
        tab.open(page)
        tab.run("navigator.clipboard.writeText('before')")
        click(tab, "[aria-label='Copy picture of order T-5, row 5']")
        tab.until("document.getElementById('said').textContent")
        assert said(tab, "said") == "The picture is copied."
        assert tab.run(COPIED) == [405, 500]
    tab.broken.clear()


def test_a_page_without_its_pictures_enlarges_what_is_inside(tab: Tab, few: Path) -> None:
    alone = few.with_name("alone")
    alone.mkdir()
    (alone / few.name).write_bytes(few.read_bytes())
    tab.open(alone / few.name)
    click(tab, "[aria-label='Enlarge the picture of order T-5, row 5']")
    tab.until("document.getElementById('whole').src.startsWith('data:')")
    assert enlarged(tab) == 5
    tab.broken.clear()  # the file that is not there


def test_of_very_many_rows_a_picture_is_shown_to_be_copied(
    tab: Tab, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A browser lets no page read files beside it, so the page says what a person can do."""
    monkeypatch.setattr("proofgen.contact.page.COPIED", 4)
    page = contact_pages.few(tmp_path)
    assert "copy-5" not in page.read_text(encoding="utf-8")
    tab.size(390, 844)
    tab.open(page)
    click(tab, "[aria-label='Copy picture of order T-5, row 5']")
    tab.until("document.getElementById('large').open")
    assert enlarged(tab) == 5
    assert "Right-click it (on a phone, hold it)" in said(tab, "about")
    tab.press("Escape")
    assert focused(tab) == "Copy picture of order T-5, row 5"


def test_a_picture_of_a_served_page_is_copied_whole(tab: Tab, few: Path) -> None:
    with served(few.parent) as address:
        tab.go(f"{address}/contact.html")
        click(tab, "[aria-label='Copy picture of order T-5, row 5']")
        tab.until("document.getElementById('said').textContent")
        assert said(tab, "said") == "The picture is copied."
        assert tab.run(COPIED) == [405, 500]


def test_rows_are_found_by_verdict_design_and_words(tab: Tab, few: Path) -> None:
    tab.size(390, 844)
    tab.open(few)
    assert rows(tab) == [2, 3, 4, 5, 6, 7, 8]
    click(tab, "input[value=stop]")
    assert rows(tab) == [2, 3, 5, 6, 8]
    tab.run("document.getElementById('design').focus()")
    tab.type("L")
    assert (rows(tab), said(tab, "count")) == ([5, 6], "2 of 7 rows")
    click(tab, "input[value=stop]")
    tab.run("document.getElementById('wanted').focus()")
    tab.type("2027 IDA")
    assert rows(tab) == [5, 7]
    tab.type(" bo")
    assert (rows(tab), said(tab, "count")[:11]) == ([], "0 of 7 rows")
    tab.open(few)
    for wanted, found in (
        *(("amelie", [2]), ("евг", [8]), ("k7mq-0006", [6]), ("k7mq0006", [6]), ("B. 4", [4])),
        *(("walnut", [5, 8]), ("lucja", [6]), ("O'GROSS-O", [6]), ("o\u2019groß", [6])),
        *(("row 3", [3]), ("odd", [3, 4, 6, 7])),
    ):
        tab.run("document.getElementById('wanted').select()")
        tab.type(wanted)
        assert rows(tab) == found


def test_a_row_is_found_by_its_whole_number(tab: Tab, many: Path) -> None:
    tab.open(many)
    for wanted, found in (("row 12", [12]), ("ida Row  30 ", [30]), ("row 2 row 3", [])):
        tab.run("document.getElementById('wanted').select()")
        tab.type(wanted)
        assert rows(tab) == found


def test_rows_are_chosen_by_any_of_their_finishes(tab: Tab, few: Path) -> None:
    tab.open(few)
    offered = "[...document.querySelectorAll('#finish option')].map((each) => each.textContent)"
    assert tab.run(offered) == ["all", "natural", "walnut stain"]
    tab.run("document.getElementById('finish').focus()")
    tab.type("w")
    assert (rows(tab), said(tab, "count")) == ([5, 8], "2 of 7 rows")
    terms = "[...document.querySelectorAll('article:first-child dt')]"
    finish = "(term) => term.textContent === 'finish'"
    told = f"{terms}.filter({finish}).map((term) => term.nextSibling.textContent)"
    assert tab.run(told) == ["natural and walnut stain"]


@SIZES
def test_a_long_label_leaves_its_value_room(tab: Tab, few: Path, size: tuple[int, int]) -> None:
    tab.size(*size)
    tab.open(few)
    tab.run("document.querySelector('dt').textContent = 'hanger, not on the piece'")
    shares = (
        "[...document.querySelectorAll('article:first-child dd')]"
        ".map((value) => value.clientWidth / value.parentNode.clientWidth)"
    )
    assert min(tab.run(shares)) > 0.5


def test_a_list_of_one_choice_is_not_shown(tab: Tab, many: Path) -> None:
    tab.open(many)
    shown = "['design', 'finish'].map((id) => document.getElementById(id).offsetParent !== null)"
    assert tab.run(shown) == [True, False]


def test_a_picture_of_the_whole_order_is_linked(tab: Tab, few: Path) -> None:
    tab.open(few)
    links = "[...document.querySelectorAll('.buttons a')].map((a) => [a.ariaLabel, a.href])"
    (found,) = tab.run(links)
    assert found[0] == "Open whole order in one picture, of order T-5, row 5"
    assert found[1] == (few.parent / "order #5-set.png").as_uri()
    assert "walnut stain" in said(tab, "cards")


def test_a_picture_of_the_whole_order_is_copied(tab: Tab, few: Path) -> None:
    tab.size(390, 844)
    tab.open(few)
    tab.run("navigator.clipboard.writeText('before')")
    click(tab, "[aria-label='Copy whole order, of order T-5, row 5']")
    tab.until("document.getElementById('said').textContent")
    assert said(tab, "said") == "The picture is copied."
    assert tab.run(COPIED) == list(contact_pages.WHOLE)
    assert tab.run("document.querySelector('.buttons a').target") == "_blank"


def test_paper_shows_every_row_and_no_controls(tab: Tab, many: Path) -> None:
    tab.size(1280, 900)
    tab.open(many)
    tab.run("document.getElementById('wanted').focus()")
    tab.type("k7mq-11")
    tab.run("addEventListener('afterprint', () => { window.printed = true; })")
    paper = tab.print()
    tab.until("window.printed")
    assert rows(tab) == list(range(1100, 1200))
    assert paper.count(b"/Subtype /Image") == 3, "also the one that no screen has shown"
    tab.call("Emulation.setEmulatedMedia", media="print")
    assert tab.run(f"{CONTROLS}.filter((c) => !c.matches('.picture')).length") == 0


@SIZES
def test_axe_finds_no_fault_and_every_text_has_contrast(
    tab: Tab, few: Path, size: tuple[int, int]
) -> None:
    """axe-core, an independent checker of WCAG (https://github.com/dequelabs/axe-core)."""
    tab.size(*size)
    tab.open(few)
    tab.run(AXE.read_text(encoding="utf-8") + ";0")
    assert min(ratios(tab, "html")) >= CONTRAST
    click(tab, ".picture")
    assert enlarged(tab) == 2
    assert min(ratios(tab, "dialog")) >= CONTRAST


def ratios(tab: Tab, part: str) -> list[float]:
    """The contrast of each text in the part, where axe finds no fault and nothing undecided."""
    found = tab.run(f"axe.run('{part}')")
    nodes = [
        (rule["id"], node["html"], node["failureSummary"])
        for rule in (*found["violations"], *found["incomplete"])
        for node in rule["nodes"]
    ]
    assert nodes == []
    (contrast,) = (rule for rule in found["passes"] if rule["id"] == "color-contrast")
    return [check["data"]["contrastRatio"] for node in contrast["nodes"] for check in node["any"]]


def test_every_control_has_a_name_of_its_own(tab: Tab, few: Path) -> None:
    """By the browser's own accessibility tree, which a screen reader is given."""
    tab.size(1280, 900)
    tab.open(few)
    controls = {"button", "searchbox", "combobox", "checkbox"}
    found = [
        node["name"]["value"]
        for node in tab.call("Accessibility.getFullAXTree")["nodes"]
        if node.get("role", {}).get("value") in controls
    ]
    assert len(found) == tab.run(f"{CONTROLS}.length")
    assert all(found)
    assert len(set(found)) == len(found)
