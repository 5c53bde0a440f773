"""Our own choices: changeable one by one, and each fault of a changed file named."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Final

import msgspec
import pytest

from service.knowledge.choice_kinds import UnusableChoices
from service.knowledge.design_choices import SHIPPED, DesignChoices, design_choices
from service.settings import DESIGN_CHOICES


def test_file_of_choices_replaces_its_values_and_no_others(tmp_path: Path) -> None:
    changed = tmp_path / "choices.toml"
    changed.write_text(
        "[adjustments]\ngreen_up_to = 3\nheel_lifts = [0.01, 0.03]\n[adjustments.first_step]\namber = 0.8\n",
        encoding="utf-8",
    )
    choices, usual = design_choices(str(changed)), design_choices(None)
    replace = msgspec.structs.replace
    first_step = replace(usual.adjustments.first_step, amber=0.8)
    adjustments = replace(usual.adjustments, green_up_to=3.0, heel_lifts=(0.01, 0.03), first_step=first_step)
    assert choices == replace(usual, adjustments=adjustments)
    assert choices != usual


FAULTS = {
    "unknown_table": ("[adjustment]\nmost_days = 5", "at the top: ", "unknown field `adjustment`"),
    "unknown_key": ("[return_plan]\nstpe = 0.2", "return_plan: ", "unknown field `stpe`"),
    "unknown_key_in_depth": ("[adjustments.first_step]\ngreen = 0.9", "adjustments.first_step: ", "`green`"),
    "text_for_number": ('[return_plan]\nstep = "0.2"', "return_plan.step: ", "Expected `float`, got `str`"),
    "number_for_text": ("[adjustments]\nslow_tempo = 3", "adjustments.slow_tempo: ", "Expected `str`, got `int`"),
    "part_for_whole": ("[rest]\nmost_sets = 2.5", "rest.most_sets: ", "Expected `int`, got `float`"),
    "yes_for_number": ("[return_plan]\nstep = true", "return_plan.step: ", "Expected `float`, got `bool`"),
    "number_for_table": ("rest = 3", "rest: ", "Expected a table, got `int`"),
    "table_for_number": ("[return_plan.step]\nkg = 1", "return_plan.step: ", "Expected `float`"),
    "too_short": ("[rest]\nreps_to_failure = [8]", "rest.reps_to_failure: ", "length 2"),
    "above": ("[adjustments.first_step]\namber = 1.2", "adjustments.first_step.amber: ", "<= 1.0"),
    "below": ("[adjustments]\nreal_change = -1", "adjustments.real_change: ", "> 0.0"),
    "no_number": ("[review]\nmorning_hold = nan", "review.morning_hold: ", "Expected `float`"),
    "endless": ("[review]\nweekly_rise = inf", "review.weekly_rise: ", "<= 10.0"),
    "in_a_list": ("[adjustments]\nheel_lifts = [0.02, 20]", "adjustments.heel_lifts[1]: ", "<= 2.0"),
    "malformed_tempo": ('[adjustments]\nslow_tempo = "3-0-3"', "adjustments.slow_tempo: ", "matching regex"),
    "tempo_with_newline": ('[adjustments]\nslow_tempo = "3-0-3-0\\n"', "adjustments.slow_tempo: ", "matching regex"),
    "bands_crossed": (
        "[adjustments]\ngreen_up_to = 6",
        "adjustments: ",
        "green_up_to, amber_up_to, red_up_to in ascending order",
    ),
    "range_reversed": ("[rest]\nreps_to_failure = [16, 8]", "rest: ", "reps_to_failure in ascending order"),
    "outside_its_span": ("[spine.muscle_arm]\nvalue = 0.09", "spine.muscle_arm: ", "low <= value <= high"),
    "no_such_arm": ("[spine.muscle_arm]\nhigh = 0.75", "spine: ", "muscle_arm.high <= 0.2"),
    "not_toml": ("[adjustments", "", "at the end of a table declaration"),
    "key_of_two_lines": ('[return_plan]\n"a\\nb" = 1', "return_plan: ", "`a b`"),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_fault_of_a_changed_file_is_named_on_one_line(tmp_path: Path, fault: str) -> None:
    text, key, words = FAULTS[fault]
    changed = tmp_path / "choices.toml"
    changed.write_text(text, encoding="utf-8")
    with pytest.raises(UnusableChoices) as caught:
        design_choices(str(changed))
    line = str(caught.value)
    assert line.startswith(f"{changed}: {key}")
    assert words in line
    assert "\n" not in line


def test_file_that_cannot_be_read_is_named(tmp_path: Path) -> None:
    with pytest.raises(UnusableChoices, match=r"no-such-file.toml: No such file"):
        design_choices(str(tmp_path / "no-such-file.toml"))
    with pytest.raises(UnusableChoices, match="Is a directory"):
        design_choices(str(tmp_path))
    image = tmp_path / "choices.toml"
    image.write_bytes(b"\x89PNG\xff")
    with pytest.raises(UnusableChoices, match=r"choices.toml: .*utf-8"):
        design_choices(str(image))


def test_every_number_is_bounded_on_both_sides() -> None:
    checked = list(_numbers(msgspec.inspect.type_info(DesignChoices), "choices"))
    assert len(checked) > 80
    open_ended = [
        where
        for where, number in checked
        if (number.ge is None and number.gt is None) or (number.le is None and number.lt is None)
    ]
    assert open_ended == []


def _numbers(
    kind: msgspec.inspect.Type, where: str
) -> list[tuple[str, msgspec.inspect.IntType | msgspec.inspect.FloatType]]:
    """Every number under a type, with the way to it."""
    match kind:
        case msgspec.inspect.StructType():
            return [one for field in kind.fields for one in _numbers(field.type, f"{where}.{field.name}")]
        case msgspec.inspect.TupleType():
            return [one for item in kind.item_types for one in _numbers(item, where)]
        case msgspec.inspect.VarTupleType():
            return _numbers(kind.item_type, where)
        case msgspec.inspect.IntType() | msgspec.inspect.FloatType():
            return [(where, kind)]
        case msgspec.inspect.StrType() | msgspec.inspect.LiteralType():
            return []
    raise TypeError(f"{where} is of a kind that has no bounds: {kind}")


def test_shipped_values_are_used_where_no_file_is_named() -> None:
    assert design_choices("") == design_choices(None)
    assert SHIPPED.name == "design_choices.toml"


WORDS_OF_THE_LIMIT: Final = """
from service.adjustment.text.pause import pause_rule
from service.adjustment.text.stop import because_of
from service.adjustment.triage import Pain, judged, referral
from service.knowledge.signs import SIGNS
assert [judged(Pain(0, at_rest=pain)).tier for pain in (3.5, 4)] == ["amber", "pause"]
print(SIGNS["nrs_high_at_rest"].text, *because_of(referral(["nrs_high_at_rest"])), sep="\\n")
print(pause_rule(judged(Pain(0, at_rest=4)), "knee").text)
"""


def test_another_limit_of_pain_at_rest_is_in_the_sign_and_in_the_pause(tmp_path: Path) -> None:
    path = tmp_path / "choices.toml"
    path.write_text("[adjustments]\nat_rest_up_to = 3.5\n", encoding="utf-8")
    command, environment = [sys.executable, "-c", WORDS_OF_THE_LIMIT], os.environ | {DESIGN_CHOICES: str(path)}
    said = subprocess.run(command, env=environment, capture_output=True, check=True, text=True)  # noqa: S603 - this Python
    assert said.stdout.lower().count("above 3.5") == 3
