"""Say each plan: heading, sentences, checks, cautions and tools, where the maker has not said them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from plangen.design.model import Design, Joint, Part
from plangen.handbook.safety import has_caution, most_severe_first
from plangen.joinery.operation import Group, Operation
from plangen.joinery.ranks import work_group
from plangen.sequence.assembly import Assembly
from plangen.sequence.boards import each_piece, is_trimmed, mill_sayings, panel_sayings, stocks_named
from plangen.sequence.bodies import built, first_copy, joints_shown, scope_of, shown_of
from plangen.sequence.checking import joints_named
from plangen.sequence.clamping import clamps_counted, clamps_for
from plangen.sequence.finishing import finishes_used, finishing_words
from plangen.sequence.fitting import (
    families,
    fit_sayings,
    fits_named,
    fitted_nouns,
    holds_upright,
    is_wall_hardware,
)
from plangen.sequence.join_words import join_title, joint_sayings
from plangen.sequence.plan import Plan
from plangen.sequence.resting import speaking
from plangen.sequence.tokens import hardware_token, length_token, part_token, phrase_text
from plangen.sequence.trade import DRILL_IN, heading_of, trade_of
from plangen.sequence.words import (
    bodies_counted,
    body_noun,
    copies_counted,
    in_short,
    noun_of,
    number_word,
    parts_counted,
    pieces_named,
    plural,
    work_sayings,
)
from plangen.takeoff.banding import banding_length, before_banding
from plangen.takeoff.glues import finish_words, glue_words, glues_of, shop_glue
from plangen.takeoff.hardware_tools import fit_tools, joint_tools
from plangen.takeoff.naming import own_name
from plangen.takeoff.tool_list import operation_tools
from plangen.units import listed, millimetres

MOST_NAMED: Final = 4  # kinds of piece, or of work, in a heading
MOST_CLAUSES: Final = 2  # kinds of work with headings of their own, in one heading
SHORT_PART: Final = millimetres(150)  # common practice, no source: shorter is not safe at a machine


def title_of(design: Design, assembly: Assembly, plan: Plan, new: Sequence[str]) -> str:
    """Give the heading of a step: what to do, in a few words. ``new`` are the copies it places."""
    if plan.title:
        return plan.title
    if plan.joints:
        joined = join_title(design, assembly, joints_named(design, plan.joints), new, plan.kind)
        return f"{joined} and fit the {listed(fitted_nouns(design, plan.fits))}" if plan.fits else joined
    if plan.dry:
        return "Try the joints dry"
    if plan.brought:
        return f"Put {bodies_counted(design, plan.brought)} in place"
    if plan.fits:
        verb = "Hang it with" if plan.kind == "hang" else "Fit"
        if plan.kind == "hang" and all(
            holds_upright(design, first.hardware.item)
            for first, *_ in families(fits_named(design, plan.fits))
        ):
            verb = "Fasten it to the wall with"
        return f"{verb} the {listed(fitted_nouns(design, plan.fits))}"
    if plan.panels:
        return f"Glue up the {_named(design, plan.panels)}"
    if plan.measured:
        return f"Measure for the {_named(design, plan.measured)}" + (" and cut to fit" if plan.made else "")
    if plan.made:
        return f"Cut the {stocks_named(design, plan.made, planed=True)} parts to size"
    if plan.worked:
        return _work_title(design, plan)
    if plan.milled:
        return f"Mill the {stocks_named(design, plan.milled)}"
    if plan.finish:
        return "Sand and finish"
    if plan.placed:
        return f"Put the {listed(pieces_named(design, plan.placed))} in place"
    return "Go on"


def say_of(design: Design, assembly: Assembly, plan: Plan) -> str:
    """Give the sentences of a step as Markdown with tokens; the maker's own words come first."""
    drafted = plan.say if plan.say is not None else "\n\n".join(_sentences(design, assembly, plan))
    return "\n\n".join(text for text in (*plan.say_before, drafted, *plan.say_after) if text)


