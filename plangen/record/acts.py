"""Who must act on a change, and who need not."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.record.model import HardwareChange, PartChange, SizeChange, WorkChange


def who_must_act(
    sizes: Sequence[SizeChange],
    parts: Sequence[PartChange],
    work: Sequence[WorkChange],
    hardware: Sequence[HardwareChange],
) -> tuple[str, ...]:
    """Give one sentence for everybody whose work a change touches, in the order in which they work.

    Only printed differences count: whoever worked to a number that still stands need do nothing.
    """
    told = [change for change in sizes if change.seen and change.mark]
    bought = [_bought(change) for change in hardware]
    cut = [_listed(change) for change in parts]
    cut.extend(_sized(mark, title, told) for mark, title in _named(told, of_blank=True))
    worked = list(dict.fromkeys((*_named(told, of_blank=False), *((one.mark, one.part) for one in work))))
    done = [_worked(mark, title, told, work) for mark, title in worked]
    return tuple(sentence for sentence in (*bought, *cut, *done) if sentence)


def _named(sizes: Sequence[SizeChange], *, of_blank: bool) -> list[tuple[str, str]]:
    return list(dict.fromkeys((one.mark, one.part) for one in sizes if (not one.work) is of_blank))


def _bought(change: HardwareChange) -> str:
    name = f"{change.title}, {change.new_size or change.old_size}"
    if change.old_size and change.new_size and change.old_size != change.new_size:
        return (
            f"Only if you have already bought {change.title}: "
            f"{change.new_size} is wanted, not {change.old_size}."
        )
    more = change.new_count - change.old_count
    if more > 0:
        return f"Only if you have already bought the hardware: {more} more of {name}."
    return f"Only if you have already bought the hardware: {-more} of {name} will be left over."


def _listed(change: PartChange) -> str:
    part = f"{change.mark} ({change.part})"
    match change.kind:
        case "added":
            return f"Everyone: {change.new} of the new part {part} to make."
        case "removed":
            return f"Only if you have already cut {part}: it is no longer used."
        case "count":
            more = int(change.new) - int(change.old)
            if more > 0:
                return f"Everyone: {more} more of {part} to make."
            return f"Only if you have already cut all {change.old} of {part}: {-more} will be left over."
        case "stock":
            return f"Only if you have already cut {part}: it is made of {change.new} now, not {change.old}."
        case "mark":
            return f"Only if you have already labelled {part}: its mark was {change.old}."
        case "renamed":
            return ""


def _sized(mark: str, title: str, sizes: Sequence[SizeChange]) -> str:
    ours = [one for one in sizes if one.mark == mark and not one.work]
    said = []
    for one in ours:
        if one.new is None:
            said.append(f"it has no {one.measure} of its own now")
        elif one.old is None:
            said.append(f"its {one.measure} is {one.new.printed} now")
        else:
            said.append(f"its {one.measure} is now {one.new.printed}, not {one.old.printed}")
    return f"Only if you have already cut {mark} ({title}): {'; '.join(said)}."


def _worked(mark: str, title: str, sizes: Sequence[SizeChange], work: Sequence[WorkChange]) -> str:
    names = [one.work for one in sizes if one.mark == mark and one.work]
    names += [one.work for one in work if one.mark == mark]
    listed = "; ".join(dict.fromkeys(names))
    return f"Only if you have already worked {mark} ({title}): check {listed}."
