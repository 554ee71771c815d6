"""Variants from the command line: another stock for all parts or for one, and what follows or is refused."""

from __future__ import annotations

from fractions import Fraction

import pytest

from plangen.description import Description, apply_settings, read_description
from plangen.description.substitution import texts
from plangen.design.build import make_design
from plangen.findings import Findings, ProjectError
from plangen.takeoff import take_off
from plangen.units import inches, millimetres

CABINET = """\
plangen: 1
project: {title: Maple cabinet, units: inch, line: An open case}
shop: {kerf: 1/8in, glue: {wood glue: {open time: 10}}}
sizes:
  width: 24in
  inside: width - 2 * ply.thickness - 0 * back ply.thickness
stock:
  ply: {kind: plywood, title: Birch plywood, species: birch plywood, label: 3/4in, thickness: 0.703in, sheet: 48in x 96in, price: 78 USD/sheet}
  back ply: {kind: plywood, title: Birch plywood, species: birch plywood, label: 1/4in, thickness: 0.203in, sheet: 48in x 48in}
  metric: {kind: plywood, title: Oak-faced plywood, species: birch plywood, thickness: 18mm, sheet: 1220mm x 2440mm, price: 64 USD/sheet}
  maple: {kind: solid, species: hard maple, title: "Hard maple, select", rough: 4/4, thickness: 3/4in, widths: [5-1/2in], lengths: [72in, 96in], price: 9.40 USD/bdft, density: 700}
hardware:
  screw: {kind: wood screw, gauge: 8, length: 1-1/2in, head: flat, price: 9.50 USD, pack: 100}
parts:
  side:
    stock: ply
    runs: up
    thick: across
    cut:
      - edge banding: {edges: [front], with: maple, thickness: 1/32in}
    place:
      left side: {left: 0, front: 0, back: 8in, bottom: 0, top: 20in}
      right side: {mirror of: left side, plane: across at width / 2}
  shelf:
    stock: ply
    runs: across
    thick: up
    place: {left: left side.right, right: right side.left, front: 0, back: 8in, bottom: 4in}
  rail:
    stock: maple
    runs: across
    thick: deep
    width: 2-1/2in
    title: Maple rail
    place: {left: left side.right, right: right side.left, back: 8in, bottom: shelf.top}
joints:
  - dado: {name: housings, in: side, for: shelf, depth: 1/4in, glue: wood glue, contacts: 2}
  - screwed: {name: rail screws, through: side, into: rail, with: screw, per joint: 2}
steps:
  - draft
"""  # noqa: E501


@pytest.fixture
def description() -> Description:
    found = read_description(CABINET.encode(), "project.yaml", Findings())
    assert found is not None
    return found


def kinds(findings: Findings) -> list[str]:
    return [finding.kind for finding in findings]


def refused(description: Description, *settings: str):
    with pytest.raises(ProjectError) as caught:
        apply_settings(description, settings)
    return caught.value.findings


def test_another_stock_takes_the_place_of_one_everywhere(description: Description) -> None:
    changed = apply_settings(description, ["ply=metric"])
    assert list(changed.stock) == ["back ply", "metric", "maple"]
    assert changed.parts["side"].stock == "metric"
    assert changed.parts["shelf"].stock == "metric"
    assert changed.parts["rail"].stock == "maple"
    assert changed.sizes["inside"].text == "width - 2 * metric.thickness - 0 * back ply.thickness"
    assert description.parts["side"].stock == "ply"
    left = [text for key, text in texts(changed) if text == "ply" or "ply." in text.replace("back ply.", "")]
    assert left == []


