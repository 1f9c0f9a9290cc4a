"""A carving plan, shown: its stages and what each takes."""

from .._native import CarvingPlan
from .page import heading, items, page, paragraph, rows_html


def html(plan: CarvingPlan) -> str:
    """The stages in order, and every caution once."""
    rows = (
        (stage.index + 1, stage.name, stage.tool, stage.removed_mm3 / 1000, stage.left_mm3 / 1000)
        for stage in plan.stages()
    )
    cautions = dict.fromkeys(caution.words for stage in plan.stages() for caution in stage.cautions)
    return page(
        heading("Carving plan"),
        paragraph(f"From {plan.stock_mm3() / 1000:.1f} cm³ of timber to {plan.finished_mm3() / 1000:.1f} cm³ of neck."),
        rows_html(("stage", "name", "tool", "comes off, cm³", "left, cm³"), rows),
        heading("Cautions", 4),
        items(cautions),
    )
