"""Kinds of flags about lettering."""

from __future__ import annotations

from proofgen.flags.flag import FlagKind, Severity
from proofgen.flags.sources import PRACTICE, WCAG

STROKE_TOO_THIN = FlagKind(
    id="stroke-too-thin",
    severity=Severity.STOP,
    says="{subject} a thinnest stroke of {measured} mm as it comes out; {limit} mm is the least",
    do="Shorten the text or choose another design.",
    why="a stroke under the material's limit burns away or cannot be read",
    source=PRACTICE,
)

GAP_TOO_NARROW = FlagKind(
    id="gap-too-narrow",
    severity=Severity.STOP,
    says="{subject} a narrowest gap of {measured} mm as it comes out; {limit} mm is the least",
    do="Shorten the text or choose another design.",
    why="engraving grows by about a dot, so a narrower gap or counter fills up",
    source=PRACTICE,
)

LETTERING_TOO_SMALL = FlagKind(
    id="lettering-too-small",
    severity=Severity.STOP,
    says="the largest cap height that fits is {measured} mm in {subject}; at least {limit} mm",
    do="Shorten the text or choose another design.",
    why="smaller letters cannot be read at arm's length",
    source=PRACTICE,
)

LETTERING_SMALL = FlagKind(
    id="lettering-small",
    severity=Severity.NOTE,
    says="cap height {measured} mm; {limit} mm is wanted and {subject} mm the least",
    do="Nothing needs doing; a shorter text would be larger.",
    why="a long text is set smaller, and the maker may want to know",
    source=PRACTICE,
)

FACE_WITHOUT_GLYPH = FlagKind(
    id="face-without-glyph",
    severity=Severity.NOTE,
    says="{subject} has no {measured}; it is set in {limit}",
    do="Check the proof.",
    why="one face does not have the letters of every script",
    source="the face's own character map (OpenType specification, cmap)",
)

FACE_CHANGED = FlagKind(
    id="face-changed",
    severity=Severity.NOTE,
    says="set in {measured} instead of {limit} (there: {subject})",
    do="Check the proof.",
    why="the design lists narrower faces for long texts",
    source=PRACTICE,
)

GLYPH_MISSING = FlagKind(
    id="glyph-missing",
    severity=Severity.STOP,
    says="no face of the design has {measured} (looked in {subject})",
    do="Replace the character, or choose a design with a face that has it.",
    why="a face without the letter would draw an empty box",
    source="the face's own character map (OpenType specification, cmap)",
)

NOTHING_TO_LETTER = FlagKind(
    id="nothing-to-letter",
    severity=Severity.STOP,
    says="{measured!r} would leave no mark",
    do="Type the text again.",
    why="a text of invisible characters makes an empty piece",
    source="derived",
)

LINES_TOO_MANY = FlagKind(
    id="lines-too-many",
    severity=Severity.LOOK,
    says="{measured} lines were typed; the design takes {limit}",
    do="Look at how the text was broken anew.",
    why="a line break in the cell asks for a line of its own",
    source=PRACTICE,
)

FAMILY_ALIKE = FlagKind(
    id="family-alike",
    severity=Severity.NOTE,
    says="face and cap height are common to the {measured} pieces of this design in the order",
    do="Check the proofs side by side.",
    why="the pieces of one family hang side by side",
    source=PRACTICE,
)

FAMILY_UNLIKE = FlagKind(
    id="family-unlike",
    severity=Severity.LOOK,
    says="{subject} of the same order and design is set in {measured}, this in {limit}",
    do="Look at the proofs side by side, or type one face in column Face of each row.",
    why="the pieces of one family hang side by side",
    source=PRACTICE,
)

FAMILY_WAITS = FlagKind(
    id="family-waits",
    severity=Severity.LOOK,
    says="{subject} of the same order and design stops; once it is mended, face and size of this "
    "piece may change",
    do="Mend that row before this proof is sent.",
    why="the pieces of one family share face and size, and an approved piece is to stay as it is",
    source=PRACTICE,
)

FACE_UNKNOWN = FlagKind(
    id="face-unknown",
    severity=Severity.STOP,
    says="the design has no face {measured}; it has {limit}",
    do="Type one of them, or leave the cell blank.",
    why="what was asked for would not be what is made",
    source=PRACTICE,
)

ENGRAVING_NEAR_CUT = FlagKind(
    id="engraving-near-cut",
    severity=Severity.STOP,
    says="lettering comes within {measured} mm of a cut; {subject} needs {limit} mm",
    do="Draw the design's zone further from its cuts.",
    why="the scorched edge runs into the letters",
    source=PRACTICE,
)

PART_LOOSE = FlagKind(
    id="part-loose",
    severity=Severity.STOP,
    says="{measured} would fall out",
    do="Choose another design, or ask for another spelling.",
    why="a part that nothing holds drops through the bed of the machine",
    source=PRACTICE,
)

LETTERS_CROSSED = FlagKind(
    id="letters-crossed",
    severity=Severity.LOOK,
    says="{measured} mm² of other engraving or openings lie across the standing letters",
    do="Choose another design, or draw its other places where no letter's tail comes.",
    why="engraving across a letter makes another letter of it",
    source=PRACTICE,
)

MARKS_TOGETHER = FlagKind(
    id="marks-run-together",
    severity=Severity.LOOK,
    says="the marks of {measured} touch or nearly do, and may be read wrongly",
    do="Check the proof, or choose a design whose letters are engraved.",
    why="a dot or an accent that hangs on its neighbour makes another letter of it",
    source=PRACTICE,
)

BRIDGED = FlagKind(
    id="bridged",
    severity=Severity.NOTE,
    says="bridges that hold the letters together: {measured}, each at least {limit} mm wide",
    do="Check the proof.",
    why="no joined script joins all pairs of letters, and dots stand alone",
    source="measured on the faces that ship",
)

PIECE_TILTED = FlagKind(
    id="piece-tilted",
    severity=Severity.LOOK,
    says="with this text it hangs tilted by {measured} degrees; up to {limit} is not seen",
    do="Shorten the text, choose another design, or let the design grow evenly about its hole.",
    why="a piece hangs with its centre of mass under the hole",
    source="statics; the limit is common practice, no source",
)

COUNTERS_HELD = FlagKind(
    id="counters-held",
    severity=Severity.NOTE,
    says="strips of wood that hold the insides of letters: {measured}",
    do="Check the proof: what is behind the piece shows through, and no contrast can be told.",
    why="the inside of an o drops out when the o is cut through",
    source="derived",
)

CONTRAST_LOW = FlagKind(
    id="contrast-low",
    severity=Severity.LOOK,
    says="the contrast of {subject} is {measured} to 1; at least {limit} reads well",
    do="Choose another finish, or another design.",
    why="what is hardly lighter or darker than the wood round it is not read at arm's length",
    source=WCAG,
)
