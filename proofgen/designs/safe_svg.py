"""What a drawing may hold: checked on its bytes before anything interprets them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from xml.etree.ElementTree import Element, ParseError

from defusedxml import DefusedXmlException
from defusedxml.ElementTree import fromstring

from proofgen.errors import UnusableError

SVG = "{http://www.w3.org/2000/svg}"
MOST_BYTES = 5_000_000
MOST_ELEMENTS = 3_000
MOST_DEEP = 100  # elements within one another; each costs the readers a call

DRAWN = ("path", "rect", "circle", "ellipse", "line", "polyline", "polygon")
KEPT = (*DRAWN, "svg", "g", "defs", "title", "desc", "metadata", "style")
REFUSED = {
    "script": "scripts are not allowed; take it out",
    "image": "pictures cannot be cut or engraved; trace it into paths",
    "text": "draw texts as outlines (convert to path)",
    "use": "linked copies are not read; unlink the copy",
    "svg": "drawings within drawings are not read; ungroup it",
}
# Attributes that change what is seen in ways that no outline can follow.
MASKING = ("clip-path", "mask", "filter")

TURNED_ABOUT = "transform-origin"

# XML 1.0, section 2.8: a document type that only names an outside one, which is never fetched.
PLAIN_DOCTYPE = re.compile(
    rb"""<!DOCTYPE\s+[\w:]+(\s+(SYSTEM|PUBLIC\s+("[^"<>]*"|'[^'<>]*'))\s+("[^"<>]*"|'[^'<>]*'))?\s*>"""
)

# SVG 2, section 9.3.9: what no path data holds.
NO_PATH_DATA = re.compile(r"[^MZLHVCSQTAE\d\s,.+-]+", re.I)

SIDES = {"rect": ("width", "height"), "circle": ("r",), "ellipse": ("rx", "ry")}
ZERO = re.compile(r"[+-]?(0+\.?0*|\.0+)\s*[a-zQ%]*")

# CSS Transforms 1, section 8: what a transform attribute may hold, but for what stands in brackets.
TRANSFORMS = re.compile(
    r"[\s,]*((matrix|translate|scale|rotate|skewX|skewY)\s*\([^()a-df-z]*\)[\s,]*)*|none"
)


def parse_svg(data: bytes, file: str) -> Element:
    """The root element of a harmless SVG; UnusableError naming file and element otherwise."""
    if len(data) > MOST_BYTES:
        raise UnusableError(f"{file}: is larger than {MOST_BYTES // 10**6} MB; simplify it.")
    try:
        root: Element = fromstring(PLAIN_DOCTYPE.sub(b"", data, count=1), forbid_dtd=True)
    except DefusedXmlException:
        raise UnusableError(
            f"{file}: has entities or a DOCTYPE that declares something; save it as plain SVG."
        ) from None
    except (ParseError, LookupError, ValueError) as error:
        raise UnusableError(f"{file}: is not readable XML: {error}.") from None
    if root.tag != f"{SVG}svg":
        raise UnusableError(f"{file}: is not an SVG drawing (its root is <{_short(root.tag)}>).")
    _check_children(root, file)
    return root


def _check_children(root: Element, file: str) -> None:
    _check_attributes(root, file)
    waiting = [(root, False, 1)]
    count = 0
    while waiting:
        parent, in_defs, depth = waiting.pop()
        if depth > MOST_DEEP:
            raise UnusableError(
                f"{file}, {named(parent)}: lies in more than {MOST_DEEP} groups; ungroup it."
            )
        for element in parent:
            count += 1
            _check_tag(element, in_defs, file)
            _check_attributes(element, file)
            waiting.append((element, in_defs or element.tag == f"{SVG}defs", depth + 1))
    if count > MOST_ELEMENTS:
        raise UnusableError(
            f"{file}: has {count} elements; at most {MOST_ELEMENTS} are read; simplify it."
        )


def _check_tag(element: Element, in_defs: bool, file: str) -> None:
    """Foreign namespaces (what drawing programs note for themselves) draw nothing and may stay."""
    name = _short(element.tag)
    if name in REFUSED:
        raise UnusableError(f"{file}, {named(element)}: {REFUSED[name]}.")
    if element.tag.startswith(SVG) and name not in KEPT and not in_defs:
        raise UnusableError(
            f"{file}, {named(element)}: <{name}> is not read; draw it as a path or take it out."
        )
    if name == "style" and re.search(r"@import|url\(\s*['\"]?(?!#)", element.text or "", re.I):
        raise UnusableError(f"{file}, {named(element)}: refers to another file; take it out.")


def _check_attributes(element: Element, file: str) -> None:
    _check_shape(element, file)
    for key, value in element.attrib.items():
        name = _short(key)
        if name.lower().startswith("on"):
            raise UnusableError(f"{file}, {named(element)}: scripts are not allowed ({name}).")
        linked = name == "href" and not value.strip().startswith("#")
        if linked or re.search(r"url\(\s*['\"]?\s*(?![#'\"\s])", value, re.I):
            raise UnusableError(
                f"{file}, {named(element)}: refers to something outside the file; take it out."
            )
        if name == TURNED_ABOUT:
            raise UnusableError(
                f"{file}, {named(element)}: {name} is not read; save its transform without it."
            )
        if name in MASKING and value.strip() != "none":
            raise UnusableError(
                f"{file}, {named(element)}: {name} is not followed; draw what is to remain."
            )


def _check_shape(element: Element, file: str) -> None:
    """Data at which a reader would stop, or that it would pass over, without a word."""
    odd = NO_PATH_DATA.search(element.attrib.get("d", "") + element.attrib.get("points", ""))
    if odd:
        raise UnusableError(f"{file}, {named(element)}: '{odd[0]}' is no path data; mend it.")
    transform = element.attrib.get("transform", "")
    if not TRANSFORMS.fullmatch(transform):
        raise UnusableError(
            f"{file}, {named(element)}: its transform '{transform}' cannot be read; draw it anew."
        )


def without_size(root: Element) -> Iterator[str]:
    """The ids of rectangles, circles and ellipses that draw nothing (SVG 2, section 10)."""
    for element in root.iter():
        sides = SIDES.get(_short(element.tag), ())
        if any(ZERO.fullmatch(element.attrib.get(side, "0").strip()) for side in sides):
            yield element.attrib.get("id", "")


def named(element: Element) -> str:
    """How a sentence calls an element: by its id where it has one."""
    wanted = element.attrib.get("id")
    return f"element '{wanted}'" if wanted else f"an element <{_short(element.tag)}>"


def _short(name: str) -> str:
    return name.rpartition("}")[2]
