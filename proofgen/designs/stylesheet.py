"""What style sheets and style attributes say about shapes, written on the elements themselves.

A subset of CSS (Selectors 3; Cascading and Inheritance 3, section 6; from memory): selectors of one
element by its name, classes and id. Whatever else would change a shape is refused, since it would
be made otherwise than it is seen.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from proofgen.designs.safe_svg import MASKING, SVG, TURNED_ABOUT, named
from proofgen.errors import UnusableError

FOLLOWED = ("display", "visibility", "fill-rule")
# What is read from attributes alone.
UNREAD = (
    *("transform", TURNED_ABOUT, "translate", "rotate", "scale", "offset-path", "zoom"),
    *("d", "x", "y", "cx", "cy", "r", "rx", "ry"),
)
HARMLESS = ("@font-face", "@charset", "@namespace")

_COMMENT = re.compile(r"/\*.*?\*/|<!--|-->", re.S)
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
# A rule that holds rules, such as `@media print {...}`, and what is in it.
_NEST = re.compile(r"@media\b[^{}]*\{((?:[^{}]*\{[^{}]*\})*)\s*\}")
_STATEMENT = re.compile(r"@[^{};]*;")
_SELECTOR = re.compile(r"(?P<name>\*|[\w-]+)?(?P<marks>(?:[.#][\w-]+)*)")


@dataclass(frozen=True, slots=True)
class _Said:
    """A property with its value, in small letters, and whether it is !important."""

    key: str
    value: str
    important: bool


@dataclass(frozen=True, slots=True)
class _Rule:
    """A selector's weight (ids, classes, names) and place in the file, and what it asks."""

    weight: tuple[int, int, int, int]
    name: str
    id: str
    classes: frozenset[str]
    said: tuple[_Said, ...]

    def fits(self, element: Element) -> bool:
        classes = frozenset(element.attrib.get("class", "").split())
        return (
            self.name in ("", "*", element.tag.rpartition("}")[2])
            and self.id in ("", element.attrib.get("id"))
            and self.classes <= classes
        )


def apply_styles(root: Element, file: str) -> None:
    """Leave on each element a style of what was said of its shape; style sheets are emptied.

    UnusableError for a rule that would change a shape and is not followed.
    """
    sheets = [element for element in root.iter() if element.tag == f"{SVG}style"]
    rules = sorted(_rules("\n".join(s.text or "" for s in sheets), file), key=lambda r: r.weight)
    for sheet in sheets:
        sheet.text = ""
    for element in root.iter():
        if element.tag.startswith(SVG):
            every = [d for rule in rules if rule.fits(element) for d in rule.said]
            every += _declared(element.attrib.pop("style", ""))
            said = {d.key: d.value for d in sorted(every, key=lambda d: d.important)}
            _refuse(said, f"{file}, {named(element)}")
            element.attrib["style"] = ";".join(f"{k}:{v}" for k, v in said.items() if k in FOLLOWED)


def _rules(text: str, file: str) -> Iterator[_Rule]:
    text = _STATEMENT.sub("", _COMMENT.sub("", text))
    place = f"{file}, element <style>"
    text = _NEST.sub(lambda nest: nest[0] if _matters(nest[1]) else "", text)
    for order, (selectors, body) in enumerate(_RULE.findall(text)):
        said = _declared(body)
        for selector in map(str.strip, selectors.split(",")):
            if selector.startswith(HARMLESS):
                continue
            found = _SELECTOR.fullmatch(selector)
            if found:
                yield _rule(found["name"] or "", found["marks"], order, said)
            elif selector.startswith("@") or _shapes(said):
                raise UnusableError(
                    f"{place}: the rule '{selector}' is not followed; save the drawing with styles "
                    f"on its elements."
                )
    if "{" in _RULE.sub("", text):
        raise UnusableError(f"{place}: rules within rules are not followed; take them out.")


def _shapes(said: Iterable[_Said]) -> bool:
    """Whether it says anything of shapes."""
    return any(d.key in (*FOLLOWED, *MASKING, *UNREAD) for d in said)


def _matters(rules: str) -> bool:
    """Whether any of the rules within a rule says anything of shapes."""
    return any(_shapes(_declared(body)) for _, body in _RULE.findall(rules))


def _rule(name: str, marks: str, order: int, said: tuple[_Said, ...]) -> _Rule:
    ids = re.findall(r"#([\w-]+)", marks)
    classes = re.findall(r"\.([\w-]+)", marks)
    weight = (len(ids), len(classes), int(name not in ("", "*")), order)
    return _Rule(weight, name, ids[0] if ids else "", frozenset(classes), said)


def _declared(text: str) -> tuple[_Said, ...]:
    pairs = (part.partition(":") for part in _COMMENT.sub("", text).lower().split(";"))
    found = ((key.strip(), *value.partition("!")) for key, _, value in pairs)
    return tuple(_Said(key, value.strip(), bool(mark)) for key, value, mark, _ in found)


def _refuse(said: dict[str, str], place: str) -> None:
    for key, value in said.items():
        if key in MASKING and value != "none":
            raise UnusableError(f"{place}: {key} is not followed; draw what is to remain.")
        if key in UNREAD and value not in ("none", "auto"):
            raise UnusableError(
                f"{place}: its style sets '{key}', which is not read; save it as an attribute."
            )