def test_every_list_follows_another_stock(description: Description) -> None:
    """The case gets 18 mm sides; between them is 24 in less both, and the shelf enters 1/4 in twice."""
    findings = Findings()
    changed = apply_settings(description, ["ply=metric"], findings)
    solved = make_design(changed, findings)
    assert solved is not None
    lists = take_off(solved.design, None, findings)
    lines = {line.part: line for line in lists.cut_list}
    assert {line.stock for line in lists.cut_list} == {"metric", "maple"}
    assert lines["shelf"].thickness == millimetres(18)
    assert lines["shelf"].length == inches(24) - millimetres(36) + inches("1/2")
    (sheets,) = [plan for plan in lists.plans if plan.stock == "metric"]
    assert {(one.width, one.length) for one in sheets.diagrams} == {(millimetres(1220), millimetres(2440))}
    cost = next(line.cost for line in lists.costs if line.item == "metric")
    assert cost is not None
    assert cost.amount == 64 * len(sheets.diagrams)
    assert "unused-stock" in kinds(findings)  # the thin plywood, as before; nothing says `ply` is unused
    assert not [finding for finding in findings if "`ply`" in finding.message]


def test_banding_follows_another_stock(description: Description) -> None:
    changed = apply_settings(description, ["maple=metric"])
    (banding,) = changed.parts["side"].cut
    assert banding.body.with_ == "metric"


def test_one_part_gets_another_stock(description: Description) -> None:
    changed = apply_settings(description, ["shelf.stock=metric"])
    assert changed.parts["shelf"].stock == "metric"
    assert changed.parts["side"].stock == "ply"
    assert list(changed.stock) == list(description.stock)


NESTED = """\
  tray:
    parts:
      base:
        stock: ply
        runs: across
        thick: up
        length: 10in - ply.thickness
        width: 6in
        place: {left: 0, front: 0, bottom: 0}
    place: {left: 2in, front: 1in, bottom: 12in}
"""


def test_parts_of_assemblies_are_reached_by_the_way_to_them() -> None:
    text = CABINET.replace("joints:\n", f"assemblies:\n{NESTED}joints:\n")
    description = read_description(text.encode(), "project.yaml", Findings())
    assert description is not None
    one = apply_settings(description, ["tray.base.stock=metric"])
    assert one.assemblies["tray"].parts["base"].stock == "metric"
    assert one.parts["side"].stock == "ply"
    every = apply_settings(description, ["ply=metric"])
    base = every.assemblies["tray"].parts["base"]
    assert base.stock == "metric"
    assert base.length.text == "10in - metric.thickness"
    (finding,) = refused(description, "tray.bass.stock=metric")
    assert finding.kind == "unknown-name"


def test_a_list_is_typed_as_in_the_file(description: Description) -> None:
    changed = apply_settings(description, ["maple.widths=[5-1/2in, 7-1/4in]", "maple.lengths=8ft to 10ft"])
    assert [item.text.strip() for item in changed.stock["maple"].widths.items] == ["5-1/2in", "7-1/4in"]
    assert changed.stock["maple"].lengths.is_range
    (finding,) = refused(description, "maple.widths=[5-1/2in, 7-1/4 legs]")
    assert (finding.place.line, finding.place.column) == (1, 24)


def test_the_shop_s_kerf_can_be_set(description: Description) -> None:
    assert apply_settings(description, ["shop.kerf=3/32in"]).shop.kerf.text == "3/32in"


def test_another_species_takes_its_title_along_and_loses_price_and_density(description: Description) -> None:
    findings = Findings()
    changed = apply_settings(description, ['maple.species="white oak"'], findings)
    oak = changed.stock["maple"]
    assert (oak.species, oak.title) == ("white oak", "White oak, select")
    assert oak.price is None
    assert oak.density is None
    assert kinds(findings) == ["price-left-out", "stale-words"]
    price, words = findings
    assert (price.place.file, price.place.line, price.place.column) == ("--set", 1, 7)
    assert "maple.price" in price.remedy
    assert sorted(place.line for place, _ in words.also) == [2, 34]  # the project's title, the rail's


def test_a_price_set_with_the_species_stands(description: Description) -> None:
    findings = Findings()
    settings = ["maple.price=11 USD/bdft", "maple.species=white oak", "maple.title=Oak"]
    changed = apply_settings(description, settings, findings)
    assert changed.stock["maple"].price.amount == 11
    assert changed.stock["maple"].title == "Oak"
    assert "price-left-out" not in kinds(findings)


