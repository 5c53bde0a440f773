"""session-review: progress, hold, step back or refer, from pain in session, next morning and over weeks."""

from __future__ import annotations

from typing import Final

from service.api.models.operation import Operation
from service.api.operations.session_review.examples import EXAMPLES
from service.api.operations.session_review.handler import session_review
from service.api.operations.session_review.models import (
    SessionReview,
    SessionReviewAnswer,
)

OPERATION: Final = Operation(
    name="session-review",
    tag="The main job",
    summary="Progress, hold, step back or refer after a session",
    description="From pain in the session, the next morning and over the weeks, and the repetitions done: the decision, the rule that fired with its sources, and the "
    "prescription for next time with one thing changed, its load rounded down to what can be loaded, in the unit of the request (kg or lb). Red flags outrank "
    "everything and end in `refer`, which is an answer and not an error; what a professional has to confirm first ends in `confirm_first`. A change of one point is noise; what is missing holds and never progresses.",
    request=SessionReview,
    answer=SessionReviewAnswer,
    compute=session_review,
    cost=2,
    examples=EXAMPLES,
)
