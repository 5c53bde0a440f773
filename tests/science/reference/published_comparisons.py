"""What the model computes for each published comparison in data/published_postures.csv, by the row's id.

The lifters are ordinary ones, not the studies' participants, whose lengths are nowhere printed: a man of 80 kg and
1.75 m or a woman of 62 kg and 1.65 m, with a bar of body mass where the study states no absolute load. Published
peaks are compared with peaks through the range, static values with those at the bottom. Heel-lift studies are met
with the mean of five lifters whose ankles end at 20 to 40 degrees, because the lift matters only to those whose ankle
is the limit.
"""

from __future__ import annotations

from collections.abc import Callable
from math import asin, degrees, radians
from statistics import fmean
from unittest.mock import patch

from msgspec.structs import replace

from service.knowledge.posture_rules import EXERCISE_RULES, POSTURE_RULES
from service.mechanics.body import Body, build_body
from service.mechanics.demand import Demand, setup_demand
from service.mechanics.setups import Depth, Technique
from service.mechanics.uncertainty.comparison import Quantity, compare
from service.mechanics.uncertainty.propagation import uncertain_demand

MAN = build_body(80.0, 1.75, "male")
WOMAN = build_body(62.0, 1.65, "female")
BODY_MASS = MAN.mass
USUAL = Technique()

PARALLEL = Depth(thigh_below_horizontal=0.0)
DEEP = Depth(thigh_below_horizontal=radians(20.0))
ABOVE_PARALLEL = Depth(thigh_below_horizontal=radians(-20.0))
KNEE_OVER_TOE = Technique(
    shin_angle=asin((MAN.foot - MAN.ankle_from_heel) / MAN.shank), ankle_dorsiflexion=radians(40.0)
)
SUPPLE = Technique(ankle_dorsiflexion=radians(45.0))
ANKLES = (20.0, 25.0, 30.0, 35.0, 40.0)
WIDE = Technique(stance="wide")
HIGH, LOW, FRONT = "back_squat_high_bar", "back_squat_low_bar", "front_squat"
UNLOADED = "belt_squat"
CONVENTIONAL, TRAP = "deadlift_conventional", "deadlift_trap_bar"


def demand(
    exercise: str = HIGH,
    load: float = BODY_MASS,
    depth: Depth | None = PARALLEL,
    technique: Technique = USUAL,
    body: Body = MAN,
) -> Demand:
    return setup_demand(body, exercise, load, None if EXERCISE_RULES[exercise].family == "hinge" else depth, technique)


def ratio(joint: str, new: Demand, reference: Demand) -> float:
    """Peak moment of the new setup over that of the reference."""
    return new.peaks[joint].moment / reference.peaks[joint].moment


def lean(new: Demand, reference: Demand) -> float:
    """How much more the new setup leans [deg]."""
    return degrees(new.trunk_lean - reference.trunk_lean)


def hip_to_knee(found: Demand) -> float:
    """Peak hip over peak knee moment."""
    return found.peaks["hip"].moment / found.peaks["knee"].moment


def at_bottom(joint: str, new: Demand, reference: Demand) -> float:
    """Moment of the new setup over that of the reference, both at the bottom."""
    return float(getattr(new.moments, joint) / getattr(reference.moments, joint))


def verdict(quantity: Quantity, new: str, reference: str, technique: Technique = USUAL) -> str:
    """The model's own verdict on two exercises at equal load and usual depth."""
    first = uncertain_demand(MAN, new, BODY_MASS, None, technique)
    return compare(first, uncertain_demand(MAN, reference, BODY_MASS))[quantity].difference


def verdict_on_depth(quantity: Quantity, new: Depth, reference: Depth) -> str:
    first, second = (uncertain_demand(WOMAN, HIGH, WOMAN.mass, depth) for depth in (new, reference))
    return compare(first, second)[quantity].difference


def verdict_on_load(quantity: Quantity, exercise: str, new: float, reference: float) -> str:
    first, second = (uncertain_demand(MAN, exercise, load) for load in (new, reference))
    return compare(first, second)[quantity].difference


