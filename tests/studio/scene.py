"""The handsome studio, built with bpy: walls, floor, door, cord, stick, light and a dressed figure.

Everything is given in view coordinates (r to the right, y up, d toward the camera, metres) and is where
`room.Room` and `body.Pose` say, so that the marks of a rendered picture are those of the quick one. bpy is an
extra of its own (`pip install 'lessonpress[studio]'`); no test needs it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import bpy
import mathutils
import numpy as np
from numpy.typing import NDArray

from tests.studio.body import BALL_RADIUS, Pose, ball_at, square_to, unit
from tests.studio.camera import Camera, to_view
from tests.studio.demo import Demo
from tests.studio.mesh import Tailor
from tests.studio.room import INCH, Room

Colour = tuple[float, float, float]
Vec = NDArray[np.float64]
Box = tuple[int, int, int, int]


def place(point: Sequence[float] | Vec) -> tuple[float, float, float]:
    """View coordinates -> the renderer's x right, y away, z up."""
    return float(point[0]), -float(point[2]), float(point[1])


# --- materials


def paint(
    name: str,
    colour: Colour,
    rough: float = 0.6,
    *,
    metal: float = 0.0,
    grain: float = 0.0,
    grain_scale: float = 60.0,
    folds: float = 0.0,
    mottle: float = 0.0,
) -> bpy.types.Material:
    """A surface; grain: fine bumps, folds: broad ones as in cloth, mottle: patches of shade, each 0 to 1."""
    known = bpy.data.materials.get(name)
    if known:
        return known
    material = bpy.data.materials.new(name)
    material.use_nodes = True
    tree = material.node_tree
    base = tree.nodes["Principled BSDF"]
    base.inputs["Base Color"].default_value = (*colour, 1)
    base.inputs["Roughness"].default_value = rough
    base.inputs["Metallic"].default_value = metal
    base.inputs["Specular IOR Level"].default_value = 0.35
    where = tree.nodes.new("ShaderNodeTexCoord").outputs["Object"]
    normal = None
    for scale, strength, depth in ((grain_scale, grain, 0.003), (6.5, folds, 0.03)):
        if not strength:
            continue
        noise = _noise(tree, where, scale, 3.0, 1.1 if depth > 0.01 else 0.0)
        bump = tree.nodes.new("ShaderNodeBump")
        bump.inputs["Strength"].default_value = strength
        bump.inputs["Distance"].default_value = depth
        tree.links.new(noise, bump.inputs["Height"])
        if normal is not None:
            tree.links.new(normal, bump.inputs["Normal"])
        normal = bump.outputs["Normal"]
    if normal is not None:
        tree.links.new(normal, base.inputs["Normal"])
    if mottle:
        noise = _noise(tree, where, 3.0, 6.0)
        mix = _mix(tree, "OVERLAY", mottle, (*colour, 1), noise)
        tree.links.new(mix, base.inputs["Base Color"])
    return material


def _noise(
    tree: bpy.types.NodeTree, where: bpy.types.NodeSocket, scale: float, detail: float, twist: float = 0.0
) -> bpy.types.NodeSocket:
    node = tree.nodes.new("ShaderNodeTexNoise")
    node.inputs["Scale"].default_value = scale
    node.inputs["Detail"].default_value = detail
    node.inputs["Distortion"].default_value = twist
    tree.links.new(where, node.inputs["Vector"])
    return node.outputs["Fac"]


def _mix(
    tree: bpy.types.NodeTree, how: str, share: float, first: object, second: bpy.types.NodeSocket
) -> bpy.types.NodeSocket:
    mix = tree.nodes.new("ShaderNodeMixRGB")
    mix.blend_type = how
    mix.inputs[0].default_value = share
    if isinstance(first, tuple):
        mix.inputs[1].default_value = first
    else:
        tree.links.new(first, mix.inputs[1])
    tree.links.new(second, mix.inputs[2])
    return mix.outputs[0]


