"""Which joints can close when: every part must have a way in.

A contact lets its moving copy leave along some of the six directions: back the way it came, and
along a housing that runs out at an edge. A set of joints comes together exactly when it can be
taken apart again by moving groups of copies straight out, one group after another (the directional
blocking graph of Wilson and Latombe, Artificial Intelligence 71, 1994, with the contacts alone as
what blocks). Copies joined before move as one. Collisions with copies that are not in contact are
not looked at here; solids are needed for those.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from plangen.design.model import Contact, Copy, Design, Joint
from plangen.joinery.cuts import BoxCut, RoundCut
from plangen.joinery.space import Axis, Side
from plangen.sequence.trade import is_resting, trade_of
from plangen.takeoff.naming import Body, bodies_of, body_within


@dataclass(frozen=True, slots=True)
class Bond:
    """A contact as motion sees it: the directions in which ``moving`` can leave ``fixed``."""

    fixed: str
    moving: str
    free: frozenset[Side]
    lying: bool


class Assembly:
    """The bonds of a design, joint by joint, and the bodies that its assemblies are once built.

    ``quiet`` names the joints that only rest, of pieces that other joints bring together anyway.
    """

    def __init__(self, design: Design) -> None:
        self.copies = design.copies
        self.bonds: dict[str, tuple[Bond, ...]] = {
            joint.name: tuple(_bond(design, joint, contact) for contact in joint.contacts)
            for joint in design.joints
        }
        self.scopes: dict[str, str | None] = {joint.name: joint.assembly for joint in design.joints}
        self.bodies: Mapping[str, tuple[Body, ...]] = bodies_of(design)
        self._wholes: tuple[tuple[frozenset[str], tuple[str, ...]], ...] = ()
        self.quiet = self._quiet(design)
        self._wholes = self._built(design)

    def _quiet(self, design: Design) -> tuple[str, ...]:
        resting = [joint.name for joint in design.joints if is_resting(joint)]
        group = self.groups(joint.name for joint in design.joints if joint.name not in resting)
        return tuple(
            name
            for name in resting
            if all(group[bond.fixed] == group[bond.moving] for bond in self.bonds[name])
        )

    def _built(self, design: Design) -> tuple[tuple[frozenset[str], tuple[str, ...]], ...]:
        """Give the pieces of every placed assembly with the joints that make them one body."""
        needed: dict[str, frozenset[str]] = {}
        for assembly in design.assemblies:
            inner = [needed[other.key] for other in design.assemblies if other.within == assembly.key]
            needed[assembly.key] = frozenset(assembly.joints).difference(self.quiet).union(*inner)
        return tuple(
            (needed[assembly.key], copy.members)
            for assembly in design.assemblies
            if needed[assembly.key]
            for copy in assembly.copies
        )

    def body(self, copy: str, within: str | None) -> Body | None:
        """Give the placed assembly as which a piece is handled where ``within`` is built, if any."""
        return body_within(self.bodies[copy], within)

    def home(self, copy: str) -> str | None:
        """Give the key of the assembly that a piece is directly in; None: the whole."""
        bodies = self.bodies[copy]
        return bodies[-1].assembly.key if bodies else None

    def scope(self, joints: Iterable[str]) -> str | None:
        """Give the key of the one assembly that all of some joints are closed in; None for the whole."""
        keys = {self.scopes[joint] for joint in joints}
        return keys.pop() if len(keys) == 1 else None

    def members(self, joints: Iterable[str]) -> tuple[str, ...]:
        """Give the copies that some joints bring together, each once."""
        return tuple(dict.fromkeys(
            copy for joint in joints for bond in self.bonds[joint] for copy in (bond.fixed, bond.moving)
        ))  # fmt: skip

    def groups(self, joints: Iterable[str]) -> dict[str, str]:
        """Give for each copy the name of the group it is in once some joints are closed.

        The pieces of an assembly are one group once all its joints are closed.
        """
        closed = tuple(joints)
        leader = {copy: copy for copy in self.copies}

        def find(copy: str) -> str:
            while leader[copy] != copy:
                leader[copy] = leader[leader[copy]]
                copy = leader[copy]
            return copy

        for joint in closed:
            for bond in self.bonds[joint]:
                leader[find(bond.moving)] = find(bond.fixed)
        done = set(closed)
        for needed, members in self._wholes:
            if needed <= done:
                for member in members:
                    leader[find(member)] = find(members[0])
        return {copy: find(copy) for copy in self.copies}

    def comes_together(self, joints: Sequence[str], closed: Sequence[str]) -> bool:
        """Whether some joints can close, in one step, on what is closed already."""
        return not self.stuck(joints, closed)

    def holds(self, joint: str) -> bool:
        """Whether the pieces of a joint go into each other, so that it can be tried without glue."""
        return any(not bond.lying for bond in self.bonds[joint])

    def stuck(self, joints: Sequence[str], closed: Sequence[str]) -> tuple[str, ...]:
        """Give copies that have no way to come together, or none when all have one."""
        group = self.groups(closed)
        bonds: list[Bond] = []
        for joint in joints:
            for bond in self.bonds[joint]:
                one, two = group[bond.fixed], group[bond.moving]
                if one != two:
                    bonds.append(Bond(one, two, bond.free, bond.lying))
                elif not bond.lying:
                    return (bond.moving, bond.fixed)
        nodes = tuple(dict.fromkeys(node for bond in bonds for node in (bond.fixed, bond.moving)))
        held = _stuck(nodes, bonds)
        return tuple(dict.fromkeys(
            copy for joint in joints for bond in self.bonds[joint]
            if held and group[bond.fixed] in held and group[bond.moving] in held
            for copy in (bond.moving, bond.fixed)
        ))  # fmt: skip


def _bond(design: Design, joint: Joint, contact: Contact) -> Bond:
    lying = trade_of(joint).lies
    fixed, moving = design.copies[contact.fixed], design.copies[contact.moving]
    closes = contact.closes or _toward(contact, fixed, moving)
    if closes is None:
        return Bond(contact.fixed, contact.moving, frozenset(Side), lying)
    if lying:
        return Bond(contact.fixed, contact.moving, frozenset(Side) - {closes}, True)
    ways = [_open_ends(design, joint, fixed, moving), _open_ends(design, joint, moving, fixed)]
    out = {closes.opposite}
    if ways[1] is not None:
        ways[1] = {side.opposite for side in ways[1]}
    cut = [way for way in ways if way is not None]
    if cut:
        out |= set.intersection(*cut)
    return Bond(contact.fixed, contact.moving, frozenset(out - {closes}), False)


def _toward(contact: Contact, fixed: Copy, moving: Copy) -> Side | None:
    """Give the way from ``moving`` to ``fixed``, square to the touching face."""
    for axis in Axis:
        if not contact.face.size(axis):
            return Side.of(axis, fixed.box.middle(axis) > moving.box.middle(axis))
    return None


def _open_ends(design: Design, joint: Joint, of: Copy, entering: Copy) -> set[Side] | None:
    """Give the sides at which what ``joint`` cuts out of ``of`` for ``entering`` runs out of the wood.

    None when it cuts nothing there. A hole is open nowhere but at its mouth; nor is a cut of pieces that
    lean, whose boxes only bound them.
    """
    ends: set[Side] | None = None
    leans = of.stance is not None or entering.stance is not None
    for operation in design.part_of[of.name].operations:
        if operation.joint != joint.name:
            continue
        for cut in operation.cuts:
            if leans or not isinstance(cut, BoxCut):
                ends = set() if ends is None or leans or isinstance(cut, RoundCut) else ends
                continue
            room = of.pose.box(cut.box)
            if room.overlap(entering.box).empty:
                continue
            here = {side for side in Side if ((room.side(side) - of.box.side(side)) * side.sign).mm >= 0}
            ends = here if ends is None else ends & here
    return ends


def _stuck(nodes: tuple[str, ...], bonds: Sequence[Bond]) -> tuple[str, ...]:
    """Take the nodes apart until single ones are left; give a set that cannot be parted, or nothing."""
    waiting = [nodes]
    while waiting:
        some = waiting.pop()
        if len(some) < 2:
            continue
        here = set(some)
        inside = [bond for bond in bonds if bond.fixed in here and bond.moving in here]
        out = _connected(some, inside)
        if len(out) == len(some):
            out = next((part for side in Side if (part := _removable(some, inside, side))), ())
        if not out:
            return some
        waiting.append(tuple(node for node in some if node not in set(out)))
        waiting.append(out)
    return ()


def _connected(nodes: tuple[str, ...], bonds: Sequence[Bond]) -> tuple[str, ...]:
    """Give the nodes that hang together with the first."""
    edges: dict[str, list[str]] = {node: [] for node in nodes}
    for bond in bonds:
        edges[bond.fixed].append(bond.moving)
        edges[bond.moving].append(bond.fixed)
    return _reach(nodes, edges, nodes[0])


def _removable(nodes: tuple[str, ...], bonds: Sequence[Bond], side: Side) -> tuple[str, ...]:
    """Give a group of nodes that can move out toward ``side`` and leave some behind, or nothing.

    What a node drags along is what it reaches; there is no such group exactly when every node reaches
    every other.
    """
    drags: dict[str, list[str]] = {node: [] for node in nodes}
    dragged_by: dict[str, list[str]] = {node: [] for node in nodes}
    for bond in bonds:
        for free, one, two in (
            (side in bond.free, bond.moving, bond.fixed),
            (side.opposite in bond.free, bond.fixed, bond.moving),
        ):
            if not free:
                drags[one].append(two)
                dragged_by[two].append(one)
    group = _reach(nodes, drags, nodes[0])
    if len(group) < len(nodes):
        return group
    draggers = set(_reach(nodes, dragged_by, nodes[0]))
    other = next((node for node in nodes if node not in draggers), None)
    return _reach(nodes, drags, other) if other is not None else ()


def _reach(nodes: tuple[str, ...], edges: dict[str, list[str]], start: str) -> tuple[str, ...]:
    seen, waiting = {start}, [start]
    while waiting:
        for node in edges[waiting.pop()]:
            if node not in seen:
                seen.add(node)
                waiting.append(node)
    return tuple(node for node in nodes if node in seen)
