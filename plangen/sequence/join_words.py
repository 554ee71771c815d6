"""Words for closing joints: the heading of the step, and how each joint goes together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from plangen.design.model import Contact, Copy, Design, Joint
from plangen.joinery.space import Axis, Side
from plangen.sequence.assembly import Assembly
from plangen.sequence.bodies import built, first_copy, handled_as, joints_shown, shown_of
from plangen.sequence.edge_words import side_name
from plangen.sequence.resting import is_stack, resting_pieces, speaking, stands
from plangen.sequence.tokens import part_token, phrase_text
from plangen.sequence.trade import is_resting, trade_of, verb_for
from plangen.sequence.words import bodies_counted, body_noun, copies_counted, in_short, pieces_named
from plangen.takeoff.naming import own_name
from plangen.units import listed

MOST_NAMES: Final = 4  # in a heading
MOST_BY_THEMSELVES: Final = 2  # joints that have nothing to do with each other, each said in the heading


def join_title(
    design: Design, assembly: Assembly, joints: Sequence[Joint], new: Sequence[str], kind: str
) -> str:
    """Give the heading of a step that closes joints: what comes in, and what it is really joined to.

    Where an assembly is built it speaks of its first copy; what is built already is one thing.
    """
    joints = speaking(joints)
    within = assembly.scope(joint.name for joint in joints)
    shown = first_copy(design, within)
    joints, new = joints_shown(joints, shown), shown_of(new, shown)

    def named(copies: Iterable[str]) -> list[str]:
        return _scoped_names(design, assembly, within, copies)

    if all(is_resting(joint) for joint in joints):
        return _set_down(design, assembly, joints)
    by_themselves = _by_themselves(assembly, joints, within)
    if len(by_themselves) == MOST_BY_THEMSELVES:
        first, second = (join_title(design, assembly, some, new, kind) for some in by_themselves)
        verb, _, rest = second.partition(" ")
        return f"{first} and {rest if first.startswith(f'{verb} ') else second[:1].lower() + second[1:]}"
    verb = verb_for(joints[0], kind == "glue")
    chosen = [joint for joint in joints if joint.glue] if verb == "Glue" else list(joints)
    contacts = [contact for joint in chosen or joints for contact in joint.contacts]
    members = dict.fromkeys(copy for item in contacts for copy in (item.moving, item.fixed))
    fresh = [copy for copy in members if copy in new]
    if fresh and len(fresh) < len(members):
        subject = fresh
        partners = [_partners(contacts, copy) for copy in fresh]
        onto = list(dict.fromkeys(copy for some in partners for copy in some if copy not in fresh))
        if not all(set(some) & set(onto) for some in partners):
            onto = []
    else:
        # What the fasteners go through is put on what they go into.
        through = trade_of(joints[0]).lies and trade_of(joints[0]).tight
        subject = list(dict.fromkeys(item.fixed if through else item.moving for item in contacts))
        onto = [copy for copy in members if copy not in subject]
    also = [
        copy for copy in new if copy not in members and copy in assembly.members([j.name for j in joints])
    ]
    tail = f" and set in the {listed(named(also))}" if len(also) == 1 else ""
    moving = named(subject)
    heading = trade_of(joints[0]).heading
    if heading and all(trade_of(joint).heading == heading for joint in joints):
        return heading.format(pieces=listed(moving)) + tail
    still = [name for name in named(onto) if name not in moving]
    some = fresh and len(fresh) < len(members)
    if still and len(moving) + len(still) <= MOST_NAMES:
        return f"{verb} the {listed(moving)} to the {listed(still)}{tail}"
    if not still and not some and len(moving) <= MOST_NAMES:
        return f"{verb} the {listed(moving)} together{tail}"
    for most in (2, 3):
        short, onto_short = in_short(moving, most), in_short(still, most)
        if short and onto_short and not set(short) & set(onto_short):
            return f"{verb} the {listed(short)} to the {listed(onto_short)}{tail}"
    if short := in_short(moving, MOST_NAMES - 1):
        return f"{verb} the {listed(short)} {'in place' if some or still else 'together'}{tail}"
    return f"{verb} the {_whole_named(design, within)} together{tail}"


def _by_themselves(assembly: Assembly, joints: Sequence[Joint], within: str | None) -> list[list[Joint]]:
    """Part joints by what they have to do with each other: those that meet no piece of the others."""
    found: list[tuple[set[str], list[Joint]]] = []
    for joint in joints:
        pieces = [copy for item in joint.contacts for copy in (item.fixed, item.moving)]
        met = {handled_as(assembly, copy, within) for copy in pieces}
        touching = [one for one in found if one[0] & met]
        found = [one for one in found if not one[0] & met]
        together = [other for _, some in touching for other in some]
        found.append((met.union(*(one[0] for one in touching)), [*together, joint]))
    return [some for _, some in found]


def _whole_named(design: Design, within: str | None) -> str:
    """Give what many pieces come together to: the assembly that is built, or the frame of the whole."""
    one = built(design, within)
    return body_noun(design, one.name) if one is not None else "frame"


def _scoped_names(design: Design, assembly: Assembly, within: str | None, copies: Iterable[str]) -> list[str]:
    """Name pieces where an assembly is built: those that are in it by their part's own name."""
    if within is None:
        return pieces_named(design, copies, lambda copy: assembly.body(copy, None))
    here = first_copy(design, within) or frozenset()
    own = {copy for copy in here if assembly.home(copy) == within}
    parts = tuple(
        replace(
            part,
            name=own_name(part.name) if any(copy.name in own for copy in part.copies) else part.name,
            copies=tuple(copy for copy in part.copies if copy.name in here),
        )
        for part in design.parts
    )
    assemblies = tuple(
        replace(one, copies=tuple(copy for copy in one.copies if here.issuperset(copy.members)))
        for one in design.assemblies
    )
    scoped = replace(design, parts=parts, assemblies=assemblies)
    names = pieces_named(scoped, copies, lambda copy: assembly.body(copy, within))
    return [name.partition(" of the ")[0] for name in names]