def limewashed_brick() -> bpy.types.Material:
    """Brick under thin limewash: low contrast, enough of it to find image features on."""
    material = bpy.data.materials.new("brick")
    material.use_nodes = True
    tree = material.node_tree
    base = tree.nodes["Principled BSDF"]
    base.inputs["Roughness"].default_value = 0.85
    where = tree.nodes.new("ShaderNodeTexCoord").outputs["Object"]
    turned = tree.nodes.new("ShaderNodeMapping")
    turned.inputs["Rotation"].default_value = (np.pi / 2, 0, 0)
    tree.links.new(where, turned.inputs["Vector"])
    brick = tree.nodes.new("ShaderNodeTexBrick")
    for key, value in {
        "Scale": 4.4,
        "Mortar Size": 0.020,
        "Mortar Smooth": 0.3,
        "Bias": -0.1,
        "Color1": (0.42, 0.335, 0.255, 1),
        "Color2": (0.30, 0.225, 0.165, 1),
        "Mortar": (0.46, 0.42, 0.36, 1),
    }.items():
        brick.inputs[key].default_value = value
    tree.links.new(turned.outputs[0], brick.inputs["Vector"])
    stained = _mix(tree, "OVERLAY", 0.55, brick.outputs["Color"], _noise(tree, where, 2.2, 9.0))
    tree.links.new(stained, base.inputs["Base Color"])
    bump = tree.nodes.new("ShaderNodeBump")
    bump.invert = True
    bump.inputs["Strength"].default_value = 0.5
    bump.inputs["Distance"].default_value = 0.012
    tree.links.new(brick.outputs["Fac"], bump.inputs["Height"])
    tree.links.new(bump.outputs[0], base.inputs["Normal"])
    return material


# --- solids


def box(
    low: Sequence[float], high: Sequence[float], material: bpy.types.Material, bevel: float = 0.004
) -> bpy.types.Object:
    """An upright box between two corners (r, y, d)."""
    middle = [(a + b) / 2 for a, b in zip(low, high, strict=True)]
    size = [abs(b - a) for a, b in zip(low, high, strict=True)]
    bpy.ops.mesh.primitive_cube_add(size=1, location=place(middle))
    made = bpy.context.object
    made.scale = (size[0], size[2], size[1])
    made.data.materials.append(material)
    if bevel:
        edge = made.modifiers.new("edge", "BEVEL")
        edge.width, edge.segments = bevel, 2
    return made


def pole(
    a: Sequence[float] | Vec,
    b: Sequence[float] | Vec,
    radius: float,
    material: bpy.types.Material,
    end: float | None = None,
) -> bpy.types.Object:
    """A round bar from a to b, tapering to the radius `end`."""
    start, stop = mathutils.Vector(place(a)), mathutils.Vector(place(b))
    way = stop - start
    bpy.ops.mesh.primitive_cone_add(
        vertices=32,
        radius1=radius,
        radius2=radius if end is None else end,
        depth=way.length,
        location=(start + stop) / 2,
    )
    made = bpy.context.object
    made.rotation_mode = "QUATERNION"
    made.rotation_quaternion = mathutils.Vector((0, 0, 1)).rotation_difference(way)
    made.data.materials.append(material)
    for face in made.data.polygons:
        face.use_smooth = len(face.vertices) == 4
    return made


def ball(middle: Sequence[float] | Vec, radius: float, material: bpy.types.Material) -> bpy.types.Object:
    bpy.ops.mesh.primitive_uv_sphere_add(segments=24, ring_count=14, radius=radius, location=place(middle))
    made = bpy.context.object
    made.data.materials.append(material)
    bpy.ops.object.shade_smooth()
    return made


def sheet(
    name: str, points: Vec, faces: Sequence[Sequence[int]], material: bpy.types.Material
) -> bpy.types.Object:
    """A mesh from points in view coordinates, shaded smoothly."""
    mesh = bpy.data.meshes.new(name)
    mesh.from_pydata(np.asarray(points)[:, [0, 2, 1]] * (1, -1, 1), [], faces)
    mesh.update()
    mesh.polygons.foreach_set("use_smooth", np.ones(len(mesh.polygons), bool))
    made = bpy.data.objects.new(name, mesh)
    bpy.context.collection.objects.link(made)
    mesh.materials.append(material)
    return made


def surface(
    name: str, points: Vec, triangles: NDArray[np.int64], material: bpy.types.Material
) -> bpy.types.Object:
    """A mesh of many triangles, passed whole: ten thousands of faces one by one take half a second."""
    mesh = bpy.data.meshes.new(name)
    mesh.vertices.add(len(points))
    mesh.vertices.foreach_set("co", (points[:, [0, 2, 1]] * (1, -1, 1)).astype(np.float32).ravel())
    mesh.loops.add(triangles.size)
    mesh.loops.foreach_set("vertex_index", triangles.astype(np.int32).ravel())
    mesh.polygons.add(len(triangles))
    mesh.polygons.foreach_set("loop_start", np.arange(0, triangles.size, 3, dtype=np.int32))
    mesh.polygons.foreach_set("use_smooth", np.ones(len(triangles), bool))
    mesh.update(calc_edges=True)
    made = bpy.data.objects.new(name, mesh)
    bpy.context.collection.objects.link(made)
    mesh.materials.append(material)
    return made


# --- the room


def build_room(room: Room) -> None:
    """Wall, floor, mat, and the things that measure: stick, door, cord and the taped rectangle."""
    _shell(room)
    _measuring_things(room)
    _furniture(room)


