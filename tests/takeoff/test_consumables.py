"""Glue and finish by hand: areas, coats, bottles and cans, and the faces that joints cover."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from plangen.booklet.numbers import Numbers
from plangen.design.model import Money
from plangen.takeoff.areas import finish_area, finish_areas, glue_areas
from plangen.takeoff.consumables import GLUE_COVERS, amount_words, area_words
from plangen.takeoff.model import ConsumableLine, TakeOff
from plangen.units import LengthStyle
from tests.design.small import line_at, project, solve, the_fault
from tests.takeoff.cases import taken

EXAMPLES = Path(__file__).resolve().parents[2] / "docs" / "examples"
INCH, MM = LengthStyle("inch"), LengthStyle("mm")
FLUID_OUNCE = Fraction("29.5735295625") * 1000  # mm3: 231/128 cubic inches
# A post of 40 × 40 × 500 stands in the middle of a foot of 400 × 300 × 40, butted and glued: 1600 mm2.
STAND = """
foot:
  stock: beech
  runs: across
  thick: up
  FOOT
  place: {left: 0, right: 400mm, front: 0, back: 300mm, bottom: 0}
post:
  stock: beech
  runs: up
  thick: across
  POST
  width: 40mm
  place: {across: centred on foot, deep: centred on foot, bottom: foot.top, top: foot.top + 500mm}
"""
BEECH = (
    "beech: {kind: solid, species: European beech, rough: 50mm, thickness: 40mm, density: 720, "
    "widths: [310mm], lengths: [2000mm]}"
)
FOOT_FACES = 2 * (400 * 300 + 400 * 40 + 300 * 40)
POST_FACES = 2 * (40 * 40 + 40 * 500 + 40 * 500)


def stand(head: str = "", foot: str = "", post: str = "", glue: str = "wood glue", shop: str = "") -> str:
    parts = STAND.replace("FOOT", foot).replace("POST", post)
    joints = f"- butt: {{between: [foot, post], glue: {glue}}}"
    text = project(parts, joints, units="mm", stock=BEECH, head=head)
    return text.replace("shop: {glue: {wood glue: {}}}", f"shop: {{glue: {{wood glue: {{{shop}}}}}}}")


def lists_of(text: str) -> TakeOff:
    lists, findings = taken(solve(text))
    assert not findings.has_errors
    return lists


def one(lists: TakeOff, item: str) -> ConsumableLine:
    (found,) = (line for line in lists.consumables if line.item == item)
    return found


# Areas


def test_finish_goes_on_all_faces_that_no_joint_covers() -> None:
    design = solve(stand())
    assert finish_areas(design) == {"foot": FOOT_FACES - 1600, "post": POST_FACES - 1600}
    assert finish_area(design) == FOOT_FACES + POST_FACES - 3200


def test_screws_through_a_joint_cover_its_face_once() -> None:
    butt = "- butt: {between: [foot, post], glue: wood glue}"
    text = stand().replace(butt, f"{butt}\n  - screwed: {{through: foot, into: post, with: screw}}")
    text += "hardware: {screw: {kind: wood screw, diameter: 4mm, length: 70mm, head: flat}}\n"
    assert finish_area(solve(text)) == FOOT_FACES + POST_FACES - 3200


def test_a_part_without_finish_is_left_out() -> None:
    design = solve(stand(head="finish: {oil: {}}\n", post="finish: none"))
    assert finish_areas(design) == {"foot": FOOT_FACES - 1600}
    assert finish_area(design, "oil") == FOOT_FACES - 1600


def test_each_finish_goes_where_it_is_said() -> None:
    head = "finish:\n  stain: {}\n  varnish: {coats: 3}\n"
    design = solve(stand(head=head, foot="finish: stain", post="finish: [stain, varnish]"))
    assert finish_area(design, "stain") == FOOT_FACES + POST_FACES - 3200
    assert finish_area(design, "varnish") == POST_FACES - 1600
    lists, _ = taken(design)
    assert [(line.item, line.coats) for line in lists.consumables[1:]] == [("stain", 1), ("varnish", 3)]


def test_the_areas_of_all_glues_are_the_glued_area() -> None:
    lists = lists_of(stand())
    assert lists.glue_area == 1600
    assert glue_areas(solve(stand(glue="none"))) == {}


BANDED = """
shelf:
  stock: ply
  runs: across
  thick: up
  cut:
    - edge banding: {edges: [front], with: strip, thickness: 2mm}
  place: {left: 0, right: 500mm, front: 0, back: 200mm, bottom: 0}
