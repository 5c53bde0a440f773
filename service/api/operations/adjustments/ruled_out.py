"""What gave no option, by lever and reason with a count, and in full each trial in words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from msgspec import UNSET

from service.adjustment.consultation import RuledOut
from service.adjustment.text.ruled_out import reason_message, tried_message
from service.api.operations.adjustments.models import RuledOutAnswer, TrialAnswer
from service.units import MassUnit
from service.vocabulary import LEVERS

_OUTDONE: Final = frozenset({"beaten", "unloading_not_needed"})
"""Reasons that leave a trial possible, where something better is shown."""


def ruled_out(trials: Iterable[RuledOut], unit: MassUnit, *, full: bool) -> list[RuledOutAnswer]:
    """The trials by the lever that was changed first, in the order of the levers, and their reason.

    full: with each of them, and with those that something better outdoes.
    """
    groups: dict[tuple[str, str], list[RuledOut]] = {}
    for trial in trials:
        if trial.reason in _OUTDONE and not full:
            continue
        groups.setdefault((trial.levers[0], trial.reason), []).append(trial)
    return [
        RuledOutAnswer(
            lever=alike[0].levers[0],
            code=alike[0].reason,
            count=len(alike),
            trials=[_trial(one, unit) for one in alike] if full else UNSET,
        )
        for _, alike in sorted(groups.items(), key=lambda group: LEVERS.index(group[1][0].levers[0]))
    ]


def _trial(trial: RuledOut, unit: MassUnit) -> TrialAnswer:
    return TrialAnswer(levers=list(trial.levers), reason=reason_message(trial, unit), tried=tried_message(trial, unit))