def _shell(room: Room) -> None:
    w = -room.wall
    bpy.ops.mesh.primitive_plane_add(size=1, location=(0, -w, 1.8))
    wall = bpy.context.object
    wall.data.transform(mathutils.Matrix.Diagonal((9, 3.6, 1, 1)))
    wall.data.transform(mathutils.Matrix.Rotation(np.pi / 2, 4, "X"))
    wall.data.materials.append(limewashed_brick())
    shades = ((0.30, 0.205, 0.13), (0.26, 0.17, 0.105), (0.335, 0.235, 0.15), (0.235, 0.155, 0.10))
    boards = [
        paint(f"board {i}", c, 0.45, grain=0.15, grain_scale=60, mottle=0.35) for i, c in enumerate(shades)
    ]
    rng = np.random.default_rng(room.seed)
    for r in np.arange(-4.2, 4.2, 0.142):
        box((r, -0.03, w), (r + 0.138, 0, 3.2), boards[rng.integers(4)], 0.003)
    box((-4.5, 0, w), (4.5, 0.15, w + 0.03), paint("skirting", (0.56, 0.58, 0.54), 0.5))
    green = paint("mat", (0.044, 0.098, 0.058), 0.95, grain=0.6, grain_scale=300)
    box((-1.0, 0, -0.5), (1.0, 0.018, 1.25), green, 0.008)
    tape = paint("tape", (0.66, 0.63, 0.56), 0.7)
    for r in np.arange(-14, 15) * 12 * INCH + room.across:
        box((r - 0.007, 0.15, w), (r + 0.007, 3.1, w + 0.002), tape, 0)
    for y in np.arange(1, 11) * 12 * INCH:
        box((-4.3, y - 0.007, w), (4.3, y + 0.007, w + 0.0025), tape, 0)


def _measuring_things(room: Room) -> None:
    marks, w = room.marks, -room.wall
    dark = paint("dark tape", (0.035, 0.06, 0.085), 0.7)
    a, c = marks["wall-a"], marks["wall-c"]
    for low, high in (
        ((a[0] - 0.011, c[1] - 0.011), (a[0] + 0.011, a[1] + 0.011)),
        ((c[0] - 0.011, c[1] - 0.011), (c[0] + 0.011, a[1] + 0.011)),
        ((a[0], a[1] - 0.011), (c[0], a[1] + 0.011)),
        ((a[0], c[1] - 0.011), (c[0], c[1] + 0.011)),
    ):
        box((*low, w), (*high, w + 0.004), dark, 0)
    # the stick: six lengths of six inches, in a small foot
    yellow, black = paint("stick", (0.74, 0.52, 0.06), 0.5), paint("stick dark", (0.03, 0.03, 0.03), 0.5)
    r, foot = marks["stick-foot"][0], marks["stick-foot"][1]
    for i in range(6):
        low = foot + i * 6 * INCH
        box((r - 0.014, low, -0.006), (r + 0.014, low + 6 * INCH, 0.006), black if i % 2 else yellow, 0.001)
    box((r - 0.09, 0, -0.09), (r + 0.09, foot, 0.09), paint("block", (0.22, 0.14, 0.08), 0.5, grain=0.2))
    # the door, its near edge plumb
    x, top, low_y = marks["door-top"][0], marks["door-top"][1], 0.06
    sea = paint("door", (0.115, 0.225, 0.225), 0.4, grain=0.08, mottle=0.2)
    frame = paint("door frame", (0.60, 0.60, 0.55), 0.45)
    box((x, low_y, w), (x + 0.90, top, w + 0.012), frame, 0.002)
    box((x + 0.07, low_y, w), (x + 0.83, top - 0.07, w + 0.022), sea, 0.003)
    for y in (0.25, 1.12):
        box((x + 0.19, y, w), (x + 0.71, y + 0.66, w + 0.030), sea, 0.008)
    ball((x + 0.15, 1.02, w + 0.06), 0.028, paint("brass", (0.62, 0.42, 0.16), 0.25, metal=1))
    # the plumb cord with its bob
    cord_top, cord_foot = marks["cord-top"], marks["cord-foot"]
    brass = paint("brass", (0.62, 0.42, 0.16), 0.25, metal=1)
    pole(cord_top, cord_foot, 0.0045, paint("cord", (0.03, 0.03, 0.035), 0.8))
    pole(
        (cord_foot[0], cord_foot[1] + 0.02, cord_foot[2]),
        (cord_foot[0], cord_foot[1] - 0.10, cord_foot[2]),
        0.026,
        brass,
        0.002,
    )
    box((cord_top[0] - 0.03, cord_top[1], w), (cord_top[0] + 0.03, cord_top[1] + 0.03, w + 0.06), frame)