def lifted(height: float, ankle: float, load: float = BODY_MASS) -> Demand:
    """A high-bar or unloaded squat with a heel lift [m] by a lifter of so much dorsiflexion [deg]."""
    technique = Technique(heel_lift=height, ankle_dorsiflexion=radians(ankle))
    if load:
        return demand(HIGH, load, technique=technique)
    return demand(UNLOADED, 0.0, ABOVE_PARALLEL, technique)


def with_lift(
    measure: Callable[[Demand, Demand], float], height: float, other: float = 0.0, load: float = BODY_MASS
) -> float:
    """A heel lift against another [m], mean of lifters with ankles from stiff to supple."""
    return fmean(measure(lifted(height, ankle, load), lifted(other, ankle, load)) for ankle in ANKLES)


def knee(new: Demand, reference: Demand) -> float:
    return ratio("knee", new, reference)


def hip(new: Demand, reference: Demand) -> float:
    return ratio("hip", new, reference)


def knee_bend(new: Demand, reference: Demand) -> float:
    return degrees(new.posture.knee_flexion - reference.posture.knee_flexion)


def dorsiflexion(new: Demand, reference: Demand) -> float:
    return degrees(new.posture.ankle_dorsiflexion - reference.posture.ankle_dorsiflexion)


def pressure(balance: float, shin: float) -> Demand:
    """An unloaded squat with the centre of pressure at a fraction of the foot and a shin angle [deg]."""
    rule = replace(EXERCISE_RULES[UNLOADED], balance=balance)
    with patch.dict(POSTURE_RULES, {UNLOADED: rule}):
        return setup_demand(MAN, UNLOADED, 0.0, PARALLEL, Technique(shin_angle=radians(shin)))


def both_legs(joint: str, new: Demand, reference: Demand) -> float:
    """Difference of the moments of both legs together [N·m per kg and m]."""
    change = getattr(new.moments, joint) - getattr(reference.moments, joint)
    return float(2 * change / (MAN.mass * MAN.stature))


def knee_share(found: Demand) -> float:
    """Knee moment in percent of the sum of ankle, knee and hip."""
    moments = found.moments
    return 100 * moments.knee / (moments.ankle + moments.knee + moments.hip)


def slope(joint: str, low: float, high: float) -> float:
    """Rise of a moment per kilogram of bar between two loads, as multiples of body mass [N·m/kg]."""
    light, heavy = demand(load=low * BODY_MASS), demand(load=high * BODY_MASS)
    return (heavy.peaks[joint].moment - light.peaks[joint].moment) / ((high - low) * BODY_MASS)


def shin_for_ratio(wanted: float) -> float:
    """The shin angle [deg] at which a level-thigh squat has a hip-to-knee ratio."""
    low, high = 5.0, 45.0
    for _ in range(50):
        middle = (low + high) / 2
        if hip_to_knee(demand(technique=Technique(shin_angle=radians(middle)))) > wanted:
            low = middle
        else:
            high = middle
    return low


def longer(segment: str, factor: float) -> Demand:
    body = replace(MAN, **{segment: getattr(MAN, segment) * factor})
    return demand(technique=Technique(shin_angle=radians(32.0)), body=body)


def depth_reached(ankle: float) -> float:
    """Thigh angle above the horizontal [deg] that a stated hip range leaves at the bottom."""
    technique = Technique(ankle_dorsiflexion=radians(ankle), hip_flexion=radians(125.0))
    return degrees(setup_demand(MAN, HIGH, BODY_MASS, None, technique).posture.thigh_angle)


SAME_LEGS = Technique(shin_angle=radians(31.0))
STEEP, SHALLOW = Technique(shin_angle=radians(12.0)), Technique(shin_angle=radians(25.0))

