"""What is to be said of a posture that was seen: how it was taken, and what does not fit."""

from __future__ import annotations

from service.knowledge.posture_rules import POSTURES
from service.mechanics.posture import Posture
from service.mechanics.setups import Setup
from service.mechanics.technique import Technique
from service.messages import Message, message
from service.units import angle

_MISFIT = POSTURES.defaults.misfit.value


def assumption_of_seen(setup: Setup, technique: Technique) -> tuple[Message, ...]:
    """How the posture was taken from what was seen of this lift; nothing where nothing was.

    Args:
        setup: as resolved
        technique: by which it was resolved
    """
    departure = technique.departure
    if departure is None or departure.exercise != setup.exercise:
        return ()
    if setup.family in ("pull", "split"):
        shin, thigh, lean = (angle(one, "deg") for one in (setup.shin_angle, setup.thigh_angle, setup.trunk_lean))
        return (message("assumed_closed_as_seen", shin=shin, thigh=thigh, lean=lean, misfit=departure.misfit),)
    return (
        message(
            "assumed_as_seen",
            shin=angle(departure.shin_angle, "deg"),
            depth=angle(departure.depth, "deg"),
            balance=round(departure.balance, 3),
            misfit=departure.misfit,
        ),
    )


def cautions_of_seen(setup: Setup, technique: Technique, posture: Posture) -> tuple[Message, ...]:
    """An angle that balance, the usual posture and what else was seen overrule; nothing where none is.

    Args:
        setup: as resolved
        technique: by which it was resolved
        posture: at the bottom
    """
    departure, seen = technique.departure, technique.seen
    if departure is None or seen is None or departure.exercise != setup.exercise or departure.misfit < _MISFIT:
        return ()
    name = departure.misfit_of
    return (
        message(
            "seen_unlike_balance",
            quantity=name,
            seen=angle(getattr(seen, name), "deg"),
            solved=angle(getattr(posture, name), "deg"),
            deviations=departure.misfit,
        ),
    )