"""
PLY = "ply: {kind: plywood, label: 18mm, thickness: 18mm, sheet: 1220mm x 2440mm}"


def test_strips_of_stock_take_glue_and_rolls_bring_their_own() -> None:
    """One edge of 500 by 18 mm is 9000 mm2."""
    strip = "strip: {kind: solid, species: European beech, rough: 10mm, thickness: 2mm, density: 720}"
    by_strip, by_roll = (
        taken(solve(project(BANDED, units="mm", stock=stock, hardware=hardware)))[0]
        for stock, hardware in (
            (f"{PLY}\n{strip}", ""),
            (PLY, "strip: {kind: edge banding, width: 22mm, thickness: 2mm, length: 5m}"),
        )
    )
    assert (by_strip.glue_area, by_roll.glue_area) == (9000, 9000)
    assert [(line.item, line.area) for line in by_strip.consumables] == [("wood glue", 9000)]
    assert by_roll.consumables == ()


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.yaml")), ids=lambda path: path.stem)
def test_every_glued_joint_has_an_area(path: Path) -> None:
    design = solve(path.read_text(encoding="utf-8"))
    assert [joint.name for joint in design.joints if joint.glue and joint.glue_area <= 0] == []
    assert sum(glue_areas(design).values()) >= sum(
        joint.glue_area for joint in design.joints if joint.glue and not joint.apart
    )


def test_a_published_rule_for_the_surface() -> None:
    """Both faces and no edges: I. S. Griffith, Correlated Courses in Woodwork, 1912, price list.

    By that rule a shelf of 36 by 9 in has 4-1/2 square feet; with its edges and ends of 3/4 in, 4.97.
    """
    shelf = "shelf: {stock: pine, runs: across, thick: up, width: 9in, length: 36in, PLACE}".replace(
        "PLACE", "place: {left: 0, front: 0, bottom: 0}"
    )
    feet = finish_area(solve(project(shelf))) / Fraction("304.8") ** 2
    edges = Fraction(2 * 3, 4) * (36 + 9) / 144
    assert feet - edges == 2 * Fraction(36 * 9, 144)


# Glue


def test_glue_by_its_area_where_nothing_is_said() -> None:
    """1600 mm2 at 5 m2 to the litre are 320 mm3, a third of a millilitre."""
    lists = lists_of(stand())
    line = one(lists, "wood glue")
    assert (line.area, line.amount, line.measure, line.assumed) == (1600, 320, "volume", True)
    assert (line.number, line.cost) == (None, None)
    assert "Wood glue" in lists.unpriced
    assert "common practice" in lists.consumable_note.text(MM)


@pytest.mark.parametrize(
    ("shop", "amount", "number", "cost"),
    [
        ("bottle: 16 fl oz, price: 8.50 USD", Fraction(320), 1, Fraction("8.5")),
        ("bottle: 0.1 ml, price: 2 USD", Fraction(320), 4, Fraction(8)),
        ("bottle: 0.1 ml, price: 2 USD, covers: 16 m2/l", Fraction(100), 1, Fraction(2)),
        ("bottle: 0.1 ml, price: 2 USD, covers: 15 m2/l", Fraction(1600, 15), 2, Fraction(4)),
        ("bottle: 500 g, price: 7 USD", Fraction(1600, 5000), 1, Fraction(7)),  # 0.32 g
        ("bottle: 500 g", Fraction(1600, 5000), 1, None),
    ],
)  # fmt: skip
def test_bottles_are_rounded_up(shop: str, amount: Fraction, number: int, cost: Fraction | None) -> None:
    line = one(lists_of(stand(shop=shop)), "wood glue")
    assert (line.amount, line.number) == (amount, number)
    assert line.cost == (Money(cost, "USD") if cost is not None else None)
    assert line.left is not None
    assert line.left >= 0
    assert line.assumed == ("covers" not in shop)


def test_every_glue_has_a_line() -> None:
    text = stand(glue="hide glue").replace("{wood glue: {}}", "{wood glue: {}, hide glue: {bottle: 150 ml}}")
    assert [line.item for line in lists_of(text).consumables] == ["hide glue"]
    assert the_fault(stand(glue="fish glue"), "unknown-glue").remedy.startswith("add it under `shop`")


# Finish

VARNISH = "finish: {varnish: {coats: 3, covers: 500 sqft/gal, can: 1 qt, price: 21.40 USD}}\n"


def test_finish_by_surface_and_coats() -> None:
    """0.376 m2 in all; three coats of it at 12.271 m2 to the litre are 91.9 ml, 3.11 fl oz: one quart."""
    lists = lists_of(stand(head=VARNISH))
    line = one(lists, "varnish")
    area = FOOT_FACES + POST_FACES - 3200
    rate = 500 * Fraction("0.09290304") / Fraction("3.785411784")
    assert (line.area, line.coats) == (area, 3)
    assert line.amount == 3 * area / rate
    assert (line.number, line.cost) == (1, Money(Fraction("21.4"), "USD"))
    assert line.left == Fraction("946352.946") - 3 * area / rate
    assert line.words.text(MM) == "three coats of 0.38 m², 92 ml: 1 can of 1 qt"
    assert line.words.text(INCH) == "three coats of 4 sq ft, 3.2 fl oz: 1 can of 1 qt"
    assert lists.costs[-1].cost == Money(Fraction("21.4"), "USD")
    assert lists.costs[-1].kind == "finish"
    assert not any("finish," in note.text(MM) for note in lists.cost_notes)


def test_the_last_drop_takes_another_can() -> None:
    """The stand has 0.376 m2: a can that covers just that does one coat, and two coats take two."""
    area = FOOT_FACES + POST_FACES - 3200
    exact = f"finish: {{oil: {{covers: 1 m2/l, can: {Fraction(area, 1000)} ml}}}}\n".replace("2/1 ", "2 ")
    assert one(lists_of(stand(head=exact)), "oil").number == 1
    short = exact.replace(f"{Fraction(area, 1000)}", f"{float(Fraction(area - 200, 1000))}")
    assert one(lists_of(stand(head=short)), "oil").number == 2


def test_what_is_not_said_is_not_guessed() -> None:
    lists = lists_of(stand(head="finish: {oil: {title: Hard oil, coats: 2, can: 1 l, price: 30 EUR}}\n"))
    line = one(lists, "oil")
    assert (line.title, line.amount, line.number, line.cost) == ("Hard oil", None, None, None)
    assert "how far it goes is not said" in line.words.text(MM)
    assert "Hard oil" in lists.unpriced


def test_the_notes_say_what_is_left_to_the_maker() -> None:
    plain = lists_of(stand()).consumable_note.text(MM)
    assert "The finish is not described" in plain
    assert "Abrasives" in plain
    bare = lists_of(stand(head=VARNISH, post="finish: none"))
    marks = {line.part: line.mark for line in bare.cut_list}
    assert f"none on {marks['post']};" in bare.consumable_note.text(MM)


@pytest.mark.parametrize(
    ("head", "kind", "at"),
    [
        ("finish: {oil: {covers: 5 m2/kg, can: 1 l}}\n", "coverage-unit", "covers"),
        ("finish: {oil: {coats: 0}}\n", "bad-value", "coats"),
        ("finish: {oil: {price: 3 USD}}\n", "missing-key", "price"),
        ("finish: {oil: {price: 3 USD/m, can: 1 l}}\n", "price-unit", "price"),
        ("finish: {oil: {can: 1 foot}}\n", "bad-value", "1 foot"),
        ("finish: {oil: {bottle: 1 l}}\n", "unknown-key", "bottle"),
    ],
)
def test_faults_are_at_their_place(head: str, kind: str, at: str) -> None:
    text = stand(head=head)
    assert line_at(text, the_fault(text, kind)).startswith(at)


def test_a_finish_that_is_not_there() -> None:
    text = stand(head=VARNISH, post="finish: varnsh")
    fault = the_fault(text, "undefined-name")
    assert line_at(text, fault).startswith("varnsh")
    assert fault.remedy == "did you mean `varnish`?"


# Words


@pytest.mark.parametrize(
    ("amount", "measure", "inch", "metric"),
    [
        (FLUID_OUNCE, "volume", "1 fl oz", "30 ml"),
        (FLUID_OUNCE + 1, "volume", "1.1 fl oz", "30 ml"),
        (FLUID_OUNCE * 48, "volume", "1.5 qt", "1.42 l"),
        (Fraction(1000), "mass", "35.3 oz", "1 kg"),
        (Fraction(1, 3), "mass", "0.1 oz", "1 g"),
    ],
)
def test_amounts_are_never_said_too_small(amount: Fraction, measure, inch: str, metric: str) -> None:
    words = amount_words(amount, measure)
    assert (words.inch, words.metric) == (inch, metric)


@pytest.mark.parametrize("area", [1600, 376_000, 1_000_001, 1_118_304, 4_603_037, 9_290_304])
def test_areas_are_said_as_everywhere(area: int) -> None:
    words = area_words(Fraction(area))
    for style, said in ((INCH, words.inch), (MM, words.metric)):
        assert said == " ".join(Numbers(style).area(Fraction(area)))


def test_the_note_and_the_rule_are_one() -> None:
    """5 m2 to the litre are 51 square feet to the quart and 24 to the pound, as the note prints."""
    foot = Fraction("0.09290304")
    assert GLUE_COVERS["volume"] / foot * Fraction("0.946352946") == pytest.approx(51, abs=0.5)
    assert GLUE_COVERS["mass"] / 1000 / foot * Fraction("0.45359237") == pytest.approx(24, abs=0.5)
