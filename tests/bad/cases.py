"""Bad projects: each is one slip in a sound one, with the finding it must lead to and where.

In a slip the sign ⟦ stands just before the character that the finding must point at.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.bad.buying import BUYING
from tests.bad.constructs import CONSTRUCTS, WARES
from tests.bad.degenerate import DEGENERATE
from tests.bad.kinds import KINDS
from tests.bad.marked import Case, marked_case

BASE = """\
plangen: 1
project: {title: Wall Shelf, units: inch}
shop:
  glue:
    wood glue: {open time: 10}
sizes:
  width: 24in
  height: 16in
  depth: 6in
  clear: upper shelf.bottom - lower shelf.top
stock:
  pine: {kind: solid, species: white pine, rough: 4/4, thickness: 3/4in, widths: 8in, lengths: [8ft]}
hardware:
  screw: {kind: wood screw, gauge: 8, length: 1-1/2in, head: flat}
parts:
  side:
    stock: pine
    runs: up
    thick: across
    place:
      left side: {left: 0, front: 0, back: depth, bottom: 0, top: height}
      right side: {mirror of: left side, plane: across at width / 2}
  shelf:
    stock: pine
    runs: across
    thick: up
    place:
      lower shelf: {left: left side.right, right: right side.left, front: 0, back: depth, bottom: 2in}
      upper shelf: {same as: lower shelf, top: height - 5in}
  rail:
    stock: pine
    runs: across
    thick: deep
    width: 2-1/2in
    place: {left: left side.right, right: right side.left, back: depth, bottom: upper shelf.top}
joints:
  - dado: {name: housings, in: side, for: shelf, depth: 1/4in, glue: wood glue, contacts: 4}
  - screwed: {name: rail screws, through: side, into: rail, with: screw, per joint: 2}
  - butt: {between: [rail, upper shelf], glue: wood glue}
expect:
  - clear = 7-1/2in
steps:
  - draft
