"""Which tasks contain a task: larger ones that do it as well."""


def containing(place: int, part_of) -> list[int]:
    """Places of all tasks that contain one, nearest first, by the place of the task of which each is part, or -1; a task in a circle contains itself."""
    above, at = [], int(part_of[place])
    while at >= 0 and at not in above:
        above.append(at)
        at = int(part_of[at])
    return above
