"""Two invented swingers of unlike build and swing. No one's body or swing was measured for them.

DUNE follows what the trade commonly says of a good swing (common practice, no published source): the navel
goes about 4 in away from the target by the top and about 12 in back toward it by impact, the neck stays, so
that the line from navel to C7 leans about 30° at impact; backswing to downswing is about 3 to 1.
SHINGLE, left-handed and shorter, moves the hips less and lets the neck drift toward the target; `practised`
is SHINGLE on her way from there to DUNE's hips and neck.
"""

from __future__ import annotations

from dataclasses import replace

from tests.studio.body import Key, Swinger

BALL_LOOK = (0.03, 0.0, 0.42)
TARGET_LOOK = (2.2, 0.75, 0.10)

_SETUP = Key(
    stage=0,
    pelvis=(0.0, 0.507, -0.058),
    pelvis_turn=0,
    pelvis_tilt=0,
    c7=(-0.012, 0.768, 0.122),
    chest_turn=0,
    chest_tilt=10,
    arm=(-0.3, -0.95, 0.15),
    club=-3,
    club_plane=60,
    reach=1.0,
    trail_toe=(-0.150, 0.108),
    trail_yaw=-8,
    trail_lift=0,
    look=BALL_LOOK,
    lead_elbow=(0.6, -0.3, -0.5),
    trail_elbow=(-0.6, -0.5, -0.6),
    lead_knee=(0.25, 0, 1),
    trail_knee=(-0.25, 0, 1),
)
_TAKEAWAY = replace(
    _SETUP,
    stage=0.42,
    pelvis=(-0.009, 0.505, -0.060),
    pelvis_turn=-20,
    c7=(-0.016, 0.763, 0.122),
    chest_turn=-48,
    chest_tilt=3,
    arm=(-0.8, -0.58, -0.05),
    club=86,
    club_plane=64,
    trail_elbow=(-0.5, -0.7, -0.4),
    lead_knee=(0.05, 0, 1),
    reach=0.985,
)
_HALFWAY = replace(
    _TAKEAWAY,
    stage=0.68,
    pelvis=(-0.014, 0.498, -0.054),
    pelvis_turn=-34,
    chest_turn=-74,
    chest_tilt=1,
    arm=(-0.95, 0.18, -0.26),
    club=172,
    club_plane=60,
    trail_elbow=(-0.4, -1.0, 0.1),
    lead_knee=(-0.15, 0, 1),
    reach=0.99,
)
_TOP = replace(
    _HALFWAY,
    stage=1,
    pelvis=(-0.018, 0.493, -0.052),
    pelvis_turn=-46,
    c7=(-0.02, 0.76, 0.116),
    chest_turn=-93,
    chest_tilt=0,
    arm=(-0.56, 0.635, -0.53),
    club=256,
    club_plane=58,
    trail_elbow=(-0.3, -1.0, 0.25),
    lead_elbow=(0.1, -0.6, 0.6),
    lead_knee=(-0.28, 0, 1),
)
_TRANSITION = replace(
    _TOP,
    stage=1.40,
    pelvis=(0.006, 0.493, -0.05),
    pelvis_turn=-30,
    c7=(-0.020, 0.752, 0.116),
    chest_turn=-76,
    chest_tilt=3,
    arm=(-0.85, 0.42, -0.32),
    club=237,
    club_plane=56,
    lead_knee=(0.1, 0, 1),
    trail_knee=(-0.15, 0, 1),
    trail_elbow=(0.0, -1.0, 0.1),
)
_DELIVERY = replace(
    _TRANSITION,
    stage=1.7,
    pelvis=(0.033, 0.500, -0.048),
    pelvis_turn=-4,
    c7=(-0.018, 0.749, 0.116),
    chest_turn=-44,
    chest_tilt=8,
    arm=(-0.83, -0.55, -0.02),
    club=166,
    club_plane=55,
    trail_elbow=(0.6, -0.6, 0.8),
    lead_knee=(0.3, 0, 1),
    trail_knee=(0.05, 0, 1),
    trail_lift=4,
)
_LATE = replace(
    _DELIVERY,
    stage=1.85,
    pelvis=(0.064, 0.493, -0.046),
    pelvis_turn=20,
    c7=(-0.014, 0.747, 0.114),
    chest_turn=-10,
    chest_tilt=14,
    arm=(-0.5, -0.85, 0.1),
    club=95,
    club_plane=57,
    trail_elbow=(0.3, -0.9, 0.1),
    trail_toe=(-0.148, 0.108),
    trail_yaw=4,
    trail_lift=12,
    trail_knee=(0.25, 0, 1),
)
_IMPACT = replace(
    _LATE,
    stage=2,
    pelvis=(0.086, 0.486, -0.042),
    pelvis_turn=38,
    pelvis_tilt=3,
    c7=(-0.008, 0.753, 0.112),
    chest_turn=17,
    chest_tilt=17,
    arm=(-0.06, -0.95, 0.2),
    club=9,
    club_plane=60,
    reach=0.995,
    trail_elbow=(-0.2, -0.9, -0.1),
    lead_elbow=(0.6, -0.2, -0.6),
    trail_toe=(-0.142, 0.107),
    trail_yaw=14,
    trail_lift=20,
    lead_knee=(0.45, 0, 1),
    trail_knee=(0.4, 0, 1),
)
_RELEASE = replace(
    _IMPACT,
    stage=2.045,
    pelvis=(0.096, 0.484, -0.036),
    pelvis_turn=52,
    c7=(-0.004, 0.756, 0.108),
    chest_turn=42,
    chest_tilt=17,
    arm=(0.36, -0.7, 0.6),
    club=-90,
    club_plane=60,
    reach=0.9,
    trail_toe=(-0.132, 0.106),
    trail_yaw=24,
    trail_lift=28,
    look=(0.12, 0.0, 0.42),
    trail_elbow=(0.0, -0.9, 0.3),
    lead_elbow=(0.7, -0.4, -0.4),
)
_THROUGH = replace(
    _RELEASE,
    stage=2.12,
    pelvis=(0.11, 0.486, -0.03),
    pelvis_turn=66,
    c7=(0.020, 0.775, 0.092),
    chest_turn=72,
    chest_tilt=12,
    arm=(0.82, -0.05, 0.57),
    club=-178,
    club_plane=58,
    reach=0.78,
    trail_toe=(-0.118, 0.104),
    trail_yaw=36,
    trail_lift=40,
    look=(0.6, 0.15, 0.42),
    trail_elbow=(0.3, -0.9, 0.6),
    lead_elbow=(0.8, -0.9, -0.1),
)
_FINISH = replace(
    _THROUGH,
    stage=2.52,
    pelvis=(0.132, 0.503, -0.024),
    pelvis_turn=86,
    pelvis_tilt=2,
    c7=(0.118, 0.826, 0.012),
    chest_turn=112,
    chest_tilt=4,
    arm=(0.34, 0.91, -0.23),
    club=-288,
    club_plane=62,
    reach=0.56,
    trail_toe=(-0.086, 0.098),
    trail_yaw=66,
    trail_lift=62,
    look=TARGET_LOOK,
    trail_elbow=(0.7, -0.6, 0.7),
    lead_elbow=(1.0, -0.3, -0.3),
    lead_knee=(0.5, 0, 0.7),
    trail_knee=(0.8, 0, 0.6),
)

