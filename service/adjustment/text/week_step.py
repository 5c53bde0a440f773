"""What a step of one lift adds to its week, in messages."""

from __future__ import annotations

from service.adjustment.session_review.whole_week import StepInWeek
from service.adjustment.week.rise import Leading, WeekRatio
from service.messages import Message, message
from service.vocabulary import Region


def week_of_step(region: Region, step: float, ratio: WeekRatio) -> list[Message]:
    """What the week asks with a step, and the lift that carries most of it.

    Args:
        region: region that is sore
        step: most that the week may rise [1]
        ratio: of the week with the step to the one before it
    """
    sums = message("week_with_step", region=region, linear=ratio.linear, tenth=ratio.tenth_power, most=1.0 + step)
    above = [message("week_step_over", most=1.0 + step)] if ratio.is_above(step) else []
    return [sums, *above, _leading(ratio.leading)]


def week_of_review(region: Region, of_week: StepInWeek) -> list[Message]:
    """What a review's step adds to the week, and where the week has made it smaller or holds it.

    Args:
        region: region that is sore
        of_week: what the step adds
    """
    said = [] if of_week.ratio is None else week_of_step(region, of_week.step, of_week.ratio)
    more = of_week.too_much
    if more is None:
        return said
    code = "week_step_held" if of_week.ratio is None else "week_step_smaller"
    limit = message(code, ratio=more.largest, region=region, weighting=more.leading.weighting, most=1.0 + of_week.step)
    return [limit, *(said or [_leading(more.leading)])]


def _leading(leading: Leading) -> Message:
    return message("week_leading", exercise=leading.exercise, share=leading.share, weighting=leading.weighting)
