"""A carving plan, shown: its stages and what each takes."""

from __future__ import annotations

import re
from collections.abc import Sequence

from .._native import CarvingPlan
from .page import heading, inches, nested, page, paragraph, rows_html, volume

_SENTENCE = re.compile(r"(?<=[.!?]) ")


def _shared(texts: Sequence[list[str]]) -> int:
    """With how many sentences all of several texts end."""
    count = 0
    while all(len(text) > count for text in texts) and len({text[-1 - count] for text in texts}) == 1:
        count += 1
    return count


def _of_stages(numbers: Sequence[int]) -> str:
    """Numbers of stages in words, those that follow each other as a range."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    told = ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in runs)
    return f"stage{'s' if len(numbers) > 1 else ''} {told}"


def _cautions(plan: CarvingPlan) -> list[tuple[str, list[str]]]:
    """Every caution: by topic what its stages have in common, and below it what is particular to each."""
    of_topic: dict[str, dict[int, list[str]]] = {}
    for stage in plan.stages():
        for caution in stage.cautions:
            of_topic.setdefault(caution.topic.replace("_", " "), {})[stage.index] = _SENTENCE.split(caution.words)
    names = [stage.name.replace("_", " ") for stage in plan.stages()]
    told = []
    for topic, texts in of_topic.items():
        count = _shared(list(texts.values()))
        common = " ".join(next(iter(texts.values()))[-count:]) if count else ""
        own: dict[str, list[int]] = {}
        for stage_index, sentences in texts.items():
            if words := " ".join(sentences[: len(sentences) - count]):
                own.setdefault(words, []).append(stage_index)
        below = [f"{', '.join(f'{i + 1} {names[i]}' for i in which)}: {words}" for words, which in own.items()]
        told.append((f"{topic} ({_of_stages([i + 1 for i in texts])}){':' if common else ''} {common}".rstrip(), below))
    return told


def html(plan: CarvingPlan) -> str:
    """The stages in order, and every caution once."""
    rows = (
        (
            stage.index + 1, stage.name.replace("_", " "), stage.tool, stage.removed_mm3 / 1000, inches(stage.removed_mm3, 3),
            stage.left_mm3 / 1000, inches(stage.left_mm3, 3),
        )
        for stage in plan.stages()
    )  # fmt: skip
    return page(
        heading("Carving plan"),
        paragraph(f"From {volume(plan.stock_mm3())} of timber to {volume(plan.finished_mm3())} of neck."),
        rows_html(("stage", "name", "tool", "comes off, cm³", "in³", "left, cm³", "in³"), rows),
        heading("Cautions", 4),
        nested(_cautions(plan)),
    )
