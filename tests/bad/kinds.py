"""One slip or more in every kind of joint and of work: each spoils the sound example of its kind."""

from __future__ import annotations

from pathlib import Path

from tests.bad.marked import MARK, Case, marked_case

EXAMPLES = Path(__file__).parents[2] / "docs" / "examples"


def _of(example: str, kind: str, *changes: str, severity: str = "error") -> Case:
    """Spoil an example: each old text is followed by what stands in its place; one of these has the mark."""
    text = (EXAMPLES / f"{example}.yaml").read_text(encoding="utf-8")
    for old, new in zip(changes[::2], changes[1::2], strict=True):
        assert text.count(old) == 1, f"{example}: {old!r} stands {text.count(old)} times"
        text = text.replace(old, new)
    assert text.count(MARK) == 1
    named = text.splitlines()[text.count("\n", 0, text.index(MARK))].strip().replace(MARK, "")
    return marked_case(f"{example}, {kind}: {named}"[:120], kind, text, "design", severity)


JOINTS = (
    _of("butt", "bad-joint", "between: [side, shelf]", "⟦between: [side, shelf, side]"),
    _of("butt", "unknown-key", "contacts: 2", "⟦depth: 1/4in"),
    _of("rests", "contacts", "contacts: 2", "⟦contacts: 3"),
    _of("dado", "dado-too-deep", "depth: 1/4in", "⟦depth: 1in"),
    _of("dado", "wrong-side", "stopped: {front: 1/2in}", "stopped: {⟦left: 1/2in}"),
    _of("rabbet", "rabbet-too-deep", "width: 3/8in", "⟦width: 3/4in"),
    _of("groove", "groove-too-deep", "depth: 1/2in", "⟦depth: 3in"),
    _of("groove", "bad-gap", "gap: 1/16in", "⟦gap: 1in"),
    _of("half-lap", "half-lap", "keeps: front", "⟦keeps: left"),
    _of("mortise-and-tenon", "tenon-too-long", "length: 1in", "⟦length: 9in"),
    _of("mortise-and-tenon", "wrong-side", "shoulders: {top:", "shoulders: {⟦left:"),
    _of("round-tenon", "tenon-too-wide", "diameter: 3/4in", "⟦diameter: 3in"),
    _of("screwed", "screw-size", "with: screw", "⟦with: plug"),
    _of("dowelled", "fasteners", "per joint: 3", "⟦per joint: 0"),
    _of("bridle", "tenon-too-wide", "thickness: 1/4in", "⟦thickness: 2in"),
    _of("finger", "finger-pins", "pin: 3/4in", "⟦pin: 0.7in"),
    _of("finger", "finger-pins", "pin: 3/4in", "⟦pin: 0.001in"),
    _of("finger", "finger-begins", "begins: side", "⟦begins: sidle"),
    _of(
        "through-dovetails",
        "dovetails",
        "number: 3, slope: 1:8, pin: 3/8in",
        "number: 30, slope: 1:8, ⟦pin: 3/8in",
    ),
    _of("through-dovetails", "undefined-name", "slope: 1:8", "slope: ⟦flat"),
    _of("sliding-dovetail", "bad-slope", "slope: 8deg", "⟦slope: 80deg"),
    _of("sliding-dovetail", "sliding-dovetail-too-deep", "depth: 3/8in", "⟦depth: 2in"),
    _of("mitre-joint", "spline-too-thick", "thickness: 1/8in", "⟦thickness: 1in"),
    _of("mitre-joint", "undefined-name", "with: spline", "with: ⟦splint"),
    _of("tongue-and-groove", "tongue-too-thick", "depth: 3/8in", "depth: 3/8in, ⟦thickness: 1in"),
    _of("loose-tenon", "tenon-too-long", "length: 2in", "⟦length: 9in"),
    _of("biscuited", "biscuit-size", "size: 20", "⟦size: 21"),
    _of(
        "bolted",
        "missing-key",
        "bolted: {through: side, into: rail, with: bolt, nut: barrel, ",
        "⟦bolted: {through: side, into: rail, with: bolt, ",
    ),
    _of("bolted", "wrong-side", "face: front", "⟦face: right"),
    _of("edge-glued", "undefined-name", "align: dowel", "align: ⟦trowel"),
    _of("face-glued", "undefined-name", "between: [layer, layer]", "between: [layer, ⟦lawyer]"),
    _of(
        "frame-and-panel",
        "missing-key",
        "frame and panel: {panel: panel, in: [stile, rail], depth: 3/8in}",
        "⟦frame and panel: {panel: panel, in: [stile, rail]}",
    ),
    _of("knock-down", "undefined-name", "align: dowel", "align: ⟦towel"),
    _of("pocket-screwed", "wrong-side", "face: front", "⟦face: left"),
    _of("nailed", "nail-too-short", "length: 1-1/2in", "length: 3/8in", "with: nail", "⟦with: nail"),
    _of(
        "top-fastened",
        "no-top-fastener",
        "kind: table button, length: 1-1/2in, width: 1in, thickness: 3/4in, tongue: 3/8in, screws: 1",
        "kind: plug, diameter: 1in",
        "with: button",
        "⟦with: button",
    ),
    _of(
        "hinged",
        "wrong-hardware",
        "kind: butt hinge, length: 2in, leaf: 3/4in, thickness: 1/16in, screws: 6",
        "kind: dowel",
        "with: hinge",
        "⟦with: hinge",
    ),
    _of(
        "hinged",
        "few-hinges",
        "thickness: 3/4in, widths",
        "thickness: 3/4in, density: 9000, widths",
        "- hinged:",
        "- ⟦hinged:",
        severity="warning",
    ),
    _of("hinged", "bad-value", "swing: front 110deg", "⟦swing: outward"),
    _of("hinged", "fasteners", "number: 2", "⟦number: 20"),
    _of(
        "slides",
        "slide-too-long",
        "length: 8in, thickness: 1/2in",
        "length: 12in, thickness: 1/2in",
        "with: runner",
        "⟦with: runner",
    ),
    _of("slides", "wrong-side", "toward: front", "⟦toward: left"),
    _of("hung", "row", "rows: 5", "⟦rows: 50"),
    _of(
        "hung",
        "nothing-meets",
        "- hung: {shelf: shelf, in: side, with: pin, gap: 1/16in",
        "- ⟦hung: {shelf: shelf, in: side, with: pin, gap: 1/4in",
    ),
    _of("tusk-tenon", "wedge-too-narrow", "proud: 2-1/2in", "⟦proud: 1/4in"),
)