def _furniture(room: Room) -> None:
    w, x = -room.wall, room.across
    dark, wood = (
        paint("iron", (0.05, 0.055, 0.06), 0.5),
        paint("bench", (0.40, 0.25, 0.12), 0.4, grain=0.2, mottle=0.3),
    )
    box((x + 0.58, 0.42, w + 0.06), (x + 1.30, 0.46, w + 0.40), wood)
    for r in (x + 0.66, x + 1.22):
        for d in (w + 0.10, w + 0.36):
            box((r - 0.02, 0, d - 0.02), (r + 0.02, 0.42, d + 0.02), dark)
    towel = paint("towel", (0.66, 0.62, 0.52), 0.95, grain=0.5, grain_scale=120)
    box((x + 0.72, 0.46, w + 0.10), (x + 1.02, 0.487, w + 0.36), towel)
    box(
        (x + 0.74, 0.487, w + 0.12),
        (x + 1.00, 0.512, w + 0.36),
        paint("towel 2", (0.42, 0.16, 0.10), 0.95, grain=0.5, grain_scale=120),
    )
    pole(
        (x + 1.16, 0.46, w + 0.22),
        (x + 1.16, 0.66, w + 0.22),
        0.034,
        paint("flask", (0.20, 0.34, 0.36), 0.3, metal=0.3),
    )
    pole((x + 1.16, 0.66, w + 0.22), (x + 1.16, 0.70, w + 0.22), 0.020, dark)
    rng = np.random.default_rng(room.seed + 5)
    white = paint("ball", (0.80, 0.80, 0.77), 0.35)
    r0, d0 = x - 1.05, w + 0.34
    pole((r0, 0, d0), (r0, 0.26, d0), 0.13, paint("bucket", (0.16, 0.22, 0.20), 0.4, metal=0.5), 0.16)
    for _ in range(46):
        angle, far = rng.uniform(0, 2 * np.pi), 0.135 * np.sqrt(rng.uniform(0, 1))
        high = 0.262 + rng.uniform(0, 0.02) + 0.04 * (1 - far / 0.135)
        ball((r0 + far * np.cos(angle), high, d0 + far * np.sin(angle)), BALL_RADIUS, white)
    steel = paint("steel", (0.6, 0.6, 0.62), 0.25, metal=1)
    for r, lean in ((x - 0.86, 0.08), (x - 0.78, -0.04)):
        pole((r, 0.03, w + 0.26), (r + lean, 0.95, w + 0.02), 0.0055, steel)
        pole((r + lean * 0.72, 0.69, w + 0.09), (r + lean, 0.97, w + 0.02), 0.012, dark)
        box((r - 0.03, 0.02, w + 0.24), (r + 0.05, 0.055, w + 0.27), steel)
    for low, high, colour in (
        ((x - 1.32, 1.45), (x - 0.92, 1.95), (0.56, 0.53, 0.45)),
        ((x + 0.80, 1.30), (x + 1.14, 1.74), (0.16, 0.30, 0.34)),
    ):
        box((low[0] - 0.02, low[1] - 0.02, w), (high[0] + 0.02, high[1] + 0.02, w + 0.025), dark)
        box((*low, w + 0.02), (*high, w + 0.028), paint(f"print {colour[0]}", colour, 0.7, mottle=0.6), 0)


def build_meadow(room: Room) -> None:
    """Out of doors: turf, dune grass, a fence and sky; stick, door frame and cord are as in the studio."""
    w = -room.wall
    turf = paint("turf", (0.115, 0.150, 0.050), 0.95, grain=0.9, grain_scale=190, mottle=0.7)
    box((-14, -0.05, -26), (14, 0, 4.0), turf, 0)
    rng = np.random.default_rng(room.seed + 9)
    greens = [
        paint(f"grass {i}", c, 0.9)
        for i, c in enumerate(
            ((0.21, 0.24, 0.08), (0.30, 0.29, 0.13), (0.14, 0.19, 0.07), (0.36, 0.31, 0.17))
        )
    ]
    for green in greens:  # one mesh a shade: blades as thin triangles, some ten thousand in all
        count = 2600
        d = rng.uniform(w - 7, w - 0.35, count)
        r = rng.uniform(-1, 1, count) * (2.5 - d * 0.55)
        tall = rng.uniform(0.18, 0.62, count) * (1 + 0.5 * np.sin(r * 1.7 + d))
        lean, wide = rng.normal(0.10, 0.13, count), rng.uniform(0.006, 0.014, count)
        base = 0.10 * np.maximum(0, -(d - w + 1.5))  # the dune rises behind
        points = np.empty((count * 3, 3))
        points[0::3] = np.stack([r - wide, base, d], 1)
        points[1::3] = np.stack([r + wide, base, d], 1)
        points[2::3] = np.stack([r + lean, base + tall, d + rng.normal(0, 0.05, count)], 1)
        sheet("grass", points, np.arange(count * 3).reshape(-1, 3).tolist(), green)
    dune = paint("dune", (0.40, 0.335, 0.215), 0.95, grain=0.5, grain_scale=90, mottle=0.5)
    far = np.linspace(0, 1, 24)
    for i, (depth, high) in enumerate(((w - 4.0, 0.7), (w - 9.0, 1.5))):
        r = -9 + 18 * far
        top = high + 0.28 * np.sin(r * 0.8 + i * 2) + 0.12 * np.sin(r * 2.3 + i)
        points = np.concatenate(
            [
                np.stack([r, np.full(24, -0.1), np.full(24, depth + 2.5)], 1),
                np.stack([r, top, np.full(24, depth)], 1),
            ]
        )
        sheet("dune", points, [(k, k + 1, k + 25, k + 24) for k in range(23)], dune)
    wood = paint("fence", (0.27, 0.22, 0.17), 0.8, grain=0.4, mottle=0.5)
    for at in np.arange(-4.0, 4.0, 0.46).tolist():
        upper = 0.95 + float(rng.uniform(-0.07, 0.07))
        pole((at, 0, w - 0.10), (at + float(rng.normal(0, 0.02)), upper, w - 0.12), 0.030, wood, 0.024)
    for y in (0.42, 0.80):
        box((-4.2, y, w - 0.14), (4.2, y + 0.05, w - 0.11), wood)
    _measuring_frame(room)


