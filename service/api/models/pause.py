"""A region that is loaded no more for now, as answers say it: why, until when, who looks at it, and what can be trained."""

from __future__ import annotations

from service.adjustment.text.pause import URGENCY, look_again_days, pause_rule, professional_first, when_a_professional
from service.adjustment.triage import Judgement
from service.api.models.base import ResponseModel
from service.api.models.common import Basis
from service.knowledge.records import Known
from service.messages import Message, message
from service.vocabulary import PauseRule, Region


class MeanwhileGroup(ResponseModel, kw_only=True, frozen=True):
    """Exercises that train one muscle most and are not known to load the region.

    Attributes:
        muscle: Id of the muscle group, see GET /v1/muscles.
        exercises: Ids of the exercises, see GET /v1/exercises.
    """

    muscle: str
    exercises: list[str]


class LookAgain(ResponseModel, kw_only=True, frozen=True):
    """When the pain is asked about again.

    Attributes:
        days: After how many days.
        known: How far that number is known.
        message: The same in a sentence.
    """

    days: int
    known: Known
    message: Message


class ProfessionalLook(ResponseModel, kw_only=True, frozen=True):
    """When a doctor or physical therapist has to look at it.

    Attributes:
        required_first: Whether that comes before anything loads the region again, however the pain goes.
        urgency: Id of the urgency, such as `urgent_refer`, for how soon.
        what_to_do: Whom to see, and how soon.
        when: Under which circumstances.
    """

    required_first: bool
    urgency: str
    what_to_do: Message
    when: list[Message]


class PauseAnswer(ResponseModel, kw_only=True, frozen=True):
    """Nothing is prescribed that loads the region for now.

    Attributes:
        region: The region that is paused.
        rule: The rule that fired.
        message: The rule in a sentence, with its score and limit.
        what_to_do: What to leave and what may go on.
        look_again: When to look at it again.
        professional: When a professional has to look at it.
    """

    region: Region
    rule: PauseRule
    message: Message
    what_to_do: Message
    look_again: LookAgain
    professional: ProfessionalLook


def paused(judgement: Judgement, region: Region) -> PauseAnswer | None:
    """The pause that pain asks for, None where it asks for none."""
    rule = judgement.pause_rule
    if rule is None:
        return None
    return PauseAnswer(
        region=region,
        rule=rule,
        message=pause_rule(judgement, region),
        what_to_do=message("pause_stop", region=region),
        look_again=LookAgain(
            days=look_again_days(judgement),
            known="design_choice",
            message=message("pause_look_again", days=look_again_days(judgement)),
        ),
        professional=ProfessionalLook(
            required_first=professional_first(judgement),
            urgency=URGENCY,
            what_to_do=message(f"urgency_{URGENCY}"),
            when=when_a_professional(judgement),
        ),
    )


def meanwhile_answer(by_muscle: dict[str, tuple[str, ...]]) -> list[MeanwhileGroup]:
    """What can be trained, muscle by muscle."""
    return [MeanwhileGroup(muscle=muscle, exercises=list(ids)) for muscle, ids in by_muscle.items()]


def basis_of_pause() -> Basis:
    """The basis of a pause."""
    return Basis(
        method=message("method_pause"),
        sources=["thomee_1997", "silbernagel_2007", "downie_2013", "design_choice"],
        assumptions=[message("assumed_no_sign"), message("assumed_meanwhile")],
        evidence="practice",
    )