WORK = (
    _of(
        "slot",
        "missing-key",
        "slot: {face: top, from left: 3in, from front: 2in, length: 4in",
        "⟦slot: {face: top, from left: 3in, from front: 2in",
    ),
    _of("slot", "slot-off-part", "from left: 3in", "⟦from left: 30in"),
    _of("pocket", "recess-too-deep", "depth: 1/8in", "⟦depth: 1in"),
    _of("pocket", "opening-too-large", "opening: {length: 3in", "opening: ⟦{length: 6in"),
    _of("leaf-recess", "leaf-recess", "open: top", "⟦open: front"),
    _of("leaf-recess", "recess-too-deep", "depth: 1/16in", "⟦depth: 9in"),
    _of("hole", "hole-off-part", "hole: {face: top, from left: 2in", "hole: ⟦{face: top, from left: 40in"),
    _of("hole", "over-located", "from left: 2in", "from left: 2in, ⟦from right: 2in"),
    _of(
        "holes",
        "row",
        "{face: top, from left: 2in",
        "⟦{face: top, from left: 2in",
        "pitch: 2in",
        "pitch: 1/8in",
    ),
    _of("holes", "hole-too-deep", "depth: 1/2in", "⟦depth: 4in"),
    _of("notch", "notch-sides", "at: [right, back]", "⟦at: [right, left]"),
    _of("round", "round", "diameter: 1-1/4in", "⟦diameter: 9in"),
    _of("taper", "taper", "to right: 3in", "⟦to right: 30in"),
    _of(
        "curve",
        "missing-key",
        "curve: {edge: front, from left: 2in, from right: 2in, rise: 1-1/4in",
        "curve: ⟦{edge: front, from left: 2in, from right: 2in",
    ),
    _of("curve", "curve", "rise: 1-1/4in", "⟦rise: 20in"),
    _of("mitre", "unknown-unit", "angle: 45deg", "angle: 1⟦e9deg"),
    _of("mitre", "mitre", "angle: 45deg", "⟦angle: 1000000000deg"),
    _of("mitre", "wrong-kind", "angle: 45deg", "angle: ⟦45"),
    _of("bevel", "bevel", "angle: 30deg", "⟦angle: 0.0000001deg"),
    _of("bevel", "bevel", "angle: 30deg", "⟦angle: 1000000000deg"),
    _of("compound-mitre", "compound-mitre", "slope: 60deg", "⟦slope: 120deg"),
    _of("edge-banding", "unknown-name", "with: oak band", "with: ⟦oak hand"),
    _of("chamfer", "edge-too-big", "{edges: around top, size: 1/4in", "⟦{edges: around top, size: 4in"),
    _of("chamfer", "unknown-edge", "edges: around top", "edges: ⟦around the top"),
    _of(
        "round-over",
        "edge-too-big",
        "{edges: [front top, back top], radius: 3/8in",
        "⟦{edges: [front top, back top], radius: 3in",
    ),
    _of("profile", "unknown-word", "shape: cove", "shape: ⟦ogre"),
    _of("parts", "outline", "over: 6in, radius: 3in", "over: 6in, ⟦radius: 1in"),
)

KINDS = (*JOINTS, *WORK)