def _measuring_frame(room: Room) -> None:
    """The stick, and two posts with a cord: what replaces the studio's wall out of doors."""
    marks, w = room.marks, -room.wall
    yellow, black = paint("stick", (0.74, 0.52, 0.06), 0.5), paint("stick dark", (0.03, 0.03, 0.03), 0.5)
    r, foot = marks["stick-foot"][0], marks["stick-foot"][1]
    for i in range(6):
        low = foot + i * 6 * INCH
        box((r - 0.014, low, -0.006), (r + 0.014, low + 6 * INCH, 0.006), black if i % 2 else yellow, 0.001)
    box((r - 0.09, 0, -0.09), (r + 0.09, foot, 0.09), paint("block", (0.22, 0.14, 0.08), 0.5, grain=0.2))
    white = paint("post", (0.62, 0.62, 0.58), 0.6, grain=0.2, mottle=0.3)
    x = marks["door-top"][0]
    box((x, 0.0, w), (x + 0.10, marks["door-top"][1], w + 0.08), white)
    cord_top, cord_foot = marks["cord-top"], marks["cord-foot"]
    box((cord_top[0] - 0.34, 0.0, w - 0.04), (cord_top[0] - 0.26, 2.32, w + 0.04), white)
    box(
        (cord_top[0] - 0.34, cord_top[1], w - 0.03), (cord_top[0] + 0.06, cord_top[1] + 0.06, w + 0.03), white
    )
    brass = paint("brass", (0.62, 0.42, 0.16), 0.25, metal=1)
    pole(cord_top, cord_foot, 0.0055, paint("cord", (0.03, 0.03, 0.035), 0.8))
    under = np.array([0.0, 0.10, 0.0])
    pole(cord_foot + 0.2 * under, cord_foot - under, 0.026, brass, 0.002)


# --- light


SUN_INDOORS, SUN_OUTDOORS, WINDOW = (0.62, -0.72, -0.62), (0.50, -0.80, -0.55), (-2.6, 2.9, 2.4)


def light_room() -> None:
    """Morning sun through a blind from the left, a broad sky light, a little fill."""
    _area(WINDOW, (0, 1, -0.2), (1.4, 1.6), 185, (1, 0.93, 0.83))
    _area((2.8, 2.2, 2.0), (0, 1, 0), (1.8, 1.4), 30, (0.82, 0.91, 1))
    _area((0, 3.3, -0.3), (0, 0, -0.7), (2.8, 0.8), 34, (1, 0.97, 0.92))
    _sun(SUN_INDOORS, 5.6, (1, 0.90, 0.75), 0.014)
    blind = paint("blind", (0.3, 0.3, 0.3), 0.9)
    for i in range(9):
        y = 1.4 + i * 0.34
        box((-4.4, y, 1.75), (-1.9, y + 0.16, 1.78), blind, 0)
    _sky((0.80, 0.86, 0.95), 0.10)


def light_meadow() -> None:
    _sun(SUN_OUTDOORS, 6.0, (1, 0.92, 0.79), 0.010)
    _sky((0.58, 0.71, 0.86), 1.15)


def _area(
    at: Sequence[float], to: Sequence[float], size: tuple[float, float], watts: float, colour: Colour
) -> None:
    data = bpy.data.lights.new("area", "AREA")
    data.energy, data.shape, data.color = watts, "RECTANGLE", colour
    data.size, data.size_y = size
    made = bpy.data.objects.new("area", data)
    bpy.context.collection.objects.link(made)
    made.location = place(at)
    way = mathutils.Vector(place(to)) - made.location
    made.rotation_euler = way.to_track_quat("-Z", "Y").to_euler()
    made.visible_camera = False


