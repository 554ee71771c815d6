"""Parts that cannot exist: nothing left, several pieces, skins, slivers, and cuts that miss their part."""

from __future__ import annotations

from tests.bad.marked import Case, marked_case

HEAD = """\
plangen: 1
project: {title: Board, units: inch}
shop: {kerf: 1/8in, glue: {wood glue: {open time: 10}}}
stock:
  pine: {kind: solid, species: white pine, rough: 4/4, thickness: 3/4in, widths: [7-1/4in], lengths: [96in]}
"""

BOARD = (
    HEAD
    + """\
parts:
  board:
    stock: pine
    runs: across
    thick: up
    cut:
%s
    place: {left: 0, right: 16in, front: 0, back: 6in, bottom: 0}
"""
)

ACROSS = "going: over, from left: 7in, from front: 0, length: 6in, width: 1/2in, ends: square"

LEGS = (
    HEAD
    + """\
parts:
  post:
    stock: pine
    runs: up
    thick: deep
    thickness: 1-1/2in
    width: 1-1/2in
    glue up: {layers: 2}
    place:
      left post: {left: 0, front: 0, bottom: 0, top: 14in}
      right post: {mirror of: left post, plane: across at 8in}
  rail:
    stock: pine
    runs: across
    thick: deep
    thickness: 1-1/2in
    glue up: {layers: 2}
    place: {left: left post.right, right: right post.left, deep: centred on left post, bottom: 9in, top: 13in}
joints:
  - mortise and tenon: ⟦{in: post, for: rail, length: %s, thickness: %s, width: 3in}
"""
)


def _board(name: str, kind: str, *cuts: str, severity: str = "error") -> Case:
    lines = "\n".join(f"      - {cut}" for cut in cuts)
    return marked_case(f"degenerate: {name}", kind, BOARD % lines, "design", severity)


DEGENERATE = (
    _board(
        "a slot across the whole board",
        "part-in-pieces",
        f"slot: ⟦{{face: top, {ACROSS}}}",
    ),
    _board(
        "two grooves that meet",
        "part-in-pieces",
        f"slot: {{face: top, depth: 3/8in, {ACROSS}}}",
        f"slot: ⟦{{face: bottom, depth: 3/8in, {ACROSS}}}",
    ),
    _board(
        "four notches that take all",
        "part-cut-away",
        "notch: {at: [left, front], across: 8in, deep: 3in}",
        "notch: {at: [left, back], across: 8in, deep: 3in}",
        "notch: {at: [right, front], across: 8in, deep: 3in}",
        "notch: ⟦{at: [right, back], across: 8in, deep: 3in}",
    ),
    _board(
        "a pocket that leaves a skin",
        "thin-skin",
        "pocket: ⟦{face: top, from left: 3in, from front: 2in, length: 4in, width: 2in, radius: 1/4in, "
        "depth: 47/64in}",
        severity="warning",
    ),
    _board(
        "a groove against the floor of another",
        "thin-skin",
        "slot: {face: top, from left: 3in, from front: 2in, length: 6in, width: 1in, depth: 3/8in}",
        "slot: ⟦{face: bottom, from left: 3in, from front: 2in, length: 6in, width: 1in, depth: 0.365in}",
        severity="warning",
    ),
    _board(
        "a hole within a hair of an edge",
        "thin-skin",
        "hole: ⟦{face: top, from left: 3in, from front: 0.26in, diameter: 1/2in}",
        severity="warning",
    ),
    _board(
        "a hole beside the board",
        "hole-off-part",
        "hole: ⟦{face: top, from left: 3in, from front: 7in, diameter: 1/2in}",
    ),
    _board(
        "a hole that a notch takes away",
        "cut-in-air",
        "notch: {at: [right, back], across: 3in, deep: 2in}",
        "hole: ⟦{face: top, from right: 1in, from back: 1in, diameter: 1/2in}",
        severity="warning",
    ),
    marked_case(
        "degenerate: a mortise that eats its post",
        "joints-leave-sliver",
        LEGS % ("1-7/16in, gap: 0", "1-3/8in"),
        "design",
        "warning",
    ),
)
