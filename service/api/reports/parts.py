"""What the reports of several operations are made of: stops, signs, demand, basis and cautions of an answer."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final, Protocol

from msgspec import UNSET, UnsetType

from service.adjustment.text.decision import STOPS_TODAY
from service.adjustment.text.stop import sign_words
from service.adjustment.text.watch import what_to_watch_without_load, when_to_stop
from service.api.models.base import stated
from service.api.models.by_region import DemandByRegion
from service.api.models.clearance import Circumstances, ConfirmationAnswer
from service.api.models.common import GENERAL_CAUTIONS, Basis, Estimate
from service.api.models.pause import MeanwhileGroup, PauseAnswer
from service.api.models.referral import ReferralAnswer
from service.api.models.report import Report, SignsOf
from service.charts.elements.text_layout import is_told
from service.knowledge.signs import SIGNS, URGENCIES
from service.messages import Message, message, spoken
from service.messages.citations import citation, cited
from service.vocabulary import Region

FOR_EVERYBODY: Final = frozenset(
    {"half_load_no_pain", "spotter_or_safeties", "language_not_reviewed", *GENERAL_CAUTIONS}
)
"""Cautions that a lifter has to know whatever is chosen."""


def words(code: str, **values: Any) -> str:
    """A sentence of the catalogue."""
    return message(code, **values).text


def headline(decision: str) -> str:
    """What follows from a decision, or from the urgency of a referral."""
    return words(f"headline_{decision}")


def texts(messages: Iterable[Message]) -> list[str]:
    """The sentences of messages."""
    return [one.text for one in messages]


class Stoppable(Protocol):
    """An answer that signs or circumstances may stop."""

    @property
    def referral(self) -> ReferralAnswer | None:
        """How urgently to refer, and because of which signs."""

    @property
    def confirmation(self) -> ConfirmationAnswer | None:
        """What a professional has to confirm first."""

    @property
    def basis(self) -> Basis:
        """How it was computed."""

    @property
    def cautions(self) -> Sequence[Message]:
        """What to mind."""


class Pausable(Protocol):
    """An answer that pain may stop."""

    @property
    def pause(self) -> PauseAnswer | None:
        """Why nothing that loads the region is prescribed."""

    @property
    def meanwhile(self) -> Sequence[MeanwhileGroup]:
        """What can be trained without it."""

    @property
    def why(self) -> Sequence[Message]:
        """The decision in words."""


def stopped(
    title: str,
    region: Region,
    answer: Stoppable,
    circumstances: Circumstances | UnsetType,
    *,
    pausable: Pausable | None = None,
    ask_first: Sequence[str] = (),
) -> Report | None:
    """The report of an answer that stops the training; None for one that does not.

    Args:
        title: what the report is about
        region: what hurts
        answer: what signs or circumstances may stop
        circumstances: of the lifter, as stated
        pausable: the same answer, where pain may stop it too
        ask_first: ids of signs to ask about before anything else
    """
    referral, confirmation = answer.referral, answer.confirmation
    pause, meanwhile, why = (None, (), ()) if pausable is None else (pausable.pause, pausable.meanwhile, pausable.why)
    # what pain stops by itself comes before what signs or circumstances ask for besides
    today = [one for one in why if one.code in STOPS_TODAY] if pause is None else [pause.what_to_do]
    if referral is not None:
        decision = ("stop_today" if pause is None else "pause_and_review") if today else referral.urgency
        do, stop = [*today, referral.what_to_do], [referral.stop_rule]
        because = [one.message for one in referral.signs]
    elif confirmation is not None:
        decision, do, stop = "confirm_first", [*today, *confirmation.what_to_do], [confirmation.stop_rule]
        because = [one.message for one in confirmation.circumstances]
    elif pause is not None:
        professional = pause.professional
        first = [professional.what_to_do] if professional.required_first else []
        decision, do = "pause_and_review", [*today, pause.look_again.message, *professional.when]
        stop, because = [*first, message("stop_at_sign")], []
    else:
        return None
    because += [] if pause is None else [pause.message]
    said = {*texts(do), *texts(stop), *texts(because)}
    return Report(
        title=title,
        decision=headline(decision),
        stop=True,
        halted=True,
        ask_first=signs_to_ask(ask_first),
        what_to_do=texts(do),
        when_to_stop=texts(stop),
        why=[*texts(because), *(one for one in texts(why) if one not in said)],
        watch=[] if referral is not None else texts(what_to_watch_without_load()),
        signs=[] if referral is not None else signs_of(region, circumstances),
        meanwhile=meanwhile_lines(meanwhile),
        basis=basis_lines(answer.basis),
        sources=source_names(answer.basis.sources),
        cautions=texts(answer.cautions),
        lifters_cautions=lifters_cautions(answer.cautions),
    )


def stop_lines(region: Region) -> list[str]:
    """At what to stop where the region is trained."""
    return texts(when_to_stop(region))


def signs_of(region: Region, circumstances: Circumstances | UnsetType = UNSET) -> list[SignsOf]:
    """The warning signs of a region for a lifter of a stated age, the most urgent first."""
    age = None if isinstance(circumstances, UnsetType) else stated(circumstances.age)
    asked = [one for one in SIGNS.values() if one.concerns(region) and (age is None or one.speaks_of(age))]
    groups = (
        SignsOf(words(f"urgency_{urgency.id}"), texts(sign_words(one) for one in asked if one.urgency == urgency.id))
        for urgency in sorted(URGENCIES.values(), key=lambda one: one.rank)
    )
    return [group for group in groups if group.signs]


def signs_to_ask(ids: Sequence[str]) -> list[str]:
    """Signs by their ids, in plain words."""
    return texts(sign_words(SIGNS[one]) for one in ids)


def meanwhile_lines(groups: Sequence[MeanwhileGroup]) -> list[str]:
    """What can be trained, a line for each muscle."""
    return texts(message("train_meanwhile", muscle=one.muscle, exercises=one.exercises) for one in groups)


def basis_lines(basis: Basis) -> list[str]:
    """How it was computed, what the spans mean, and what was assumed."""
    interval = [] if isinstance(basis.interval, UnsetType) else [words("table_spans", meaning=basis.interval)]
    return [sentence(one) for one in (basis.method.text, *interval, *texts(basis.assumptions))]


def source_names(ids: Iterable[str]) -> list[str]:
    """Sources by authors and year, each once."""
    return list(dict.fromkeys(citation(one) for one in ids))


def lifters_cautions(cautions: Sequence[Message], of_option: Iterable[str] = ()) -> list[str]:
    """What the lifter has to know of the cautions; of_option: codes of those of what is to be done."""
    known = FOR_EVERYBODY | set(of_option)
    # what cites a study is said of the model
    return [one.text for one in cautions if one.code in known and cited(one.text) == one.text]


def of_one_option(cautions: Sequence[Message], options: Sequence[Sequence[str]]) -> Mapping[str, str]:
    """The words of those cautions that only one option names, by their codes; options: the codes of each."""
    named = Counter(code for codes in options for code in codes)
    return {one.code: one.text for one in cautions if named[one.code] == 1 and len(options) > 1}


def percent(value: float | None) -> str:
    """A ratio in percent; a dash where it is not known."""
    return "–" if value is None else f"{100 * value:.0f} %"


def span(estimate: Estimate | Any | None) -> str:
    """A ratio in percent with its span; a dash where it is not known, or its span tells nothing."""
    if estimate is None:
        return "–"
    if estimate.low is None or estimate.high is None:
        return percent(estimate.value)
    if not is_told(estimate):
        return words("table_hardly_known")
    value, low, high = (percent(one) for one in (estimate.value, estimate.low, estimate.high))
    within = {"share": estimate.value, "low": estimate.low, "high": estimate.high}
    return value if value == low == high else words("table_share_within", **within)


def demand_cells(demand: DemandByRegion, regions: Iterable[str]) -> list[str]:
    """The demand of regions against now."""
    return [span(demand.get(region)) for region in regions]


def region_name(region: str) -> str:
    """A region as a heading."""
    return spoken().name("region", region)


def sentence(text: str) -> str:
    """A text that begins and ends as a sentence does."""
    return f"{text[:1].upper()}{text[1:].rstrip('.')}."