def _sun(way: Sequence[float], strength: float, colour: Colour, width: float) -> None:
    data = bpy.data.lights.new("sun", "SUN")
    data.energy, data.angle, data.color = strength, width, colour
    made = bpy.data.objects.new("sun", data)
    bpy.context.collection.objects.link(made)
    made.rotation_euler = mathutils.Vector(place(way)).to_track_quat("-Z", "Y").to_euler()


def _sky(colour: Colour, strength: float) -> None:
    world = bpy.data.worlds.new("sky")
    bpy.context.scene.world = world
    world.use_nodes = True
    background = world.node_tree.nodes["Background"]
    background.inputs[0].default_value = (*colour, 1)
    background.inputs[1].default_value = strength


# --- the figure


@dataclass(frozen=True)
class Wardrobe:
    shirt: Colour
    trousers: Colour
    cap: Colour
    skin: Colour
    shoe: Colour
    hair: Colour
    brim: Colour
    glove: Colour = (0.78, 0.77, 0.72)


WARDROBE = {
    "Dune": Wardrobe(
        shirt=(0.060, 0.165, 0.255),
        trousers=(0.46, 0.41, 0.33),
        cap=(0.74, 0.73, 0.68),
        skin=(0.52, 0.315, 0.215),
        shoe=(0.66, 0.65, 0.61),
        hair=(0.05, 0.035, 0.03),
        brim=(0.055, 0.14, 0.21),
    ),
    "Shingle": Wardrobe(
        shirt=(0.56, 0.50, 0.38),
        trousers=(0.060, 0.075, 0.10),
        cap=(0.33, 0.085, 0.055),
        skin=(0.27, 0.145, 0.085),
        shoe=(0.16, 0.16, 0.17),
        hair=(0.020, 0.015, 0.012),
        brim=(0.20, 0.05, 0.035),
        glove=(0.10, 0.10, 0.11),
    ),
}


def add_figure(demo: Demo, t: float, step: float) -> list[bpy.types.Object]:
    """The dressed figure, the club and the ball at t seconds; returns all that was added."""
    pose = demo.swinger.motion.pose(t)
    wardrobe = WARDROBE[demo.swinger.name]
    surfaces = _surfaces(demo.swinger.name, wardrobe)
    mirrored = _mirrored(demo)
    made = []
    for name, mesh in Tailor(pose, demo.swinger.girth, step).garments().items():
        points = to_view(mesh.points, demo.view, demo.swinger.hand)
        faces = mesh.triangles[:, ::-1] if mirrored else mesh.triangles
        garment = surface(name, points, faces, surfaces[name])
        smooth = garment.modifiers.new("smooth", "SMOOTH")
        smooth.factor, smooth.iterations = 0.5, 6
        made.append(garment)
    made.extend(_club(demo, pose, t))
    white = paint("ball", (0.80, 0.80, 0.77), 0.35)
    where = to_view(ball_at(demo.swinger, t), demo.view, demo.swinger.hand)
    if np.linalg.norm(where) < 6:
        made.append(ball(where, BALL_RADIUS, white))
    return made


def hang_backdrop(plate: Path, taken: Camera, wall: float) -> None:
    """Put the empty room's picture (scene-linear, taken by that camera) in the place of the wall.

    The camera sees the picture instead of all that is on the wall or behind it; the light sees the wall as
    before. To shade the wall anew in each picture would be most of the work, and only a shadow too soft to
    notice falls on it. What hangs there sticks out by a few cm, so that a camera moved by a hand sees the
    picture as it would see the wall, to a tenth of a pixel.
    """
    for thing in bpy.data.objects:
        if thing.type == "MESH":
            own = np.array([(*corner, 1.0) for corner in thing.bound_box]) @ np.array(thing.matrix_world).T
            thing.visible_camera = bool((-own[:, 1]).max() >= 0.10 - wall)
    across, up = np.linspace(-4.5, 4.5, 91), np.linspace(0.0, 6.0, 61)
    points = np.stack([*(grid.ravel() for grid in np.meshgrid(across, up)), np.full(91 * 61, -wall)], axis=1)
    faces = [(k, k + 1, k + 92, k + 91) for row in range(60) for k in range(91 * row, 91 * row + 90)]
    hung = sheet("backdrop", points, faces, _shown(plate))
    hung.visible_diffuse = hung.visible_glossy = hung.visible_transmission = hung.visible_shadow = False
    corners = np.array([corner for face in faces for corner in face])
    places = taken.project(points[corners]) / taken.size
    places[:, 1] = 1 - places[:, 1]
    hung.data.uv_layers.new().data.foreach_set("uv", places.astype(np.float32).ravel())


