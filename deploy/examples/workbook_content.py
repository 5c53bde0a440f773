"""What the workbook of the demo scenario holds: its notes, its inputs, its questions and what it shows of each answer.

The scenario is invented: a lifter of 64 kg and 168 cm whose front squats hurt the low back.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from deploy.examples.formulas import listed, range_of

MASS = ("kg", "lb")
LENGTH = ("cm", "m", "in", "ft")
FAILED = "see the address"
NONE = "none: see above"
LISTS = EXERCISES, REGIONS, AIMS = "exercise_ids", "region_ids", "aim_ids"
SIGNS_THERE = 'INDIRECT("signs_"&sore_region)'  # the named cells of the sheet Signs


@dataclass(frozen=True)
class Input:
    """A yellow cell: its name in formulas, its words, what it holds at first, and what it may hold or be counted in.

    choices: what it may hold, or the name of the cells that list it; proposals: the formula of cells that list what it
    may hold beside others.
    """

    name: str
    words: str
    value: float | str
    units: tuple[str, ...] = ()
    choices: tuple[str, ...] | str = ()
    note: str = ""
    proposals: str = ""


@dataclass(frozen=True)
class Result:
    """A row of answers: the JSON Pointer of its value, with a span that of an estimate; its name in formulas.

    says_why: whether the cell says why there is no answer, and what stops the training; otherwise: the JSON Pointer of
    the text that is shown where there is no number; fallback: what is shown where there is no answer.
    """

    words: str
    pointer: str
    unit: str = ""
    span: bool = False
    text: bool = False
    says_why: bool = False
    otherwise: str = ""
    fallback: str | None = None
    note: str = ""
    name: str = ""


@dataclass(frozen=True)
class Question:
    """A question to one operation: its parameters with the formula of each, and what is shown of the answer.

    prescriptions: by the name of each the formula of the cell that holds it as an answer wrote it.
    """

    words: str
    operation: str
    parameters: dict[str, str]
    results: tuple[Result, ...]
    prescriptions: dict[str, str] = field(default_factory=dict)


NOTES = (
    "An invented lifter's front squats hurt the low back. Change the yellow cells; every answer is asked anew.",
    "Signs first: ask those of the sheet Signs for the sore region; one that is there stops it. None clears nobody.",
    "Start a service first (deploy/serve), or write the address of yours below, without a slash at its end.",
    "The spreadsheet may ask before it lets a workbook reach an address: allow it for this one.",
    "Formulas cannot send an API key: the service must answer without one.",
    f"Where an answer says '{FAILED}', open the address on the right of its question in a browser: it says why.",
    "A cell that you do not know stays empty: it is left out. What an answer needs says so.",
    "The sheets Week and Team ask for a whole week and for a team; Lists has every exercise, region and aim.",
    "After each session of yours fill in pain, next morning and repetitions, such as 3, 1.5 and 9;9;9.",
    "Low and high are the span of an estimate, not a margin of safety.",
    "Nothing here is a diagnosis or a clearance to train; licensed practice comes first.",
)
YES_NO = ("yes", "no")
INPUTS = (
    Input("sore_region", "Sore region", "low_back", choices=REGIONS),
    Input(
        "sign_1",
        "Sign that is there",
        "",
        note="Empty where none is. Each cell offers those of the sore region.",
        proposals=SIGNS_THERE,
    ),
    Input("sign_2", "Another sign", "", proposals=SIGNS_THERE),
    Input(
        "sign_3", "Another sign", "", note="Several may stand in a cell, separated by commas.", proposals=SIGNS_THERE
    ),
    Input("age", "Age", "", note="Years; below 18 a professional confirms first."),
    Input("pregnant", "Pregnant", "", choices=YES_NO),
    Input("osteoporosis", "Osteoporosis", "", choices=YES_NO),
    Input("operated", "The sore region was operated on", "", choices=YES_NO),
    Input("confirmed", "Confirmed by a licensed professional", "", choices=YES_NO, note="where one was asked for"),
    Input("body_mass", "Body mass", 64, MASS),
    Input("stature", "Stature", 168, LENGTH),
    Input("sex", "Sex", "female", choices=("female", "male")),
    Input("ankle", "How far the ankle bends (knee to wall)", 27, ("deg", "rad")),
    Input("exercise", "Exercise", "front_squat", choices=EXERCISES, note="The sheet Lists has their names."),
    Input("sets_done", "Sets", 4),
    Input("reps_low", "Repetitions, from", 5),
    Input("reps_high", "Repetitions, to", 6),
    Input("load", "Load, bar and plates", 62.5, MASS),
    Input("reps_left", "Repetitions left in reserve", 2),
    Input("days_a_week", "Days a week", 2),
    Input("bar", "The bar alone", 15, MASS),
    Input("pain_now", "Pain while lifting, 0 to 10", 4),
    Input("pain_usual", "Pain as it usually is in the morning, 0 to 10", 1),
    Input("training_aim", "Aim", "strength", choices=AIMS),
    Input("more_reps", "Repetitions to find a load for", 9),
    Input("other_load", "Another load to think about", 55, MASS),
    Input("weekly_sets", "Sets a week", 8),
    Input("more_days", "Days to spread them over", 3),
    Input("slow_tempo", "Tempo: lowering-bottom-lifting-top", "4-1-X-0", note="Seconds; X is as fast as possible."),
    Input("heel_lift", "Heel lift to think about", 1.8, LENGTH),
)
DONE = {
    "load": "load",
    "reps": 'IF(reps_high="",reps_low,reps_high)',
    "reps_in_reserve": "reps_left",
    "exercise": "exercise",
}
REPS = range_of("reps_low", "reps_high")
SIGNS = listed('sign_1&" "&sign_2&" "&sign_3')
CIRCUMSTANCES = {"age": "age", "pregnant": "pregnant", "osteoporosis": "osteoporosis", "post_operative": "operated"}
CIRCUMSTANCES |= {"confirmed_by_professional": "confirmed"}
CIRCUMSTANCES = {f"circumstances_{name}": formula for name, formula in CIRCUMSTANCES.items()}
LIFTER = {"lifter_body_mass": "body_mass", "lifter_stature": "stature", "lifter_sex": "sex"}
DONE_NOW = {
    "exercise": "exercise",
    "sets": "sets_done",
    "reps": REPS,
    "load": "load",
    "reps_in_reserve": "reps_left",
    "days_per_week": "days_a_week",
}
WAY_BACK = (
    {"signs": SIGNS} | CIRCUMSTANCES | LIFTER | {f"original_{name}": formula for name, formula in DONE_NOW.items()}
)
WAY_BACK |= {"region": "sore_region", "gym_bar": "bar"}
REVIEW = WAY_BACK | {"aim": "training_aim", "usual_pain": "pain_usual"}
MOST_SESSIONS = 28
QUESTIONS = (
    Question(
        "Which change takes demand off the sore region?",
        "adjustments",
        {"complaint_signs": SIGNS}
        | CIRCUMSTANCES
        | LIFTER
        | DONE_NOW
        | {
            "complaint_region": "sore_region",
            "complaint_pain_in_session": "pain_now",
            "complaint_usual_pain": "pain_usual",
            "aim": "training_aim",
            "constraints_gym_bar": "bar",
        },
        (
            Result("What to do", "/decision", text=True, says_why=True, note="adjust, no_change_needed, or why not"),
            Result("First option", "/options/0/words", text=True, says_why=True, note="all that is to be done"),
            Result("First option: exercise", "/options/0/prescription/exercise", text=True),
            Result("First option: what is changed", "/options/0/levers/0", text=True, note="the first of its levers"),
            Result("First option: load", "/options/0/prescription/load/value", "load_unit"),
            Result("First option: sets", "/options/0/prescription/sets"),
            Result("First option: repetitions, from", "/options/0/prescription/reps/low"),
            Result("First option: repetitions, to", "/options/0/prescription/reps/high"),
            Result(
                "Demand on the sore region, 1 is as now",
                '/options/0/demand/"&sore_region&"',
                span=True,
                otherwise='/options/0/direction/"&sore_region&"',
                note="where no number is known, its direction",
            ),
            Result("Training effect kept, 1 is all", "/options/0/stimulus/kept/value", note="an index of our own"),
            Result(
                "First option, as questions take it",
                "/options/0/prescription",
                text=True,
                note="all of it, sent on below as it is",
                fallback="",
                name="first_option",
            ),
        ),
    ),
    Question(
        "How does the way back from the first option go?",
        "return-plan",
        WAY_BACK,
        (
            Result("The way back", "/decision", text=True, says_why=True, note="plan, or why not"),
            Result("Weeks until the original, if all goes well", "/weeks/low"),
            Result("Weeks, with some of them done twice", "/weeks/high"),
            Result("First step: load", "/steps/0/prescription/load/value", "load_unit"),
            Result("First step: demand of a session, 1 is the original's", "/steps/0/sore_region/session"),
        ),
        {"adjusted": "first_option"},
    ),
    Question(
        "Which load for more repetitions, with as many left?",
        "load-for-reps",
        DONE | {"target_reps": "more_reps", "target_reps_in_reserve": "reps_left", "bar": "bar"},
        (
            Result("Load", "/load", "load_unit", span=True, note="two times in three between low and high"),
            Result("What the bar can hold of it", "/loadable/value", "load_unit"),
            Result("One-repetition maximum", "/estimated_max", "load_unit", span=True, note="estimated, not tested"),
        ),
    ),
    Question(
        "How many repetitions at the other load, with as many left?",
        "reps-for-load",
        DONE | {"target_load": "other_load", "target_reps_in_reserve": "reps_left"},
        (Result("Repetitions", "/reps", span=True, note="to the last one that leaves the reserve"),),
    ),
    Question(
        "How many repetitions keep the volume at the other load?",
        "rep-targets",
        {
            "sets": "sets_done",
            "reps": REPS,
            "load": "load",
            "reps_in_reserve": "reps_left",
            "new_load": "other_load",
            "exercise": "exercise",
        },
        (
            Result("Equal volume: repetitions, from", "/equal_volume/reps/low"),
            Result("Equal volume: repetitions, to", "/equal_volume/reps/high"),
            Result("Equal volume: left in reserve", "/effort/new", span=True, note="many left: an easy set"),
            Result("Equal effort: repetitions, to", "/equal_effort/reps/high", note="as hard a set as now"),
        ),
    ),
    Question(
        "Which plates for the other load?",
        "bar-loading",
        {"target": "other_load", "bar": "bar", "rounding": '"down"'},
        (
            Result("Load on the bar", "/load/value", "other_load_unit", note="the nearest that is not above"),
            Result("Largest plate on each side", "/per_side/0/plate/value", "other_load_unit"),
            Result("How many of it on each side", "/per_side/0/count"),
        ),
    ),
    Question(
        "How do the sets spread over more days?",
        "session-split",
        {
            "weekly_sets": range_of("weekly_sets", "weekly_sets"),
            "days": "more_days",
            "current_days": "days_a_week",
            "reps": REPS,
            "load": "load",
        },
        (
            Result("Sets on the first day", "/days/0/sets/high"),
            Result("Sets on the last day", '/days/"&(more_days-1)&"/sets/high'),
            Result("Sets × repetitions × load, fullest day", "/fullest_session/volume_load/high/value", "load_unit"),
        ),
    ),
    Question(
        "What does a slow tempo cost?",
        "tempo",
        {"tempo": "slow_tempo", "reps": REPS, "sets": "sets_done"},
        (
            Result("Seconds for a repetition", "/seconds_per_rep", '"s"', span=True),
            Result("Seconds for the longest set", "/time_under_tension_per_set/high", '"s"', span=True),
            Result("Repetitions kept, 1 is all", "/cost_in_reps/fraction_kept", span=True),
        ),
    ),
    Question(
        "What does a heel lift change at the joints?",
        "joint-demand",
        {
            "lifter_body_mass": "body_mass",
            "lifter_stature": "stature",
            "lifter_sex": "sex",
            "lifter_ankle_dorsiflexion": "ankle",
            "setups_label": '"flat,heel lift"',
            "setups_exercise": 'exercise&","&exercise',
            "setups_load": 'load&","&load',
            "setups_technique_heel_lift": '","&heel_lift',
        },
        (
            Result("Low back, 1 is as flat", "/setups/1/relative/lumbosacral", span=True, note="moments at the joint"),
            Result(
                "Knee, 1 is as flat", "/setups/1/relative/knee", span=True, note="another joint takes what one gives up"
            ),
            Result("Low back, against flat", "/setups/1/difference/lumbosacral", text=True),
        ),
    ),
)