def _sentences(design: Design, assembly: Assembly, plan: Plan) -> list[str]:
    said = []
    if plan.milled:
        said += mill_sayings(design, plan.milled)
    if plan.panels:
        said += panel_sayings(design, plan.panels, plan.made)
    if plan.measured:
        said += [sentence for key in plan.measured for sentence in _measure(design.part(key))]
    trimmed = [key for key in plan.panels if is_trimmed(design.part(key))]
    cut = [key for key in plan.made if key not in (*plan.measured, *trimmed)]
    banded = [key for key in cut if banding_length(design.part(key))]
    for key in banded:
        length, width = before_banding(design.part(key))
        said.append(
            f"Cut {parts_counted(design, [key])} to {length_token(width)} × {length_token(length)}: "
            "edge banding makes up the finished size."
        )
    cut = [key for key in cut if key not in banded]
    if cut:
        said.append(
            f"Cut {parts_counted(design, cut)} to the finished sizes of the cut list. "
            "Write its mark on each piece."
        )
    if plan.worked:
        said += _work(design, plan)
    if plan.dry:
        said.append(_dry(design, assembly, plan))
    if plan.joints:
        said += _join(design, assembly, joints_named(design, plan.joints))
    if plan.brought and not plan.joints:
        said.append(f"Set {bodies_counted(design, plan.brought)} in place.")
    said += fit_sayings(design, plan.fits)
    if plan.placed and not plan.finish:
        said.append(f"Set {copies_counted(design, plan.placed)} in place.")
    said += _each_alike(design, assembly, plan)
    if plan.finish:
        said.append(finishing_words(design))
    return said


def _dry(design: Design, assembly: Assembly, plan: Plan) -> str:
    """Say what is put together for trial, and what to do where it does not go."""
    within = scope_of(design, assembly, plan)
    pieces = shown_of(assembly.members(plan.dry), first_copy(design, within))
    numbers = Counter(design.part_of[copy].key for copy in pieces)
    named = listed([part_token(key, number) for key, number in numbers.items()])
    pare = "Pare a joint that needs more than hand pressure."
    if plan.joints:
        return f"First put {named} together without glue. {pare} Take it apart again."
    return f"Put {named} together without glue. Follow the order of the next steps. {pare}"


def _each_alike(design: Design, assembly: Assembly, plan: Plan) -> list[str]:
    """Say that all copies of an assembly are built the same way, where one is shown."""
    one = built(design, scope_of(design, assembly, plan))
    if one is None or len(one.copies) == 1:
        return []
    number = len(one.copies)
    how_many = "both" if number == 2 else f"all {number_word(number)}"
    noun = body_noun(design, one.name)
    if plan.fits and not plan.joints:
        return [f"Do this on {how_many} {plural(noun, number)}."]
    return [f"The picture shows one {noun}. Build {how_many} {plural(noun, number)} alike."]


def _measure(part: Part) -> list[str]:
    said = []
    for size in part.from_work:
        what = "length" if size.axis is part.runs else "width" if size.axis is part.wide else "thickness"
        said.append(
            f"Measure on the work for the {what} of {part_token(part.key)}: {phrase_text(size.formula)}. "
            f"The drawing gives {length_token(size.expected)}. Cut it to what you measured."
        )
    return said


def _work(design: Design, plan: Plan) -> list[str]:
    """Say the work; each instruction names its pieces, and parts that are worked alike share theirs."""
    by_part: dict[str, list[int]] = {}
    for key, index in plan.worked:
        by_part.setdefault(key, []).append(index)
    alike: dict[tuple[str, ...], list[str]] = {}
    for key, indices in by_part.items():
        part = design.part(key)
        sayings = work_sayings(part, [part.operations[index] for index in indices])
        alike.setdefault(sayings, []).append(key)
    said = []
    for sayings, keys in alike.items():
        pair = len(keys) == 2 and design.part(keys[0]).mirror == keys[1]
        start = f"On {each_piece(design, keys)}{', a mirror pair' if pair else ''}"
        said += [f"{start}: {_lower_first(saying)}" for saying in sayings]
    worked = ["\n".join(f"- {saying}" for saying in said)] if len(said) > 1 else said
    bored = any(heading_of(design.part(key).operations[at]) == DRILL_IN for key, at in plan.worked)
    return [*worked, "Lay out each hole from the sheet of its part."] if bored else worked


def _lower_first(text: str) -> str:
    return text[:1].lower() + text[1:]


