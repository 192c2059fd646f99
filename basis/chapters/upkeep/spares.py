"""Spare parts: what the next round of each task needs, what is held, and by when the rest is ordered."""

from basis.language.formula import check, formula
from basis.language.maths import nothing, pick, sum_over


@formula(source="definition")
def part_missing(part_needed, part_held):
    """What the store lacks for the next round. Example: part_needed=[6], part_held=[2] give [4] (counted)."""
    return max(0, part_needed - part_held)


@formula(source="parts-lead")
def part_order_by(part_task, task_due, part_lead_time, part_missing):
    """Day on which an order still arrives before the task is due; none where all is held.

    Example: part_task=[item_1], task_due=[2028-03-31], part_lead_time=[30 d], part_missing=[1] give [2028-03-01] (hand calculation).
    """
    return pick(part_task, task_due) - part_lead_time if part_missing > 0 else nothing


@formula(source="definition")
def part_stock_worth(part_held, part_price):
    """Worth of what is held of the part. Example: part_held=[3], part_price=[40 EUR] give [120 EUR] (hand calculation)."""
    return part_held * part_price


@formula(source="definition")
def parts_stock_worth(part_stock_worth):
    """Worth of all spare parts in the store."""
    return sum_over("spare_part", part_stock_worth)


parts_in_time = check("parts_in_time", "part_order_by", limit="status_date", safe="above", source="parts-lead", title="Spare parts that still arrive in time",
                      exact=True)