COMPUTED: dict[str, Callable[[], float | str]] = {
    "fry_knee_ratio": lambda: ratio("knee", demand(technique=KNEE_OVER_TOE), demand()),
    "fry_knee_free": lambda: demand().moments.knee,
    "fry_knee_blocked": lambda: demand(technique=KNEE_OVER_TOE).moments.knee,
    "fry_hip": lambda: at_bottom("hip", demand(technique=KNEE_OVER_TOE), demand()),
    "fry_hip_ratio": lambda: at_bottom("hip", demand(technique=KNEE_OVER_TOE), demand()),
    "fry_lean": lambda: lean(demand(technique=KNEE_OVER_TOE), demand()),
    "hirata_knee": lambda: ratio("knee", demand(), demand(technique=KNEE_OVER_TOE)),
    "lorenzetti_knee": lambda: ratio("knee", demand(), demand(technique=KNEE_OVER_TOE)),
    "lorenzetti_hip": lambda: ratio("hip", demand(), demand(technique=KNEE_OVER_TOE)),
    "wretenberg_high_ratio": lambda: hip_to_knee(demand()),
    "wretenberg_low_ratio": lambda: hip_to_knee(demand(LOW)),
    "wretenberg_high_deep_ratio": lambda: hip_to_knee(demand(depth=DEEP, technique=SUPPLE)),
    "wretenberg_low_deep_ratio": lambda: hip_to_knee(demand(LOW, depth=DEEP, technique=SUPPLE)),
    "wretenberg_high_shin": lambda: shin_for_ratio(1.65),
    "wretenberg_low_shin": lambda: shin_for_ratio(3.36),
    "wretenberg_high_depth": lambda: ratio("knee", demand(depth=DEEP, technique=SUPPLE), demand(technique=SUPPLE)),
    "wretenberg_low_depth": lambda: ratio(
        "knee", demand(LOW, depth=DEEP, technique=SUPPLE), demand(LOW, technique=SUPPLE)
    ),
    "gullett_knee_ratio": lambda: ratio("knee", demand(FRONT, 0.7 * 0.8 * 100), demand(HIGH, 0.7 * 100)),
    "krzyszkowski_hip": lambda: ratio("hip", demand(), demand(FRONT)),
    "krzyszkowski_knee": lambda: ratio("knee", demand(FRONT), demand()),
    "krzyszkowski_own_maximum": lambda: ratio("knee", demand(HIGH, 100.0), demand(FRONT, 80.0)),
    "russell_knee": lambda: verdict("knee", FRONT, HIGH),
    "russell_trunk": lambda: verdict("lumbosacral", FRONT, HIGH),
    "larsen_ankle": lambda: verdict("ankle", LOW, HIGH),
    "larsen_knee": lambda: verdict("knee", LOW, HIGH),
    "larsen_hip": lambda: verdict("hip", LOW, HIGH),
    "tillaar_lean": lambda: verdict("trunk_lean", LOW, HIGH),
    "glassbrook_knee": lambda: degrees(demand(HIGH).posture.knee_flexion - demand(LOW).posture.knee_flexion),
    "glassbrook_hip": lambda: degrees(demand(HIGH).posture.hip_flexion - demand(LOW).posture.hip_flexion),
    "glassbrook_lean": lambda: lean(demand(HIGH), demand(LOW)),
    "yavuz_front_lean": lambda: lean(demand(HIGH), demand(FRONT)),
    "johansson_straight_hip": lambda: degrees(demand(HIGH, 123.0).posture.hip_flexion),
    "johansson_straight_knee": lambda: degrees(demand(HIGH, 123.0).posture.knee_flexion),
    "johansson_safety_hip": lambda: degrees(demand("safety_bar_squat", 117.0).posture.hip_flexion),
    "johansson_safety_knee": lambda: degrees(demand("safety_bar_squat", 117.0).posture.knee_flexion),
    "johansson_knee_moment": lambda: verdict("knee", "safety_bar_squat", HIGH),
    "hecker_lean": lambda: lean(
        demand("safety_bar_squat", 88.7, technique=SAME_LEGS), demand(HIGH, 100.0, technique=SAME_LEGS)
    ),
    "swinton_ankle": lambda: ratio("ankle", demand("box_squat", technique=WIDE), demand()),
    "swinton_ankle_styles": lambda: ratio("ankle", demand(LOW, technique=WIDE), demand()),
    "swinton_spine_box": lambda: ratio("lumbosacral", demand("box_squat", technique=WIDE), demand()),
    "swinton_spine_styles": lambda: ratio("lumbosacral", demand(LOW, technique=WIDE), demand()),
    "escamilla_wide_shin": lambda: degrees(
        demand(LOW).posture.shin_angle - demand(LOW, technique=WIDE).posture.shin_angle
    ),
    "escamilla_wide_lean": lambda: verdict("trunk_lean", LOW, LOW, WIDE),
    "escamilla_wide_knee": lambda: ratio("knee", demand(LOW, technique=WIDE), demand(LOW)),
    "escamilla_wide_hip": lambda: ratio("hip", demand(LOW, technique=WIDE), demand(LOW)),
    "escamilla_wide_ankle": lambda: ratio("ankle", demand(LOW, technique=WIDE), demand(LOW)),
    "cotter_depth": lambda: ratio("knee", demand(), demand(depth=ABOVE_PARALLEL)),
    "cotter_depth_below": lambda: ratio("knee", demand(depth=DEEP), demand()),
    "cotter_load": lambda: ratio("knee", demand(load=1.5 * BODY_MASS), demand(load=0.8 * BODY_MASS)),
    "cotter_slope": lambda: slope("knee", 0.0, 0.75) / slope("knee", 0.75, 1.3),
    "salem_depth": lambda: verdict_on_depth(
        "knee", Depth(knee_flexion=radians(110.0)), Depth(knee_flexion=radians(70.0))
    ),
    "choe_ratio": lambda: hip_to_knee(demand(load=1.2 * BODY_MASS)),
    "flanagan_slopes": lambda: slope("hip", 0.3, 1.2) / slope("knee", 0.3, 1.2),
    "flanagan_linear": lambda: slope("hip", 0.3, 0.7) / slope("hip", 0.7, 1.2),
    "yavuz_load_lean": lambda: lean(demand(load=125.0), demand(load=100.0)),
    "palermo_load_hip": lambda: degrees(demand(load=125.0).posture.hip_flexion - demand(load=75.0).posture.hip_flexion),
    "hales_lean": lambda: degrees(demand(LOW, 160.0, Depth(thigh_below_horizontal=radians(-32.5))).posture.trunk_lean),
    "monteiro_lean_25": lambda: with_lift(lean, 0.025),
    "monteiro_lean_50": lambda: with_lift(lean, 0.050, 0.025),
    "monteiro_knee_25": lambda: with_lift(knee_bend, 0.025),
    "monteiro_knee_50": lambda: with_lift(knee_bend, 0.050, 0.025),
    "sato_lean": lambda: with_lift(lean, 0.012),
    "lee_lean": lambda: round(lean(lifted(0.025, 40.0), lifted(0.0, 40.0)), 9),
    "southwell_knee": lambda: with_lift(knee, 0.02),
    "southwell_hip": lambda: with_lift(hip, 0.02),
    "lu_dorsiflexion": lambda: with_lift(dorsiflexion, 0.025),
    "lu_knee": lambda: with_lift(knee, 0.025),
    "lu_hip": lambda: with_lift(lambda new, reference: at_bottom("hip", new, reference), 0.025),
    "legg_dorsiflexion": lambda: with_lift(dorsiflexion, 0.02),
    "legg_knee_bend": lambda: with_lift(knee_bend, 0.02),
    "legg_unloaded_lean": lambda: with_lift(lean, 0.02, load=0.0),
    "legg_unloaded_knee": lambda: with_lift(knee, 0.02, load=0.0),
    "legg_loaded_lean": lambda: with_lift(lean, 0.02),
    "farhad_lean": lambda: -with_lift(lean, 0.025, load=0.0),
    "limited_ankle_lean": lambda: lean(
        demand(UNLOADED, 0.0, technique=Technique(ankle_dorsiflexion=radians(28.0))),
        demand(UNLOADED, 0.0, technique=Technique(ankle_dorsiflexion=radians(38.0))),
    ),
    "fuglsang_lean": lambda: lean(lifted(0.0, 38.0), lifted(0.0, 25.0)),
    "gomes_depth": lambda: depth_reached(25.0) - depth_reached(40.0),
    "ishida_ankle": lambda: both_legs("ankle", pressure(0.535, 33.6), pressure(0.444, 32.0)),
    "ishida_knee": lambda: both_legs("knee", pressure(0.535, 33.6), pressure(0.444, 32.0)),
    "ishida_hip": lambda: both_legs("hip", pressure(0.535, 33.6), pressure(0.444, 32.0)),
    "ishida_share_dorsiflexion": lambda: knee_share(pressure(0.48, 32.5)) - knee_share(pressure(0.48, 31.5)),
    "ishida_share_dorsiflexion_size": lambda: knee_share(pressure(0.48, 32.5)) - knee_share(pressure(0.48, 31.5)),
    "ishida_share_pressure": lambda: knee_share(pressure(0.485, 32.0)) - knee_share(pressure(0.475, 32.0)),
    "ishida_share_pressure_size": lambda: knee_share(pressure(0.485, 32.0)) - knee_share(pressure(0.475, 32.0)),
    "graber_shin": lambda: hip_to_knee(demand(technique=SHALLOW)) - hip_to_knee(demand(technique=STEEP)),
    "straub_trunk": lambda: (
        demand(HIGH, technique=SAME_LEGS).moments.knee - demand(FRONT, technique=SAME_LEGS).moments.knee
    ),
    "proportions_thigh_lean": lambda: lean(longer("thigh", 1.05), longer("thigh", 1.0)),
    "proportions_thigh_hip": lambda: ratio("hip", longer("thigh", 1.05), longer("thigh", 1.0)),
    "proportions_trunk_lean": lambda: lean(longer("trunk", 1.07), longer("trunk", 1.0)),
    "swinton_trap_spine": lambda: ratio("lumbosacral", demand(TRAP, 1.08 * 100), demand(CONVENTIONAL, 100.0)),
    "swinton_trap_hip": lambda: ratio("hip", demand(TRAP, 1.08 * 100), demand(CONVENTIONAL, 100.0)),
    "swinton_trap_knee": lambda: ratio("knee", demand(TRAP, 1.08 * 100), demand(CONVENTIONAL, 100.0)),
    "swinton_trap_ankle": lambda: ratio("ankle", demand(TRAP, 1.08 * 100), demand(CONVENTIONAL, 100.0)),
    "escamilla_sumo_lean": lambda: lean(demand(CONVENTIONAL, 200.0), demand("deadlift_sumo", 200.0)),
    "cholewicki_sumo_spine": lambda: ratio("lumbosacral", demand("deadlift_sumo", 200.0), demand(CONVENTIONAL, 200.0)),
    "lee_conventional_knee": lambda: demand(CONVENTIONAL, 100.0).peaks["knee"].moment,
    "lee_romanian_knee": lambda: demand("romanian_deadlift", 100.0).peaks["knee"].moment,
    "lee_ankle_ratio": lambda: ratio("ankle", demand("romanian_deadlift", 100.0), demand(CONVENTIONAL, 100.0)),
    "layer_spine": lambda: ratio("lumbosacral", demand("belt_squat"), demand()),
    "layer_knee": lambda: ratio("knee", demand("belt_squat"), demand()),
    "layer_hip": lambda: verdict("hip", "belt_squat", HIGH),
    "song_hip": lambda: ratio("hip", demand("split_squat", technique=STEEP), demand("split_squat", technique=SHALLOW)),
    "song_ankle": lambda: verdict("ankle", "split_squat", "split_squat", STEEP),
    "riemann_hip": lambda: ratio("hip", demand("lunge", 40.0), demand("lunge", 0.0)),
    "riemann_knee": lambda: verdict_on_load("knee", "lunge", 40.0, 0.0),
    "farrokhi_hip": lambda: ratio(
        "hip",
        demand("lunge", 0.0, technique=Technique(trunk_lean=radians(40.0))),
        demand("lunge", 0.0, technique=Technique(trunk_lean=radians(5.0))),
    ),
}