def test_another_sheet_loses_the_price_of_a_sheet(description: Description) -> None:
    findings = Findings()
    changed = apply_settings(description, ["ply.sheet=1220mm x 2440mm"], findings)
    assert changed.stock["ply"].price is None
    assert kinds(findings) == ["price-left-out"]
    findings = Findings()
    apply_settings(description, ["ply.sheet=60in x 60in", "ply.price=60 USD/sheet"], findings)
    assert kinds(findings) == []


def test_what_is_left_out_is_not_in_the_total_and_is_named(description: Description) -> None:
    findings = Findings()
    changed = apply_settings(description, ["ply.sheet=1220mm x 2440mm"], findings)
    solved = make_design(changed, findings)
    assert solved is not None
    lists = take_off(solved.design, None, findings)
    assert "Birch plywood, 3/4\u00a0in" in lists.unpriced
    assert lists.total_cost is not None
    priced = [line for line in lists.costs if line.cost]
    assert lists.total_cost.amount == sum((round(line.cost.amount * 100) for line in priced), 0) * Fraction(
        1, 100
    )


def test_a_caliper_s_reading_keeps_label_and_price(description: Description) -> None:
    findings = Findings()
    changed = apply_settings(description, ["ply.thickness=0.69in"], findings)
    assert changed.stock["ply"].price is not None
    assert kinds(findings) == []


def test_another_thickness_needs_another_label(description: Description) -> None:
    (finding,) = refused(description, "ply.thickness=12mm")
    assert finding.kind == "stale-label"
    assert (finding.place.file, finding.place.column) == ("--set", 5)
    assert "ply.label" in finding.remedy
    findings = Findings()
    changed = apply_settings(description, ["ply.thickness=12mm", "ply.label=12mm"], findings)
    assert kinds(findings) == ["price-left-out"]
    assert changed.stock["ply"].label.text == "12mm"


def test_another_size_of_screw_loses_its_price(description: Description) -> None:
    findings = Findings()
    changed = apply_settings(description, ["screw.length=2in"], findings)
    assert changed.hardware["screw"].price is None
    assert kinds(findings) == ["price-left-out"]
    findings = Findings()
    changed = apply_settings(description, ["screw.price=8 USD"], findings)
    assert changed.hardware["screw"].price.amount == 8
    assert kinds(findings) == []


def test_what_is_on_the_rack_is_not_of_another_wood() -> None:
    boards = "boards: [{width: 5-1/2in, length: 6ft, have: 2}, {width: 7-1/4in, length: 8ft, price: 40 USD}]"
    text = CABINET.replace("price: 9.40 USD/bdft", boards)
    assert text != CABINET
    description = read_description(text.encode(), "project.yaml", Findings())
    assert description is not None
    findings = Findings()
    (board,) = apply_settings(description, ["maple.species=white oak"], findings).stock["maple"].boards
    assert (board.width.text, board.price, board.have) == ("7-1/4in", None, None)
    assert "and has on the rack" in findings.items[0].message
    kept = apply_settings(description, ["maple.widths=7-1/4in"], Findings())
    assert kept.stock["maple"].boards == description.stock["maple"].boards


@pytest.mark.parametrize(
    ("setting", "kind", "column", "remedy"),
    [
        ("ply=walnut", "unknown-name", 5, "`metric`"),
        ("ply=ply", "unknown-name", 5, "`back ply`"),
        ("play=metric", "unknown-name", 1, "`ply`"),
        ("shelf.stock=walnut", "unknown-name", 13, "`ply`"),
        ("shelf.length=3in", "unknown-key", 7, "shelf.stock"),
        ("shelff.stock=metric", "unknown-name", 1, "`shelf`"),
        ("case.shelf.stock=metric", "unknown-name", 1, ""),
        ("shop.curf=3mm", "unknown-key", 6, "`kerf`"),
        ("ply.sheet=1220mm", "bad-value", 11, "48in x 96in"),
    ],
)
def test_a_bad_variant_points_into_its_setting(
    description: Description, setting: str, kind: str, column: int, remedy: str
) -> None:
    (finding,) = refused(description, "width=20in", setting)
    assert finding.kind == kind
    assert (finding.place.file, finding.place.line, finding.place.column) == ("--set", 2, column)
    assert remedy in finding.remedy