def _join(design: Design, assembly: Assembly, joints: Sequence[Joint]) -> list[str]:
    """Glue, close, clamp, and last the plugs."""
    joints = speaking(joints)
    glued = [joint for joint in joints if joint.glue]
    said = []
    if glued:
        glues = listed(list(dict.fromkeys(joint.glue for joint in glued if joint.glue)))
        shown = first_copy(design, assembly.scope(joint.name for joint in joints))
        clamps = clamps_for(joints_shown(joints, shown))
        said.append(f"Have everything at hand{f', with {clamps_counted(clamps)}' if clamps else ''}.")
        if all(trade_of(joint).spreads for joint in glued):  # their own sentences say where it goes
            said.append(f"Use {glues}{_but_dry(joints)}.")
        else:
            said.append(f"Put {glues} on both faces of each joint{_but_dry(joints)}.")
    sayings = joint_sayings(design, assembly, joints)
    said.append("\n".join(f"- {saying}" for saying in sayings) if len(sayings) > 2 else " ".join(sayings))
    said += _takes(design, joints)
    if any(joint.apart and not trade_of(joint).lies for joint in joints):
        said.append("Use no glue: this joint comes apart.")
    if glued:
        held = all(trade_of(joint).tight or _says(joint, "clamp") for joint in glued)
        said.append("Wipe off wet glue." if held else "Clamp until the shoulders close. Wipe off wet glue.")
    plugs: dict[str, int] = {}
    for use in (use for joint in joints if not _says(joint, "plug") for use in joint.hardware):
        plugs[use.item] = plugs.get(use.item, 0) + use.number
    said += [
        f"Glue {hardware_token(item, number)} over the screw heads, grain in line. Pare flush when dry."
        for item, number in plugs.items()
        if item in design.hardware and design.hardware[item].kind == "plug"
    ]
    return said


def _takes(design: Design, joints: Sequence[Joint]) -> list[str]:
    """Name all that is put in where joints take several things: bolts with their nuts and washers."""
    counts: dict[str, int] = {}
    for use in (use for joint in joints for use in joint.hardware):
        if use.item in design.hardware and design.hardware[use.item].kind != "plug":
            counts[use.item] = counts.get(use.item, 0) + use.number
    if len(counts) < 2:
        return []
    return [f"In all this takes {listed([hardware_token(item, number) for item, number in counts.items()])}."]


def minutes_to_close(design: Design, plan: Plan, within: str | None = None) -> Fraction:
    """Give the minutes to spread glue and close the joints of a step: half a minute for each contact.

    ``within`` is the key of the assembly that is built: its copies are glued one after the other, so that
    one counts. Common practice, no source.
    """
    joints = joints_shown(joints_named(design, plan.joints), first_copy(design, within))
    return Fraction(sum(len(joint.contacts) for joint in joints if joint.glue), 2)


def cautions_of(design: Design, plan: Plan, *, heavy: bool = False) -> tuple[str, ...]:
    """Give the keys of the safety texts a step needs, most severe first; ``heavy``: what it lifts is."""
    keys = list(plan.cautions)
    if plan.milled:
        keys += ["jointer", "planer"]
    if plan.made:
        keys += ["table saw"]
        if any(design.part(key).length < SHORT_PART for key in plan.made):
            keys.append("short part")
    of_fits = {fit.name: fit.cautions for fit in design.fits}  # these stand where the hardware goes on
    for key, index in plan.worked:
        operation = design.part(key).operations[index]
        keys += [one for one in operation.cautions if one not in of_fits.get(operation.joint or "", ())]
    for joint in joints_named(design, plan.joints):
        keys += [one for one in joint.cautions if one != "glue"]
        keys += ["glue"] if joint.glue else []
    if plan.panels:
        keys += ["glue", "clamps"]
    fits = [fit for fit in design.fits if fit.name in plan.fits]
    keys += [caution for fit in fits for caution in fit.cautions]
    if plan.kind == "hang" or any(is_wall_hardware(design, fit.hardware.item) for fit in fits):
        keys += ["wall hanging", "lifting"]
    if heavy:
        keys.append("lifting")
    if plan.finish:
        keys += ["sanding dust", "finish rags"]
    return most_severe_first(key for key in keys if has_caution(key))


