"""Which tasks contain a task: larger ones that do it as well."""


def containing(place: int, part_of) -> list[int] | None:
    """Places of all tasks that contain one, nearest first, by the place of the task of which each is part, or -1; None if it contains itself."""
    above, at = [], int(part_of[place])
    while at >= 0 and at not in above:
        above.append(at)
        at = int(part_of[at])
    return None if place in above else above


def larger_than(place: int, part_of) -> list[int]:
    """The same where a task that contains itself, which is told elsewhere, counts as part of none."""
    return containing(place, part_of) or []
