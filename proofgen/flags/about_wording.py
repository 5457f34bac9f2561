"""Kinds of flags about the wording of a text, as a slip of the pen would leave it."""

from __future__ import annotations

from proofgen.flags.flag import FlagKind, Severity
from proofgen.flags.sources import PRACTICE

SPACES_TIDIED = FlagKind(
    id="spaces-tidied",
    severity=Severity.NOTE,
    says="tidied {subject}",
    do="Compare the name that is spelled out below the proof.",
    why="pasted text brings spaces and marks that nobody sees",
    source=PRACTICE,
)

CONTROL_CHARACTERS = FlagKind(
    id="control-characters",
    severity=Severity.LOOK,
    says="left out characters that cannot be lettered ({subject})",
    do="Type the cell again if something is missing.",
    why="control characters come from a broken export and may have been letters",
    source=PRACTICE,
)

TEXT_GARBLED = FlagKind(
    id="text-garbled",
    severity=Severity.LOOK,
    says="letters were lost when the text was copied",
    do="Ask the buyer for the spelling and type the cell again.",
    why="UTF-8 text read in another encoding looks like this",
    source=PRACTICE,
)

NAME_WITHOUT_LETTERS = FlagKind(
    id="name-without-letters",
    severity=Severity.LOOK,
    says="{measured} has no letter or digit",
    do="Compare it with what the buyer wrote.",
    why="a slip of the keyboard is seldom a name",
    source=PRACTICE,
)

MARKS_PILED = FlagKind(
    id="marks-piled",
    severity=Severity.STOP,
    says="{measured} accents are piled on one letter, at most {limit} are taken",
    do="Type the text again.",
    why="no writing piles up so many, and they would fill each other",
    source="from memory: pointed Hebrew reaches four",
)

LETTERS_ALIKE = FlagKind(
    id="letters-alike",
    severity=Severity.LOOK,
    says="{measured} mixes what looks alike: 0 and O, 1 and l and I, 5 and S",
    do="Look at each character, and type it again if it is a slip.",
    why="the buyer sees the difference on the wood",
    source=PRACTICE,
)

WORD_DOUBLED = FlagKind(
    id="word-doubled",
    severity=Severity.LOOK,
    says="{measured} has a word twice",
    do="Delete one, if it is a slip.",
    why="words are doubled in copying",
    source=PRACTICE,
)

CHARACTER_STRAY = FlagKind(
    id="character-stray",
    severity=Severity.LOOK,
    says="has {measured}, which is rarely meant",
    do="Delete it, or leave it if it is to be lettered.",
    why="stray characters come with pasted text",
    source=PRACTICE,
)

CASE_UNUSUAL = FlagKind(
    id="case-unusual",
    severity=Severity.LOOK,
    says="is written in {measured}",
    do="Type it with usual capitals, if that is meant.",
    why="people type in haste what they want with capitals",
    source=PRACTICE,
)

SCRIPTS_MIXED = FlagKind(
    id="scripts-mixed",
    severity=Severity.LOOK,
    says="mixes {measured} letters ({subject})",
    do="Type it again on one keyboard, if it is one language.",
    why="letters of two scripts look alike and are set in two faces",
    source="Unicode Technical Standard 39, section 5",
)

TYPOGRAPHY_TIDIED = FlagKind(
    id="typography-tidied",
    severity=Severity.NOTE,
    says="made of what was typed: {measured}",
    do="Compare it with the proof; `typography = false` in the workshop file leaves all as typed.",
    why="keyboards have no apostrophe and no dash",
    source="The Unicode Standard, section 6.2",
)

NOT_IN_MESSAGE = FlagKind(
    id="not-in-message",
    severity=Severity.LOOK,
    says="{measured} does not stand like that in the buyer's message",
    do="Compare the two letter by letter.",
    why="most misspellings are copying errors",
    source=PRACTICE,
)

NAME_AGAIN = FlagKind(
    id="name-again",
    severity=Severity.NOTE,
    says="the same buyer has the same name in row {measured}",
    do="Nothing to do, if both are wanted.",
    why="a request is easily typed twice",
    source=PRACTICE,
)

TEXT_TOO_LONG = FlagKind(
    id="text-too-long",
    severity=Severity.STOP,
    says="has {measured} characters; at most {limit} are lettered",
    do="Shorten it, or move the rest to another column.",
    why="no piece has room for so much, and a message pasted into the wrong cell is as long",
    source=PRACTICE,
)