def _shown(picture: Path) -> bpy.types.Material:
    """A material that shines as the picture does, where its texture coordinates say."""
    material = bpy.data.materials.new("picture")
    material.use_nodes = True
    tree = material.node_tree
    image, light = tree.nodes.new("ShaderNodeTexImage"), tree.nodes.new("ShaderNodeEmission")
    image.image = bpy.data.images.load(str(picture.resolve()))
    tree.links.new(image.outputs["Color"], light.inputs["Color"])
    tree.links.new(light.outputs[0], tree.nodes["Material Output"].inputs["Surface"])
    return material


def touched(figure: list[bpy.types.Object], demo: Demo, camera: Camera, margin: int = 14) -> Box:
    """Left, top, right, bottom in px of all that the figure and its shadow in the sun can change."""
    corners = []
    for thing in figure:
        world = np.array(thing.matrix_world)
        own = np.array([(*v.co, 1.0) for v in thing.data.vertices]) @ world.T
        corners.append(np.stack([own[:, 0], own[:, 2], -own[:, 1]], axis=1))
    points = np.concatenate(corners)[::7]
    sun = np.array(SUN_OUTDOORS if demo.outdoors else SUN_INDOORS)
    cast = [points, _shadow(points, np.broadcast_to(sun, points.shape), demo.room.wall)]
    seen = camera.project(np.concatenate(cast))
    width, height = camera.size
    left, top = np.clip(np.floor(np.nanmin(seen, axis=0)) - margin, 0, (width, height))
    right, bottom = np.clip(np.ceil(np.nanmax(seen, axis=0)) + margin, 0, (width, height))
    return int(left), int(top), int(right), int(bottom)


