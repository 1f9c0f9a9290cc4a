"""A scene: meshes and points, and steps to go through."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from os import PathLike
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .._native import Mesh

# As the library's files colour neck wood and fretboard where nobody asks for others.
_NECK_WOOD, _FRETBOARD = (0.72, 0.45, 0.28), (0.25, 0.16, 0.11)

# A point's width as a share of the scene: smaller ones are lost where all of a neck is seen.
_POINT = 1 / 75

# A slider under the scene, with the names of its steps; arrow keys move it once it has been touched.
_SLIDER = """
const names = %s, row = document.createElement("label"), slider = document.createElement("input");
const told = document.createElement("span");
row.style = "position:absolute;left:1em;bottom:1em;right:9em;font:16px sans-serif;display:flex;gap:1em;align-items:center";
slider.type = "range"; slider.min = 0; slider.max = names.length - 1; slider.value = %d; slider.style.flex = 1;
told.style.width = "14em";
const step = () => { K3DInstance.setTime(Number(slider.value)); told.textContent = names[slider.value]; };
slider.oninput = step; row.append(told, slider); document.body.append(row); step();
"""


def k3d() -> Any:
    """The library that draws."""
    try:
        import k3d as found
    except ImportError as error:
        raise ImportError("neckwright.view draws with k3d: pip install neckwright[view]") from error
    return found


def _colour(rgb: tuple[float, float, float]) -> int:
    red, green, blue = (round(255 * share) for share in rgb)
    return red << 16 | green << 8 | blue


class Scene:
    """Meshes and points in three dimensions, with steps to go through where it has some.

    Shows itself in a notebook. Made by :func:`neck`, :func:`plan` and :func:`inspection`.

    Attributes
    ----------
    plot : k3d.Plot
        What k3d draws, to add to or to change.
    steps : tuple of str
        The names of its steps; empty without any.
    """

    def __init__(self, steps: Sequence[str] = (), *, step: int = 0, height: int = 512) -> None:
        self.steps = tuple(steps)
        self._low, self._high = np.full(3, np.inf), np.full(3, -np.inf)
        self._step = step
        # Nothing lies between two steps.
        self.plot = k3d().plot(
            height=height, grid_visible=False, camera_auto_fit=False, time_interpolation=False, menu_visibility=False
        )
        self.plot.time = float(step)

    def add_meshes(self, meshes: Iterable[Mesh], *, step: int | None = None, opacity: float = 1.0) -> None:
        """Adds meshes, at one of the steps or at all."""
        for mesh in meshes:
            self._reach(mesh.positions_mm)
            self.plot += k3d().mesh(
                mesh.positions_mm.astype(np.float32),
                mesh.triangles,
                normals=mesh.normals.astype(np.float32),
                color=_colour(_FRETBOARD if mesh.name == "fretboard" else _NECK_WOOD),
                flat_shading=False,
                side="double",
                opacity=opacity,
                name=mesh.name if step is None else f"{self.steps[step]}: {mesh.name}",
                visible=True if step is None else {str(i): i == step for i in range(len(self.steps))},
            )

    def add_points(self, points_mm: NDArray[np.float64], values_mm: NDArray[np.float64], name: str, legend: str) -> None:
        """Adds points, coloured by a value: blue below 0, red above, grey at 0; the legend says what the colours are."""
        if not len(points_mm):
            return
        self._reach(points_mm)
        self.plot += k3d().text2d(
            legend, position=(0.01, 0.02), reference_point="lt", color=0, label_box=False, is_html=True, name="legend"
        )
        most = float(np.abs(values_mm).max()) or 1.0
        self.plot += k3d().points(
            points_mm.astype(np.float32),
            point_size=_POINT * float(np.max(self._high - self._low)),
            shader="3d",
            attribute=values_mm.astype(np.float32),
            color_map=k3d().matplotlib_color_maps.Coolwarm,
            color_range=[-most, most],
            name=name,
        )

    def look(self) -> Scene:
        """Looks at all of it from behind the bass side, from where the back is carved."""
        middle, far = (self._low + self._high) / 2, float(np.max(self._high - self._low))
        eye = middle + far * np.array([0.0, -0.4, -0.55])
        self.plot.camera = [*eye.tolist(), *middle.tolist(), 0.0, 0.0, 1.0]
        return self

    def to_html(self) -> str:
        """One page that needs nothing else, and no network; with a slider where there are steps.

        Returns
        -------
        str
        """
        script = _SLIDER % (json.dumps(self.steps), self._step) if self.steps else ""
        page: str = self.plot.get_snapshot(additional_js_code=script)
        return page

    def save(self, path: str | PathLike[str]) -> None:
        """Writes :meth:`to_html` to a file.

        Parameters
        ----------
        path : str or path
            Where; what is there is written over.
        """
        with open(path, "w", encoding="utf-8") as file:
            file.write(self.to_html())

    def slider(self) -> Any:
        """The slider that steps through the scene in a notebook, or ``None`` without steps.

        Returns
        -------
        ipywidgets.SelectionSlider or None
        """
        if not self.steps:
            return None
        import ipywidgets

        places = [(name, float(i)) for i, name in enumerate(self.steps)]
        style = {"description_width": "initial"}
        layout = ipywidgets.Layout(width="90%")
        slider = ipywidgets.SelectionSlider(options=places, value=float(self._step), description="stage", style=style, layout=layout)
        slider.observe(lambda change: setattr(self.plot, "time", change["new"]), names="value")
        return slider

    def _ipython_display_(self) -> None:
        from IPython import display as shown

        display: Any = shown.display
        if self.steps:
            display(self.slider())
        display(self.plot)

    def __repr__(self) -> str:
        steps = f", {len(self.steps)} steps" if self.steps else ""
        return f"<Scene: {len(self.plot.objects)} objects{steps}>"

    def _reach(self, points_mm: NDArray[np.float64]) -> None:
        self._low = np.minimum(self._low, points_mm.min(axis=0))
        self._high = np.maximum(self._high, points_mm.max(axis=0))
