"""The words of the domain that requests, answers and computations share, each list of them defined once."""

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
"""The side of the body that a lift is done on."""
Provocation = Literal["load", "volume", "range", "speed"]
"""What brings a complaint on."""
PainfulRange = Literal["bottom", "middle", "top", "whole"]
"""Part of the movement in which it hurts."""
Onset = Literal["sudden", "gradual"]
"""How a complaint began."""
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
"""What an exercise of the catalogue is loaded with."""
Aim = Literal["strength", "muscle_size", "tendon", "maintain"]
"""What the lifter trains for."""
Training = Literal["novice", "trained"]
"""How long a lifter has trained."""
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
"""What may be changed in a prescription."""
Change = Literal[Lever, "cues", "hold", "assistance", "implement", "side"]
"""What one prescription changes against another: the levers, and what comes and goes with them."""
KeptForGood = Literal["range_of_motion", "technique", "cues", "tempo", "rest"]
"""What of an adjusted prescription protects and may be kept for good, so that no way back takes it away."""
Program = Literal["heavy_slow", "isometric"]
"""A program of its own, for tendons."""
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
"""What meets the target: the peak of a repetition, a posture that is eased with the peak no larger, a direction without
a number, or the sum of a session or a week."""
SUMMED: Final[tuple[MeetsBy, ...]] = ("session_exposure", "week_exposure")
"""Where no repetition asks less, and only there are fewer of them."""
Difference = Literal["lower", "higher", "no_clear_difference"]
"""How a demand compares with another one."""
Direction = Literal["lower", "higher", "no_clear_difference", "unknown"]
"""How a demand compares with the present one, if that is known."""
DemandEvidence = Literal["computed", "published", "direction_only"]
"""On what a statement about demand rests."""
Evidence = Literal["computed", "published", "direction_only", "practice"]
"""On what a whole answer rests."""
Tier = Literal["green", "amber", "red", "pause"]
"""What pain allows: go on as it is, adjust, stop the lift for the day and come back with less, load the region no more
for now. The first three are the bands of the pain-monitoring model (thomee_1997), the last is ours."""
PainMoment = Literal["in_session", "at_rest", "next_morning"]
"""When a pain score was felt."""
PauseRule = Literal["severe_pain", "pain_at_rest", "above_again"]
"""Why a region is loaded no more for now."""
TierRule = Literal["highest_score", "morning_rise", PauseRule]
"""What decided the tier: the highest score, a real rise of the next morning, or a reason to pause."""
AdjustmentDecision = Literal["adjust", "no_change_needed", "confirm_first", "pause_and_review", "refer"]
ReviewDecision = Literal[
    "progress", "hold", "step_back", "back_to_original", "confirm_first", "pause_and_review", "refer"
]
ReturnDecision = Literal["plan", "confirm_first", "refer"]
TrialReason = Literal["over_step", "untested", "unknown_demand", "after_break"]
"""Why a test comes before a step: a rise above what was wished for, lifts without a published ratio, a demand that is
not known, weeks without training."""
ReviewReason = Literal["weeks_up", "no_improvement", "steps_back", "unsettled"]
"""Why a professional should look at the course of a complaint."""

REGIONS: Final[tuple[Region, ...]] = get_args(Region)
LEVERS: Final[tuple[Lever, ...]] = get_args(Lever)
TIERS: Final[tuple[Tier, ...]] = get_args(Tier)
"""Mildest first."""
PAUSE_RULES: Final[tuple[PauseRule, ...]] = get_args(PauseRule)
Weighting = Literal["linear", "squared", "tenth_power"]
"""How the moment of a repetition counts in what a week asks of a region."""
WEIGHTINGS: Final[tuple[Weighting, ...]] = get_args(Weighting)