DUNE = Swinger(
    name="Dune",
    hand="right",
    stature=71 * 0.0254,
    girth=1.0,
    club_length=0.88,
    stance=0.272,
    lead_flare=22,
    ball=(0.075, 0.765),
    backswing=0.750,
    downswing=0.250,
    lead_in=0.100,
    keys=(
        _SETUP,
        _TAKEAWAY,
        _HALFWAY,
        _TOP,
        _TRANSITION,
        _DELIVERY,
        _LATE,
        _IMPACT,
        _RELEASE,
        _THROUGH,
        _FINISH,
    ),
)


def _shingle_keys(learnt: float = 0.0) -> tuple[Key, ...]:
    """Dune's keys with less hip travel, a neck that drifts toward the target, and an earlier release.

    learnt: 0 to 1, how much of the way to Dune's hip travel and neck is made.
    """
    pelvis_x = (0.0, -0.002, -0.003, -0.004, 0.004, 0.018, 0.032, 0.042, 0.054, 0.076, 0.122)
    c7_x = (-0.006, -0.012, -0.016, -0.018, -0.010, 0.002, 0.010, 0.016, 0.022, 0.040, 0.116)
    pelvis_turn = (0, -15, -26, -36, -24, -4, 14, 27, 40, 56, 82)
    chest_turn = (0, -46, -70, -88, -70, -38, -6, 19, 52, 80, 112)
    chest_tilt = (10, 3, 0, 0, 2, 5, 9, 12, 14, 11, 4)
    club = (-3, 90, 176, 244, 208, 148, 84, 7, -90, -180, -288)
    changed = []
    for i, key in enumerate(DUNE.keys):
        changed.append(
            replace(
                key,
                pelvis=(pelvis_x[i] + learnt * (key.pelvis[0] - pelvis_x[i]), key.pelvis[1], key.pelvis[2]),
                c7=(c7_x[i] + learnt * (key.c7[0] - c7_x[i]), key.c7[1], key.c7[2]),
                pelvis_turn=pelvis_turn[i],
                chest_turn=chest_turn[i],
                chest_tilt=chest_tilt[i],
                club=club[i],
            )
        )
    return tuple(changed)


SHINGLE = Swinger(
    name="Shingle",
    hand="left",
    stature=65 * 0.0254,
    girth=1.12,
    club_length=0.85,
    stance=0.262,
    lead_flare=16,
    ball=(0.060, 0.715),
    backswing=0.850,
    downswing=0.300,
    lead_in=0.100,
    keys=_shingle_keys(),
)


def practised(learnt: float) -> Swinger:
    """Shingle after some weeks of work on her pelvis; learnt as above."""
    return replace(SHINGLE, keys=_shingle_keys(learnt))


SWINGERS = {"dune": DUNE, "shingle": SHINGLE}