def _partners(contacts: Iterable[Contact], copy: str) -> list[str]:
    """Give what a copy meets in some contacts."""
    return [
        item.fixed if item.moving == copy else item.moving
        for item in contacts
        if copy in (item.moving, item.fixed)
    ]


def _set_down(design: Design, assembly: Assembly, joints: Sequence[Joint]) -> str:
    down, touched = resting_pieces(design, assembly, joints)
    how = touched[0][1] if touched else ""
    first = [copy for copy, way in touched if way == how]
    within = assembly.scope(joint.name for joint in joints)

    def named(copies: Sequence[str]) -> str:
        return listed(_scoped_names(design, assembly, within, copies))

    where = f" {how} the {named(first)}" if first else " in place"
    return f"{_set_verb(assembly, joints)} the {named(down)}{where}"


def _set_verb(assembly: Assembly, joints: Sequence[Joint]) -> str:
    return "Stand" if stands(assembly, joints) else "Set"


def joint_sayings(design: Design, assembly: Assembly, joints: Sequence[Joint]) -> list[str]:
    """Give how to close the joints of one step, each sentence once."""
    joints = speaking(joints)
    if joints and all(is_resting(joint) for joint in joints):
        return [_set_down_say(design, assembly, joints)]
    within = assembly.scope(joint.name for joint in joints)
    shown = first_copy(design, within)
    said: dict[str, list[str]] = {}
    for joint in _in_closing_order(assembly, joints):
        for saying in _joint_sayings(design, joint):
            said.setdefault(saying, []).extend(item.moving for item in joint.contacts)
    if len(said) == 1 or any(trade_of(joint).faces for joint in joints):
        return list(said)
    return [
        f"For {_counted(design, assembly, shown_of(copies, shown), within)}: {saying[:1].lower()}{saying[1:]}"
        for saying, copies in said.items()
    ]


def _in_closing_order(assembly: Assembly, joints: Sequence[Joint]) -> list[Joint]:
    """Put first what cannot go in once the others are closed: a panel before the frame around it.

    Where joints of a step shut each other out, those left dry come first, then those that hold one piece
    on most sides.
    """

    def key(joint: Joint) -> tuple[bool, bool, int]:
        others = [other.name for other in joints if other is not joint]
        if not others or assembly.comes_together((joint.name,), others):
            return True, False, 0
        held = Counter(item.moving for item in joint.contacts)
        return False, bool(joint.glue), -max(held.values())

    return sorted(joints, key=key)