def tools_of(design: Design, plan: Plan) -> tuple[str, ...]:
    """Give the tools of a step as Markdown, each once: the maker's, then the work's."""
    tools = list(plan.tools)
    if plan.milled:
        tools.append("Jointer and planer, or hand planes")
    if plan.made:
        tools.append("Table saw or hand saw")
    if plan.measured:
        tools.append("Tape measure")
    for key, index in plan.worked:
        tools += [phrase_text(tool) for tool in operation_tools(design.part(key).operations[index])]
    joints = joints_named(design, plan.joints)
    for joint in joints:
        tools += [phrase_text(tool) for tool in joint_tools(design, joint)]
    for fit in fits_named(design, plan.fits):
        tools += [phrase_text(tool) for tool in fit_tools(design, fit)]
    tools += _glues(design, plan, joints)
    if plan.panels or clamps_for(joints):
        tools.append("Clamps")
    if plan.dry:
        tools.append("Square")
    if plan.finish:
        tools.append("Sandpaper to 180 grit")
        tools += [phrase_text(finish_words(one)) for one in finishes_used(design)]
    return tuple(dict.fromkeys(tools))


def _glues(design: Design, plan: Plan, joints: Sequence[Joint]) -> list[str]:
    """Name the glues of a step with their open times."""
    names = [shop_glue(design)] if plan.panels else []
    names += [glue for joint in joints for glue in glues_of(design, joint)]
    open_times = dict(design.shop.glues)
    return [phrase_text(glue_words(name, open_times.get(name))) for name in dict.fromkeys(names)]


def _but_dry(joints: Sequence[Joint]) -> str:
    """Name the joints that get no glue among those that do."""
    dry = [joint for joint in joints if not joint.glue and not trade_of(joint).tight]
    nouns = dict.fromkeys(joint.title[:1].lower() + joint.title[1:] for joint in dry)
    return f", but none in the {listed([plural(noun, 2) for noun in nouns])}" if nouns else ""


def _says(joint: Joint, word: str) -> bool:
    return any(isinstance(piece, str) and word in piece for piece in joint.say.pieces)


def _named(design: Design, keys: Sequence[str]) -> str:
    """Name parts in a heading: one by one, else alike ones together, else those of an assembly together."""
    names = [
        pieces_named(design, [copy.name for copy in design.part(key).copies]) for key in dict.fromkeys(keys)
    ]
    each = pieces_named(design, [copy.name for key in keys for copy in design.part(key).copies])
    if short := in_short(each, MOST_NAMED):
        return listed(short)
    held = {one.key: f"{own_name(one.name)} parts" for one in design.assemblies}
    gathered: dict[str, None] = {}
    for key, own in zip(dict.fromkeys(keys), names, strict=True):
        within = design.part(key).assembly
        gathered.update(dict.fromkeys([held[within]] if within in held else own))
    apart = [name for name in gathered if name not in held.values()]
    whole = [name for name in gathered if name in held.values()]
    short = in_short(apart, MOST_NAMED - len(whole)) if len(whole) < MOST_NAMED else []
    return listed([*short, *whole]) if short or not apart else "parts"


def _work_title(design: Design, plan: Plan) -> str:
    """Give ``Cut the dadoes in the sides``: the heading of each kind of work, with its pieces."""
    clauses: dict[str, tuple[dict[str, int], dict[str, Operation], dict[str, None]]] = {}
    for key, index in plan.worked:
        part = design.part(key)
        operation = part.operations[index]
        nouns, firsts, keys = clauses.setdefault(heading_of(operation), ({}, {}, {}))
        nouns[operation.title] = nouns.get(operation.title, 0) + len(part.copies)
        firsts.setdefault(operation.title, operation)
        keys[key] = None
    said = []
    for heading, (nouns, firsts, keys) in clauses.items():
        work = [
            noun_of(firsts[title], 1 if title.lower().endswith("s") else number)
            for title, number in nouns.items()
        ]
        work = in_short(work, MOST_NAMED) or ["joints"]
        said.append(heading.format(work=listed(work), pieces=_named(design, list(keys))))
    if len(said) <= MOST_CLAUSES:
        return listed([said[0], *(_lower_first(clause) for clause in said[1:])])
    edges = all(work_group(design.part(key).operations[at]) is Group.EDGES for key, at in plan.worked)
    what = "edges of the" if edges else "joints of the"
    return f"Work the {what} {_named(design, list(dict.fromkeys(key for key, _ in plan.worked)))}"
