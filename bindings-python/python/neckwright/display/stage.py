"""A stage of a carving plan, shown: what to do, what to mind, what to read, and its page."""

from __future__ import annotations

from .._made import maker
from .._native import Sheet, Stage
from .page import heading, inches, items, page, paragraph, place, rows_html, volume
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
    least, needed = clearance.least, clearance.needed_mm
    return paragraph(
        f"Least wood left over the finished neck: {least.value:.2f} mm ({inches(least.value)} in), "
        f"{place(maker(stage.plan), least.x_mm)}; asked for {needed:.2f} mm ({inches(needed)} in)."
    )


def html(stage: Stage) -> str:
    """All of it, cautions before the numbers."""
    checks = (
        (
            check.what, check.place, check.x_mm, inches(check.x_mm), check.reads_mm,
            "by eye" if check.reads_mm is None else inches(check.reads_mm),
        )
        for check in stage.checks
    )  # fmt: skip
    return page(
        heading(f"Stage {stage.index + 1} of {len(stage.plan.stages())}: {stage.name}"),
        paragraph(stage.action),
        paragraph(f"Tool: {stage.tool}. Comes off: {volume(stage.removed_mm3)}. Left: {volume(stage.left_mm3)}."),
        _clearance(stage),
        heading("Cautions", 4),
        items(f"{caution.topic.replace('_', ' ')}: {caution.words}" for caution in stage.cautions),
        heading("Check before going on", 4),
        rows_html(("what", "where", "from nut, mm", "in", "reads, mm", "in"), checks),
        heading("The page, full size", 4),
        box(sheet(stage)),
    )