"""


def _slip(name: str, kind: str, old: str, new: str, stage: str = "read", severity: str = "error") -> Case:
    assert BASE.count(old) == 1, f"{name}: {old!r} stands {BASE.count(old)} times"
    return marked_case(name, kind, BASE.replace(old, new), stage, severity)


def _bytes(name: str, kind: str, make: Callable[[], bytes], line: int = 1, column: int = 1) -> Case:
    return Case(name, kind, make, line, column)


_DADO = "  - dado: {name: housings, in: side, for: shelf, depth: 1/4in, glue: wood glue, contacts: 4}\n"
_SCREWED = "  - screwed: {name: rail screws, through: side, into: rail, with: screw, per joint: 2}\n"
_BUTT = "  - butt: {between: [rail, upper shelf], glue: wood glue}\n"

READ = (
    _slip("unknown key", "unknown-key", "    runs: up\n", "    ⟦rums: up\n    runs: up\n"),
    _slip("unknown key at the top", "unknown-key", "expect:", "⟦expects:"),
    _slip(
        "missing key",
        "missing-key",
        "  pine: {kind: solid, species: white pine, rough: 4/4, thickness: 3/4in,",
        "  ⟦pine: {kind: solid, species: white pine, rough: 4/4,",
    ),
    _slip("unknown word", "unknown-word", "units: inch", "units: ⟦inches"),
    _slip("a Hebrew title", "unprintable", "title: Wall Shelf", "title: Shelf ⟦שולחן"),
    _slip("an Arabic note", "unprintable", "    runs: up\n", "    runs: up\n    note: ⟦خشب\n"),
    _slip("a Chinese word", "unprintable", "expect:", "  - prose: {words: saw ⟦木}\nexpect:"),
    _slip("a picture of a chair", "unprintable", "title: Wall Shelf", "title: Wall Shelf ⟦🪑"),
    _slip("an accent on nothing", "unprintable", "title: Wall Shelf", "title: Wall xx⟦\u0301 Shelf"),
    _slip("an invisible space", "unprintable", "title: Wall Shelf", "title: Wall⟦\u200b Shelf"),
    _slip("letters turned about", "unprintable", "title: Wall Shelf", "title: ⟦\u202eflehS llaW"),
    _slip("a character of private use", "unprintable", "title: Wall Shelf", "title: Wall Shelf ⟦\ue121"),
    _slip("a name in other letters", "unprintable", "  rail:\n", "  ⟦横木:\n"),
    _slip("unknown drawing standard", "unknown-word", "units: inch", "units: inch, standard: ⟦ansi"),
    _slip("unknown joint", "unknown-joint", "- dado:", "- ⟦daddo:"),
    _slip(
        "unknown operation",
        "unknown-operation",
        "    runs: up\n",
        "    runs: up\n    cut:\n      - ⟦tapper: {}\n",
    ),
    _slip("joint of two kinds", "bad-joint", _BUTT, _BUTT + "    ⟦glue: wood glue\n"),
    _slip("bad fraction", "bad-fraction", "depth: 6in", "depth: ⟦3/0in"),
    _slip("fraction above one", "bad-fraction", "depth: 6in", "depth: ⟦5-5/4in"),
    _slip("unit missing in arithmetic", "missing-unit", "top: height - 5in", "top: height - ⟦4-1/2"),
    _slip("unit unknown", "unknown-unit", "depth: 6in", "depth: 6⟦inch"),
    _slip("curly quote", "curly-quote", "depth: 6in", "depth: 6⟦”"),
    _slip("operator missing", "missing-operator", "top: height - 5in", "top: 2 ⟦height"),
    _slip("unknown function", "unknown-function", "depth: 6in", "depth: ⟦maks(6in)"),
    _slip("a list where one value is wanted", "bad-value", "width: 2-1/2in", "width: ⟦[2in]"),
    _slip("a map where one value is wanted", "bad-value", "depth: 6in", "depth: ⟦{a: 6in}"),
    _slip(
        "a value where a map is wanted",
        "bad-value",
        "project: {title: Wall Shelf, units: inch}",
        "project: ⟦Wall Shelf",
    ),
    _slip(
        "a value where a list is wanted",
        "bad-value",
        "expect:\n  - clear = 7-1/2in",
        "expect: ⟦clear = 7-1/2in",
    ),
    _slip("fact without comparison", "bad-fact", "- clear = 7-1/2in", "- ⟦clear"),
    _slip("fact with a wrong sign", "bad-fact", "- clear = 7-1/2in", "- clear ⟦< 7-1/2in"),
    _slip("hyphen in a name", "bad-name", "  depth: 6in", "  depth⟦-1: 6in"),
    _slip("a unit as a name", "bad-name", "  depth: 6in", "  depth: 6in\n  ⟦mm: 3in"),
    _slip("name used twice", "name-clash", "  rail:\n", "  ⟦pine:\n"),
    _slip("names alike", "name-twins", "  depth: 6in", "  depth: 6in\n  ⟦Depth: 7in", severity="warning"),
    _slip("duplicate key", "duplicate-key", "    runs: up\n", "    runs: up\n    ⟦runs: up\n"),
    _slip("key without value", "missing-value", "    runs: up\n", "    ⟦runs:\n"),
    _slip("no space after the colon", "missing-value", "length: 1-1/2in", "⟦length:1-1/2in"),
    _slip("cut at a comma", "cut-at-comma", "top: height - 5in", "top: ⟦max(height - 5in, 3in)"),
    _slip(
        "pins and copies mixed",
        "mixed-place",
        "left side: {left: 0, front: 0, back: depth, bottom: 0, top: height}",
        "left side: {left: 0}\n      ⟦right: width",
    ),
    _slip("a mirror plane askew", "bad-value", "plane: across at width / 2", "plane: ⟦sideways"),
    _slip("a bad price", "bad-value", "widths: 8in", "widths: 8in, price: ⟦four dollars"),
    _slip("a bad day", "bad-value", "units: inch", "units: inch, revised: ⟦2026-02-30"),
    _slip("tab in the indentation", "tab", "    runs: up\n", "⟦\truns: up\n"),
    _slip("tab between words", "tab", "    runs: up\n", "    runs:⟦\tup\n"),
    _slip("anchor", "alias", "pine: {kind", "pine: ⟦&wood {kind"),
    _slip("alias", "alias", "    runs: up\n", "    runs: ⟦*up\n"),
    _slip("merge", "alias", "    runs: up\n", "    ⟦<<: up\n    runs: up\n"),
    _slip("tag", "tag", "units: inch", "units: ⟦!!str inch"),
    _slip(
        "tag that would make an object",
        "tag",
        "title: Wall Shelf",
        "title: ⟦!!python/object/apply:os.system [ls]",
    ),
    _slip("second document", "second-document", "steps:\n  - draft\n", "steps:\n  - draft\n⟦---\na: 1\n"),
    _slip("colon in text", "bad-yaml", "title: Wall Shelf", "title: Wall⟦: Shelf"),
    _slip("quote never closed", "bad-yaml", "steps:\n  - draft\n", "steps:\n  - 'draft\n⟦"),
    _slip("indentation", "bad-yaml", "    thick: across\n", "   ⟦thick: across\n"),
    _slip("control character", "bad-character", "Wall Shelf", "Wall⟦\x07 Shelf"),
    _slip("version from the future", "unknown-word", "plangen: 1", "plangen: ⟦2"),
    _slip("expression too long", "too-long", "depth: 6in", "depth: ⟦" + "1in + " * 200 + "1in"),
    _slip(
        "expression too deep",
        "too-deep",
        "depth: 6in",
        "depth: " + "(" * 40 + "⟦" + "(" * 20 + "6in" + ")" * 60,
    ),
    _slip("a number of a thousand digits", "too-long", "depth: 6in", "depth: ⟦" + "9" * 1000),
    _slip("a number of a hundred digits", "too-large", "depth: 6in", "depth: ⟦" + "9" * 100),
    _bytes("empty file", "empty-file", lambda: b""),
    _bytes("only blank lines", "empty-file", lambda: b"\n \n\n"),
    _bytes("only a comment", "empty-file", lambda: b"# nothing yet\n"),
    _bytes("a list", "bad-value", lambda: b"- plangen: 1\n"),
    _bytes(
        "not UTF-8", "not-utf-8", lambda: b"plangen: 1\nproject: {title: Regal f\xfcr M\xfctzen}\n", 2, 25
    ),
    _bytes("UTF-16", "not-utf-8", lambda: BASE.encode("utf-16")),
    _bytes("fifty megabytes", "file-too-large", lambda: b"# long\n" * (50_000_000 // 7)),
    _bytes("deep brackets", "too-deep", lambda: b"a: " + b"[" * 100_000, 1, 43),
    _bytes("deep maps", "too-deep", lambda: b"".join(b" " * i + b"a:\n" for i in range(900)), 41, 41),
    _bytes("very many values", "too-many-values", lambda: b"a: [" + b"x, " * 200_000 + b"x]", 1, 75_002),
    _bytes(
        "alias bomb",
        "alias",
        lambda: (
            b"a: &a [x, x, x, x, x, x, x, x, x]\n"
            + b"".join(
                b"%c: &%c [%s]\n" % (97 + i, 97 + i, b", ".join([b"*%c" % (96 + i)] * 9))
                for i in range(1, 20)
            )
        ),
        1,
        4,
    ),
)

DESIGN = (
    _slip("undefined size", "undefined-name", "depth: 6in", "depth: ⟦dept + 6in", "design"),
    _slip(
        "undefined stock", "undefined-name", "  rail:\n    stock: pine", "  rail:\n    stock: ⟦pyne", "design"
    ),
    _slip("undefined part in a joint", "undefined-name", "for: shelf", "for: ⟦shelv", "design"),
    _slip("undefined hardware", "undefined-name", "with: screw", "with: ⟦screws", "design"),
    _slip("undefined copy", "undefined-name", "same as: lower shelf", "same as: ⟦lower self", "design"),
    _slip(
        "undefined glue",
        "unknown-glue",
        "{between: [rail, upper shelf], glue: wood glue}",
        "{between: [rail, upper shelf], glue: ⟦hide glue}",
        "design",
    ),
    _slip(
        "unknown property",
        "unknown-property",
        "upper shelf.bottom - lower",
        "⟦upper shelf.botom - lower",
        "design",
    ),
    _slip(
        "property of several copies",
        "copies-differ-here",
        "upper shelf.bottom - lower",
        "⟦shelf.bottom - lower",
        "design",
    ),
    _slip("cycle of sizes", "cycle", "  depth: 6in", "  depth: ⟦a + 1in\n  a: depth - 1in", "design"),
    marked_case(
        "cycle of copies",
        "cycle",
        BASE.replace("clear: upper", "clear: ⟦upper").replace("top: height - 5in", "top: clear + 9in"),
        "design",
    ),
    _slip("plain number for a length", "mixed-kinds", "top: height - 5in", "top: height - ⟦5", "design"),
    _slip("length for an area", "wrong-kind", "bottom: upper shelf.top", "bottom: ⟦width * depth", "design"),
    _slip("divided by zero", "divide-by-zero", "top: height - 5in", "top: height / ⟦0", "design"),
    _slip(
        "tower of products",
        "too-large",
        "  depth: 6in",
        "  depth: 6in\n  t0: 9 * 9 * 9\n"
        + "".join(f"  t{i + 1}: {'⟦' * (i == 1)}t{i} * t{i} * t{i}\n" for i in range(40)),
        "design",
    ),
    _slip(
        "three pins on an axis",
        "over-pinned",
        "bottom: upper shelf.top}",
        "bottom: upper shelf.top, ⟦top: height}",
        "design",
    ),
    _slip(
        "one pin on an axis",
        "under-pinned",
        "{same as: lower shelf, top: height - 5in",
        "⟦{left: left side.right, front: 0, back: depth, top: height - 5in",
        "design",
    ),
    _slip(
        "no pin on an axis",
        "under-pinned",
        "{left: left side.right, right: right side.left, back: depth, bottom: upper shelf.top}",
        "⟦{left: left side.right, right: right side.left, back: depth}",
        "design",
    ),
    _slip(
        "no size left",
        "zero-size",
        "right: right side.left, back: depth, bottom: upper shelf.top",
        "⟦right: left side.right, back: depth, bottom: upper shelf.top",
        "design",
    ),
    _slip("a size below zero", "zero-size", "width: 2-1/2in", "⟦width: -2-1/2in", "design"),
    _slip("dado deeper than its board", "dado-too-deep", "depth: 1/4in", "⟦depth: 3/4in", "design"),
    _slip("too few contacts", "contacts", "contacts: 4", "⟦contacts: 6", "design"),
    _slip(
        "nothing meets",
        "nothing-meets",
        _BUTT,
        _BUTT.replace("butt", "⟦butt").replace("upper", "lower"),
        "design",
    ),
    _slip(
        "two joints at one contact",
        "contact-claimed",
        _BUTT,
        _BUTT + "  - ⟦dado: {in: side, for: lower shelf, depth: 1/4in}\n",
        "design",
    ),
    _slip(
        "hole off the part",
        "hole-off-part",
        "    width: 2-1/2in\n",
        "    width: 2-1/2in\n    cut:\n"
        "      - hole: ⟦{face: front, from left: 2in, from top: 3in, diameter: 9mm}\n",
        "design",
    ),
    _slip(
        "hole too deep",
        "hole-too-deep",
        "    width: 2-1/2in\n",
        "    width: 2-1/2in\n    cut:\n"
        "      - hole: {face: front, from left: 2in, from top: 1in, diameter: 9mm, ⟦depth: 1in}\n",
        "design",
    ),
    _slip("fact that fails", "fact-fails", "- clear = 7-1/2in", "- ⟦clear = 7-1/4in", "design"),
    marked_case(
        "a size beside two sides",
        "over-pinned",
        BASE.replace("  shelf:\n", "  shelf:\n    length: 22-1/2in\n").replace(
            "right: right side.left, front: 0", "⟦right: right side.left, front: 0"
        ),
        "design",
    ),
    _slip(
        "runs and thick alike",
        "runs-and-thick",
        "    runs: up\n    thick: across",
        "    runs: up\n    ⟦thick: up",
        "design",
    ),
)

_STEPS = "steps:\n  - draft\n"
_SAY = "  - after: housings\n    say: It is <%s> long.\n"


def _chain(links: int) -> str:
    return "".join(f"  c{i}: c{i + 1} + 1in\n" for i in range(links)) + f"  c{links}: 1in\n"


LATER = (
    marked_case(
        "stock that nothing uses",
        "unused-stock",
        BASE.replace(
            "hardware:\n",
            "  oak: ⟦{kind: solid, species: red oak, rough: 4/4, thickness: 3/4in}\nhardware:\n",
        ),
        "later",
        "warning",
    ),
    marked_case(
        "step after no such joint",
        "unknown-in-step",
        BASE + "  - after: ⟦housing\n    say: Check it.\n",
        "later",
    ),
    marked_case(
        "step that mills no such part",
        "unknown-in-step",
        BASE.replace(_STEPS, "steps:\n  - step: Mill\n    mill: [side, ⟦shelv]\n"),
        "later",
    ),
    marked_case(
        "part in no step",
        "part-in-no-step",
        BASE.replace(_STEPS, "steps:\n  - step: Cut\n    cut: [side, shelf]\n").replace(
            "place: {left: left side.right", "place: ⟦{left: left side.right"
        ),
        "later",
    ),
    marked_case("prose that names nothing", "undefined-name", BASE + _SAY % "⟦upper self.length", "later"),
    marked_case(
        "prose that tries to reach Python",
        "bad-character",
        BASE + _SAY % "upper shelf⟦[0].__class__",
        "later",
    ),
    marked_case(
        "tenon wider than its rail",
        "tenon-too-wide",
        BASE.replace(_SCREWED, "  - mortise and tenon: {in: side, for: rail, length: 1/2in, ⟦width: 3in}\n"),
        "design",
    ),
    marked_case(
        "copies that differ",
        "copies-differ",
        BASE.replace("upper shelf: {same as", "upper shelf: ⟦{same as").replace(
            _DADO,
            "  - dado: {name: housings, in: side, for: lower shelf, depth: 1/4in}\n"
            "  - butt: {between: [side, upper shelf]}\n",
        ),
        "design",
    ),
)

LATER += (
    Case(
        "a chain of thousands of names",
        "too-deep",
        BASE.replace("sizes:\n", "sizes:\n" + _chain(4000)).encode,
        0,
        0,
        "later",
    ),
)

CASES = (*READ, *DESIGN, *LATER, *KINDS, *CONSTRUCTS, *WARES, *DEGENERATE, *BUYING)
