"""session-review: progress, hold, step back, pause, back to the original or refer, from pain, mornings and work done."""

from __future__ import annotations

from typing import Final

from service.api.models.operation import Operation
from service.api.operations.session_review.examples import EXAMPLES
from service.api.operations.session_review.handler import session_review
from service.api.operations.session_review.models import (
    SessionReview,
    SessionReviewAnswer,
)
from service.api.operations.session_review.report import session_review_report

ALONE: Final = 5
OF_A_LIFT: Final = 1  # each lift of a week
WITH_ORIGINAL: Final = 125  # the search of a way back, as in return-plan
IN_A_WEEK: Final = 400  # of both


def _cost(review: SessionReview) -> int:
    if review.original is None:
        return ALONE + len(review.week) * OF_A_LIFT
    return IN_A_WEEK if review.week else WITH_ORIGINAL


OPERATION: Final = Operation(
    name="session-review",
    tag="The main job",
    summary="Progress, hold, step back, pause or refer after a session",
    description="From pain in the session, the next morning and over the weeks, and from what was done and left: the decision, the rule that fired with its sources, and "
    "`next`, the whole prescription for next time, to be sent back as it is. What protects the region (depth, tempo, technique, cues, assistance) stays unless `changed` "
    "names it. With `original` and `lifter` a step on is the next one of the way back, until the decision is `back_to_original`; without, repetitions rise within "
    "the range and then the load by the smallest step that can be loaded. Loads in kg or lb, rounded down to what can be loaded. Red flags outrank everything and end in "
    "`refer`, which is an answer and not an error; what a professional has to confirm first ends in `confirm_first`. Pain above 7, above 5 at rest, or above 5 in two sessions running ends in "
    "`pause_and_review`, as in adjustments. A change of one point is noise; what is missing "
    "holds and never progresses. With `week`, the lifts of the week, a step on also keeps what all of them together ask of the sore region within a tenth more than now, by "
    "the plain sum of the moments and by that of their tenth powers: else it is smaller or waits, and `why` says which lift carries most. For a tendon amber pain that does not rise is no reason to wait.",
    request=SessionReview,
    answer=SessionReviewAnswer,
    compute=session_review,
    report=session_review_report,
    cost=IN_A_WEEK,
    cost_of=_cost,
    examples=EXAMPLES,
)
