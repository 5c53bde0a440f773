"""The words of the domain that requests, answers and computations share, each list of them defined once.

vocabulary.toml says what the lists of requests and answers are about, and what each of their values means.
"""

from __future__ import annotations

from typing import Final, Literal, get_args

Region = Literal[
    "low_back",
    "hip",
    "knee",
    "ankle",
    "shoulder",
    "elbow",
    "wrist",
    "groin",
    "hamstring",
    "front_of_knee",
    "calf_achilles",
    "upper_back",
    "neck",
]
"""A region of the body that can be sore, the finer ones last; regions.toml says what is known of its demand."""
Side = Literal["left", "right", "both"]
Provocation = Literal["load", "volume", "range", "speed"]
PainfulRange = Literal["bottom", "middle", "top", "whole"]
Onset = Literal["sudden", "gradual"]
Implement = Literal[
    "barbell",
    "safety_bar",
    "trap_bar",
    "dumbbells",
    "one_dumbbell",
    "kettlebell",
    "machine",
    "cable",
    "belt",
    "band",
    "body_weight",
]
Aim = Literal["strength", "muscle_size", "tendon", "maintain"]
Training = Literal["novice", "trained"]
Lever = Literal[
    "load",
    "reps",
    "tempo",
    "sets",
    "rest",
    "days",
    "range_of_motion",
    "technique",
    "equipment",
    "variation",
    "exercise",
]
Change = Literal[Lever, "cues", "hold", "assistance", "implement", "side"]
KeptForGood = Literal["range_of_motion", "technique", "cues", "tempo", "rest"]
Program = Literal["heavy_slow", "isometric"]
Likeness = Literal["same", "technique", "range_of_motion", "variation", "equipment", "exercise"]
"""What became of the lift itself."""
KeptPart = Literal[
    "relative_load",
    "untested_load",
    "sets",
    "effort",
    "carry_over",
    "tendon_load",
    "time_under_tension",
]
"""A part of the training effect that is kept."""
MeetsBy = Literal["peak", "posture", "direction_only", "session_exposure", "week_exposure"]
SUMMED: Final[tuple[MeetsBy, ...]] = ("session_exposure", "week_exposure")
"""Where no repetition asks less, and only there are fewer of them."""
Difference = Literal["lower", "higher", "no_clear_difference"]
Direction = Literal["lower", "higher", "no_clear_difference", "unknown"]
DemandEvidence = Literal["computed", "published", "direction_only"]
Evidence = Literal["computed", "published", "direction_only", "practice"]
Tier = Literal["green", "amber", "red", "pause"]
PainMoment = Literal["in_session", "at_rest", "next_morning"]
"""When a pain score was felt."""
PauseRule = Literal["severe_pain", "pain_at_rest", "above_again"]
TierRule = Literal["highest_score", "morning_rise", PauseRule]
"""What decided the tier: the highest score, a real rise of the next morning, or a reason to pause."""
AdjustmentDecision = Literal["adjust", "no_change_needed", "confirm_first", "pause_and_review", "refer"]
ReviewDecision = Literal[
    "progress", "hold", "step_back", "back_to_original", "confirm_first", "pause_and_review", "refer"
]
ReturnDecision = Literal["plan", "confirm_first", "refer"]
TrialReason = Literal["over_step", "untested", "unknown_demand", "after_break"]
ReviewReason = Literal["weeks_up", "no_improvement", "steps_back", "unsettled"]
"""Why a professional should look at the course of a complaint."""

REGIONS: Final[tuple[Region, ...]] = get_args(Region)
LEVERS: Final[tuple[Lever, ...]] = get_args(Lever)
TIERS: Final[tuple[Tier, ...]] = get_args(Tier)
"""Mildest first."""
PAUSE_RULES: Final[tuple[PauseRule, ...]] = get_args(PauseRule)
Weighting = Literal["linear", "squared", "tenth_power"]
WEIGHTINGS: Final[tuple[Weighting, ...]] = get_args(Weighting)
