"""A stage of a carving plan, shown: what to do, what to mind, what to read, and its page."""

from __future__ import annotations

from .._native import Sheet, Stage
from .page import heading, inches, items, page, paragraph, rows_html
from .sheet import box


def sheet(stage: Stage) -> Sheet | None:
    """Its page of the plan; ``None`` where it has nothing to show."""
    ends = f": {stage.name}"
    return next((one for one in stage.plan.sheets() if one.title.endswith(ends)), None)


def svg(stage: Stage) -> str | None:
    """Its page at full size."""
    drawn = sheet(stage)
    return None if drawn is None else drawn.to_svg()


def _clearance(stage: Stage) -> str:
    clearance = stage.clearance
    if clearance is None:
        return ""
    least = clearance.least
    return paragraph(
        f"Least wood left over the finished neck: {least.value:.2f} mm, {least.x_mm:.1f} mm from the nut; asked for {clearance.needed_mm:.2f} mm."
    )


def html(stage: Stage) -> str:
    """All of it, cautions before the numbers."""
    checks = (
        (check.what, check.place, check.x_mm, check.reads_mm, "by eye" if check.reads_mm is None else inches(check.reads_mm))
        for check in stage.checks
    )
    return page(
        heading(f"Stage {stage.index + 1} of {len(stage.plan.stages())}: {stage.name}"),
        paragraph(stage.action),
        paragraph(f"Tool: {stage.tool}. Comes off: {stage.removed_mm3 / 1000:.1f} cm³. Left: {stage.left_mm3 / 1000:.1f} cm³."),
        _clearance(stage),
        heading("Cautions", 4),
        items(f"{caution.topic.replace('_', ' ')}: {caution.words}" for caution in stage.cautions),
        heading("Check before going on", 4),
        rows_html(("what", "where", "from nut, mm", "reads, mm", "in"), checks),
        heading("The page, full size", 4),
        box(sheet(stage)),
    )