def _shadow(points: Vec, ways: Vec, wall: float) -> Vec:
    """Where rays through the points meet the floor or the wall; points on the floor stay."""
    steps = np.where(points[:, 1] < 0.03, 0.0, 12.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        floor, back = -points[:, 1] / ways[:, 1], (-wall - points[:, 2]) / ways[:, 2]
    for step in (floor, back):
        steps = np.where((step > 0) & (step < steps), step, steps)
    return np.asarray(points + ways * steps[:, None])


def _mirrored(demo: Demo) -> bool:
    """Whether view coordinates are a mirror image of swing coordinates."""
    axes = to_view(np.eye(3), demo.view, demo.swinger.hand)
    return bool(np.linalg.det(axes) < 0)


def _surfaces(who: str, wear: Wardrobe) -> dict[str, bpy.types.Material]:
    skin_ = paint(f"{who} skin", wear.skin, 0.5)
    shoe = paint(f"{who} shoe", wear.shoe, 0.45)
    return {
        "shirt": paint(f"{who} shirt", wear.shirt, 0.75, grain=0.10, grain_scale=240, folds=0.55),
        "trousers": paint(f"{who} trousers", wear.trousers, 0.8, grain=0.08, grain_scale=260, folds=0.5),
        "lead-shoe": shoe,
        "trail-shoe": shoe,
        "arms": skin_,
        "head": skin_,
        "hand": skin_,
        "hair": paint(f"{who} hair", wear.hair, 0.7, grain=0.4, grain_scale=200),
        "cap": paint(f"{who} cap", wear.cap, 0.8, grain=0.1, grain_scale=300),
        "brim": paint(f"{who} brim", wear.brim, 0.8),
        "glove": paint(f"{who} glove", wear.glove, 0.55),
    }


def _club(demo: Demo, pose: Pose, t: float) -> list[bpy.types.Object]:
    """Grip, shaft and iron head; they carry keyframes at both ends of the exposure, so that they blur."""
    steel = paint("steel", (0.6, 0.6, 0.62), 0.25, metal=1)
    grip = paint("grip", (0.02, 0.02, 0.022), 0.75)
    forged = paint("iron head", (0.42, 0.42, 0.44), 0.28, metal=1)
    hand = demo.swinger.hand

    def seen(point: Vec) -> Vec:
        return to_view(point, demo.view, hand)

    butt, head = pose.joints["implement-butt"], pose.joints["implement-head"]
    c = pose.club
    toe = square_to(np.cross(c, pose.clubface), c)
    toe = toe if float(toe @ _toe_hint(pose)) > 0 else -toe
    middle = pose.joints["lead-hand"]
    heel = head - toe * 0.030
    parts = [
        pole(seen(butt), seen(middle + c * 0.21), 0.0135, grip, 0.0095),
        pole(seen(middle + c * 0.20), seen(heel - c * 0.01), 0.0062, steel, 0.0048),
        pole(seen(heel - c * 0.055), seen(heel + c * 0.012), 0.0075, forged, 0.0095),
        _iron(seen, head, toe, c, forged, _mirrored(demo)),
    ]
    _blur(parts, demo, t)
    return parts


def _toe_hint(pose: Pose) -> Vec:
    """Which way the toe of the club points: away from the figure at the ball, then turning with the arm."""
    arm = unit(pose.joints["lead-wrist"] - pose.joints["lead-elbow"])
    outward = np.cross(np.cross(pose.chest_front, arm), pose.club)
    low = pose.club[1] < -0.4
    return np.array([0.0, 0.0, 1.0]) if low else np.asarray(outward if np.linalg.norm(outward) > 0.1 else arm)


def _iron(
    seen: object, head: Vec, toe: Vec, club: Vec, material: bpy.types.Material, mirrored: bool
) -> bpy.types.Object:
    """A blade: a flat wedge from heel to toe, thicker at the sole."""
    face = np.cross(toe, club)
    corners = []
    for along, high in ((-0.036, 0.030), (-0.034, -0.014), (0.040, -0.016), (0.046, 0.002), (0.034, 0.040)):
        for thick in (-1, 1):
            deep = thick * (0.009 if high < 0 else 0.004)
            corners.append(head + toe * along - club * high + face * deep)
    points = seen(np.array(corners))  # type: ignore[operator]
    front, back = (0, 2, 4, 6, 8), (9, 7, 5, 3, 1)
    sides = [(2 * i, 2 * i + 1, (2 * i + 3) % 10, (2 * i + 2) % 10) for i in range(5)]
    faces = [front, back, *sides]
    blade = sheet("iron", points, [face_[::-1] for face_ in faces] if mirrored else faces, material)
    edge = blade.modifiers.new("edge", "BEVEL")
    edge.width, edge.segments = 0.004, 2
    blade.data.polygons.foreach_set("use_smooth", [False] * len(blade.data.polygons))
    return blade


def _blur(parts: list[bpy.types.Object], demo: Demo, t: float) -> None:
    """Keyframes one exposure apart, round the hands: the rigid turn of the club from before to after t."""
    frames = []
    for when in (t - demo.shutter / 2, t, t + demo.shutter / 2):
        pose = demo.swinger.motion.pose(when)
        frames.append(_frame(demo, pose))
    middle = frames[1]
    for part in parts:
        part.rotation_mode = "QUATERNION"
        rest = part.matrix_basis.copy()
        for number, frame in zip((0, 2), (frames[0], frames[2]), strict=True):
            moved = frame @ middle.inverted() @ rest
            place_, turn, _ = moved.decompose()
            part.location, part.rotation_quaternion = place_, turn
            part.keyframe_insert("location", frame=number)
            part.keyframe_insert("rotation_quaternion", frame=number)
        for curve in part.animation_data.action.fcurves:
            for point in curve.keyframe_points:
                point.interpolation = "LINEAR"


def _frame(demo: Demo, pose: Pose) -> mathutils.Matrix:
    """The club's own frame as a rigid matrix of the renderer's coordinates."""
    c = pose.club
    side = square_to(pose.clubface, c)
    origin = to_view(pose.joints["lead-hand"], demo.view, demo.swinger.hand)
    axes = [to_view(v, demo.view, demo.swinger.hand) for v in (side, c)]
    x, y = (mathutils.Vector(place(a)).normalized() for a in axes)
    z = x.cross(y)
    matrix = mathutils.Matrix((x, y, z)).transposed().to_4x4()
    matrix.translation = mathutils.Vector(place(origin))
    return matrix


# --- camera


def add_camera() -> bpy.types.Object:
    data = bpy.data.cameras.new("camera")
    made = bpy.data.objects.new("camera", data)
    bpy.context.collection.objects.link(made)
    bpy.context.scene.camera = made
    return made


def aim(made: bpy.types.Object, camera: Camera) -> None:
    """Put the renderer's camera where ours is: same place, axes, focal length, centre."""
    if camera.k1 or camera.k2:
        raise ValueError("the renderer draws no lens distortion")
    right, up, ahead = (mathutils.Vector(place(axis)) for axis in camera.axes)
    turn = mathutils.Matrix((right, up, -ahead)).transposed().to_4x4()
    turn.translation = mathutils.Vector(place(camera.position))
    made.matrix_world = turn
    data, (width, height) = made.data, camera.size
    data.sensor_fit, data.sensor_width = "HORIZONTAL", 36.0
    data.lens = camera.focal / width * 36.0
    cx, cy = camera.middle
    data.shift_x, data.shift_y = (width / 2 - cx) / width, (cy - height / 2) / width
    data.dof.use_dof, data.dof.aperture_fstop = True, 4.0
    data.dof.focus_distance = camera.distance - 0.15
