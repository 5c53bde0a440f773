"""Titles on the sheet of options."""

from __future__ import annotations

from service.adjustment.options.result import Outcome
from service.messages import Message, message
from service.vocabulary import Region


def sheet_title(exercise: str, region: Region, options: int) -> Message:
    """What a sheet of options is about.

    Args:
        exercise: the present lift
        region: the sore one
        options: options on the sheet [count]
    """
    if not options:
        return message("sheet_without_options", exercise=exercise, region=region)
    return message("sheet_of_options", exercise=exercise, region=region, options=options)


def heading(rank: int, outcome: Outcome) -> Message:
    """The levers of an option in one line.

    Args:
        rank: place in the order in which to try the options [1]
        outcome: the option
    """
    levers, program = list(outcome.candidate.levers), outcome.candidate.trial.program
    if program is None:
        return message("option_heading", rank=rank, levers=levers)
    return message("program_heading", rank=rank, levers=levers, program=program)
