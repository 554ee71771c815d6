"""The take-off: every list of one build, from the design alone."""

from __future__ import annotations

from collections.abc import Mapping

from plangen.design.model import Design
from plangen.findings import Findings
from plangen.takeoff.areas import AREA_NOTE, finish_area, glue_area
from plangen.takeoff.banding import banded_items, banding_lines
from plangen.takeoff.consumables import consumable_lines, consumable_note
from plangen.takeoff.costs import cost_lines, cost_notes, currency_of, report_price_units, total
from plangen.takeoff.cut_list import WorkOrder, cut_list
from plangen.takeoff.glues import glues_used
from plangen.takeoff.hardware_bill import SPARE_NOTE, hardware_bill
from plangen.takeoff.model import TakeOff
from plangen.takeoff.stages import report_thin_stock, stages
from plangen.takeoff.stock_plans import plan_stock
from plangen.takeoff.tool_list import tool_list
from plangen.takeoff.waste import waste_rules
from plangen.takeoff.weights import assembly_masses, mass_note, part_masses, whole_mass


def take_off(
    design: Design,
    order: WorkOrder | None,
    findings: Findings,
    volumes: Mapping[str, float] | None = None,
) -> TakeOff:
    """Draw up every list of the design.

    ``order`` tells in which step a size is read from the work. ``volumes`` gives the volume of one piece
    in mm3 by part key; without it the blanks are weighed. Adds errors ``part-exceeds-stock``,
    ``mixed-currencies``, ``price-unit``, ``no-sheet-size`` and warnings ``unused-stock``,
    ``assumed-board-sizes``, ``factory-edge``, ``little-to-plane``. Raises nothing of its own.
    """
    currency = currency_of(design, findings)
    report_price_units(design, findings)
    report_unused(design, findings)
    report_thin_stock(design, findings)
    used = dict.fromkeys(part.stock for part in design.parts)
    plans = tuple(
        plan
        for name, stock in design.stock.items()
        if name in used
        for plan in [plan_stock(design, stock, findings, currency)]
        if plan is not None
    )
    bill = hardware_bill(design, currency)
    rules = waste_rules(design, plans, currency)
    consumables = consumable_lines(design, currency)
    costs, unpriced = cost_lines(design, plans, bill, consumables, rules)
    masses = part_masses(design, volumes)
    return TakeOff(
        cut_list=cut_list(design, order),
        stages=stages(design, order, plans),
        hardware=bill,
        plans=plans,
        costs=costs,
        total_cost=total(costs),
        unpriced=unpriced,
        part_mass=masses,
        mass=whole_mass(design, masses),
        mass_note=mass_note(design, masses, volumes),
        tools=tool_list(design, order),
        glue_area=glue_area(design),
        finish_area=finish_area(design),
        area_note=AREA_NOTE,
        glues=glues_used(design),
        banding=banding_lines(design),
        consumables=consumables,
        waste_rules=rules,
        assembly_mass=assembly_masses(design, masses),
        cost_notes=cost_notes(design, costs, unpriced),
        hardware_note=SPARE_NOTE if bill else "",
        consumable_note=consumable_note(design, consumables),
    )


def report_unused(design: Design, findings: Findings) -> None:
    """Warn of stock and hardware that is listed and used by nothing."""
    stock = {part.stock for part in design.parts}
    banding = banded_items(design)
    stock |= {item.stock for item in design.hardware.values() if item.stock} | banding
    uses = [use for joint in design.joints for use in joint.hardware] + [fit.hardware for fit in design.fits]
    wares = [item.ware for item in design.hardware.values() if item.ware is not None]
    brought = {ware.screws.name for ware in wares if ware.screws is not None}  # no line of their own
    hardware = {use.item for use in uses} | banding | brought
    for name, listed in design.stock.items():
        if name not in stock:
            findings.warning("unused-stock", f"no part is made of {name}", listed.place, "take the line out")
    for name, item in design.hardware.items():
        if name not in hardware:
            findings.warning(
                "unused-stock", f"no joint and no part uses {name}", item.place, "take the line out"
            )
