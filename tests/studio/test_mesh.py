"""The dressed figure is made of closed surfaces that lie round the joints they clothe."""

from __future__ import annotations

import numpy as np
import pytest

from tests.studio.body import Swinger
from tests.studio.mesh import Mesh, Tailor
from tests.studio.swingers import DUNE, SHINGLE

BOTH = pytest.mark.parametrize("swinger", [DUNE, SHINGLE], ids=lambda s: s.name)
INSIDE = {
    "shirt": ("navel",),
    "trousers": ("pelvis", "lead-knee", "trail-knee"),
    "arms": ("lead-elbow", "trail-elbow"),
    "head": ("head",),
    "glove": ("lead-hand", "lead-wrist"),
    "hand": ("trail-hand", "trail-wrist"),
}


def winding(mesh: Mesh, point: np.ndarray) -> float:
    """How often the surface goes round the point: 1 inside, 0 outside (Van Oosterom and Strackee 1983)."""
    a, b, c = (mesh.points[mesh.triangles[:, i]] - point for i in range(3))
    la, lb, lc = (np.linalg.norm(v, axis=1) for v in (a, b, c))
    top = np.einsum("ij,ij->i", a, np.cross(b, c))
    rest = la * lb * lc + (a * b).sum(1) * lc + (b * c).sum(1) * la + (c * a).sum(1) * lb
    return float(np.arctan2(top, rest).sum() / (2 * np.pi))


@pytest.mark.parametrize(("swinger", "event"), [(DUNE, "top"), (SHINGLE, "impact")])
def test_garments_are_closed_outward_and_hold_their_joints(swinger: Swinger, event: str) -> None:
    pose = swinger.motion.pose(swinger.events[event])
    garments = Tailor(pose, swinger.girth, step=0.014).garments()
    for name, joints in INSIDE.items():
        assert winding(garments[name], np.array([5.0, 5.0, 5.0])) == pytest.approx(0, abs=1e-6)
        for joint in joints:
            assert winding(garments[name], pose.joints[joint]) == pytest.approx(1, abs=1e-6), (name, joint)


@BOTH
def test_c7_is_felt_on_the_skin_behind_the_neck(swinger: Swinger) -> None:
    """C7 is the bump at the base of the neck; collar and neck may cover it by 10 mm, no more."""
    for event, t in swinger.events.items():
        pose = swinger.motion.pose(t)
        garments = Tailor(pose, swinger.girth).garments()
        skin = np.concatenate([garments["shirt"].points, garments["head"].points])
        assert np.linalg.norm(skin - pose.joints["c7"], axis=1).min() < 0.010, event


@BOTH
def test_shoulders_slope_down_from_the_neck(swinger: Swinger) -> None:
    """At setup the cloth over the two shoulder joints lies 20 mm or more below C7, at its mean."""
    pose = swinger.motion.pose(swinger.events["setup"])
    shirt = Tailor(pose, swinger.girth).garments()["shirt"].points
    heights = []
    for side in ("lead", "trail"):
        aside = np.linalg.norm(np.cross(shirt - pose.joints[f"{side}-shoulder"], pose.spine), axis=1)
        heights.append(((shirt[aside < 0.02] - pose.joints["c7"]) @ pose.spine).max())
    assert np.mean(heights) < -0.020