def _set_down_say(design: Design, assembly: Assembly, joints: Sequence[Joint]) -> str:
    down, touched = resting_pieces(design, assembly, joints)
    ways: dict[str, list[str]] = {}
    for copy, way in touched:
        ways.setdefault(way, []).append(copy)
    within = assembly.scope(joint.name for joint in joints)
    things = {handled_as(assembly, copy, within) for copy in down}
    where = ", ".join(f"{way} {_counted(design, assembly, copies, within)}" for way, copies in ways.items())
    stays = "it stays loose" if len(things) == 1 else "they stay loose"
    stack = ", one on another, from the bottom up" if is_stack(design, assembly, joints) else ""
    verb = _set_verb(assembly, joints)
    return f"{verb} {_counted(design, assembly, down, within)} {where or 'in place'}{stack}; {stays}."


def _counted(design: Design, assembly: Assembly, copies: Sequence[str], within: str | None) -> str:
    """Name pieces with their number; those of a placed assembly by that, as it is handled."""
    bodies = {copy: body for copy in copies if (body := assembly.body(copy, within)) is not None}
    whole = bodies_counted(design, [body.copy.name for body in bodies.values()])
    single = [copy for copy in dict.fromkeys(copies) if copy not in bodies]
    if within is None:
        named = copies_counted(design, single)
    else:  # of the one copy of the assembly that is shown
        numbers = Counter(design.part_of[copy].key for copy in single)
        named = listed([part_token(key, number) for key, number in numbers.items()])
    return listed([words for words in (whole, named) if words])


def _joint_sayings(design: Design, joint: Joint) -> list[str]:
    if trade_of(joint).faces and joint.glue and (faces := _faces(design, joint)):
        return faces
    said = phrase_text(joint.say).strip()
    title = joint.title[:1].lower() + joint.title[1:]
    kind = trade_of(joint)
    if not joint.glue and "glue" in kind.cautions and "glue" in said.lower():
        return [f"Bring the {title} together dry until the {'faces' if kind.faces else 'shoulders'} meet."]
    return [said or f"Bring the {title} together until the shoulders meet."]


def _faces(design: Design, joint: Joint) -> list[str]:
    """Say of a butt joint which faces of which parts are glued; nothing where a face is not found."""
    copies, part_of = design.copies, design.part_of
    pairs: dict[tuple[str, str, str, str], list[Contact]] = {}
    for contact in joint.contacts:
        one, two = copies[contact.moving], copies[contact.fixed]
        if one.stance is not None or two.stance is not None:
            return []  # the boxes of leaning pieces only bound them
        face = _touching(one, two)
        if face is None:
            return []
        names = [
            side_name(part_of[copy.name], _own_side(copy, side))
            for copy, side in ((one, face), (two, face.opposite))
        ]
        key = (part_of[one.name].key, names[0], part_of[two.name].key, names[1])
        pairs.setdefault(key, []).append(contact)
    said = []
    for (_, one_face, _, two_face), contacts in pairs.items():
        ones, twos = ([getattr(item, end) for item in contacts] for end in ("moving", "fixed"))
        said.append(
            f"Glue the {one_face} of {_each(design, ones)} to the {two_face} of {_each(design, twos)}, "
            "and clamp the two together."
        )
    return said


def _each(design: Design, names: Sequence[str]) -> str:
    """Name one piece, or each of several."""
    several = len(dict.fromkeys(names)) > 1
    return f"each {part_token(design.part_of[names[0]].key)}" if several else copies_counted(design, names)


def _touching(one: Copy, two: Copy) -> Side | None:
    """Give the side of ``one``, in the frame, at which the boxes touch."""
    for axis in Axis:
        for high in (False, True):
            side = Side.of(axis, high)
            others = [other for other in Axis if other is not axis]
            lapped = all(
                one.box.low.at(other) < two.box.high.at(other)
                and two.box.low.at(other) < one.box.high.at(other)
                for other in others
            )
            if lapped and one.box.side(side) == two.box.side(side.opposite):
                return side
    return None


def _own_side(copy: Copy, side: Side) -> Side:
    """Give the side of the part's own frame that stands at a side of the frame."""
    return next(own for own in Side if copy.pose.side(own) is side)
