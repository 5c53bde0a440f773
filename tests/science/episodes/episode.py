"""A whole course with the service as the only coach: adjustments, sessions, reviews, and the original at the end.

The software between lifter and service does nothing of its own: it takes the first option, sends what the lifter
reports, and does what comes back as `next`, unchanged.
"""

from __future__ import annotations

from math import floor
from statistics import mean
from typing import Final, Literal, Protocol

import msgspec

from tests.science.episodes.body import Body
from tests.science.episodes.consultations import Case
from tests.science.episodes.course import Report, Session, is_missed, rested, start, trained
from tests.science.episodes.measures import HORIZON
from tests.science.episodes.prescribed import Json, days_a_week
from tests.science.episodes.schedule import days_to_the_next, weekly_means
from tests.science.episodes.service import Visit, visit
from tests.science.episodes.strength import repetitions

Ending = Literal["original", "professional", "no_change", "no_option", "refused", "unfinished"]
WITH_A_PROFESSIONAL: Final = frozenset({"refer", "confirm_first", "pause_and_review"})
MOST_SESSIONS: Final = 12  # that a review takes
MOST_RESERVE: Final = 10.0  # that is reported: "ten or more"
USUAL_OVER: Final = 4  # sessions over which the software takes the usual pain, to the half point
LOOKS: Final = 1  # times that a professional lets the course go on; the next time it ends with them
AWAY: Final = 7  # days until a professional has looked


class Responder(Protocol):
    """Whoever answers to sessions."""

    def session(self, day: int, prescription: Json) -> Report | None:
        """What is reported of a session on a day, None if it does not take place."""


class Simulated:
    """A simulated lifter, day by day."""

    def __init__(self, body: Body) -> None:
        """Start on the first day."""
        self.body = body
        self.state = start(body)
        self.sessions: list[Session] = []

    def session(self, day: int, prescription: Json) -> Report | None:
        """What is reported of a session on a day, None if it does not take place."""
        self.state = rested(self.body, self.state, day - self.state.day)
        if is_missed(self.body, day):
            return None
        self.state, session = trained(self.body, self.state, prescription)
        self.sessions.append(session)
        return session.report


class Done(msgspec.Struct, frozen=True):
    """A session as the software keeps it."""

    day: int
    prescription: Json
    report: Report


class Episode(msgspec.Struct, frozen=True):
    """A course and how it ended.

    Attributes:
        case: the consultation
        visits: every question with its answer, in order
        done: the sessions, in order
        ending: how it ended
        day: on which it did [days]
        looks: days on which a professional looked at it
    """

    case: Case
    visits: tuple[Visit, ...]
    done: tuple[Done, ...]
    ending: Ending
    day: int
    looks: tuple[int, ...] = ()

    @property
    def refusals(self) -> list[str]:
        return [line for one in self.visits for line in one.refusal]

    @property
    def reviews(self) -> list[tuple[Json, Json]]:
        """Requests and answers of the reviews, in order."""
        return [(one.request, one.answer) for one in self.visits if one.operation == "session-review" and one.answer]


def episode(case: Case, lifter: Responder, horizon: int = HORIZON) -> Episode:
    """The course of a consultation with whoever answers to its sessions; at most so many days."""
    first = visit(0, "adjustments", case.request)
    if first.answer is None:
        return Episode(case, (first,), (), "refused", 0)
    if first.answer["decision"] in WITH_A_PROFESSIONAL:
        return Episode(case, (first,), (), "professional", 0)
    if first.answer["decision"] == "no_change_needed":
        return Episode(case, (first,), (), "no_change", 0)
    if not first.answer["options"]:
        return Episode(case, (first,), (), "no_option", 0)
    return _Course(case, lifter, horizon, first).run()


class _Course:
    """The software's own notes while a course goes on."""

    def __init__(self, case: Case, lifter: Responder, horizon: int, first: Visit) -> None:
        self.case = case
        self.lifter = lifter
        self.horizon = horizon
        self.visits = [first]
        self.done: list[Done] = []
        self.looks: list[int] = []
        assert first.answer
        self.earlier: list[Json] = []  # prescriptions to go back to, the last one first to come
        self.present: Json = first.answer["options"][0]["prescription"]
        self.began = 0
        self.pain_at_start = float(case.request["complaint"]["pain_in_session"])

    def run(self) -> Episode:
        day, week, gaps = 0, 0, days_to_the_next(days_a_week(self.present))
        while day < self.horizon:
            report = self.lifter.session(day, self.present)
            if report is not None:
                self.done.append(Done(day, self.present, report))
                ending = self._reviewed(day)
                if ending is not None:
                    return self._ended(ending, day)
                if self.looks and self.looks[-1] == day:
                    day += AWAY
                if week != days_a_week(self.present):
                    week = days_a_week(self.present)
                    gaps = days_to_the_next(week)
            day += next(gaps)
        return self._ended("unfinished", self.horizon)

    def _ended(self, ending: Ending, day: int) -> Episode:
        return Episode(self.case, tuple(self.visits), tuple(self.done), ending, day, tuple(self.looks))

    def _reviewed(self, day: int) -> Ending | None:
        """What the review of the last session makes of the course; None where it goes on."""
        asked = visit(day, "session-review", self._request(day))
        self.visits.append(asked)
        answer = asked.answer
        if answer is None:
            return "refused"
        if answer["decision"] in WITH_A_PROFESSIONAL or answer["next"] is None:
            return "professional"
        if answer["decision"] == "back_to_original":
            return "original"
        if answer["professional_review"] is not None:
            if len(self.looks) == LOOKS:
                return "professional"
            self.looks.append(day)
            self.began = day + 1
            self.pain_at_start = self.done[-1].report.pain_in_session
        self._take(answer)
        return None

    def _take(self, answer: Json) -> None:
        if answer["decision"] == "progress":
            self.earlier.append(self.present)
        elif answer["decision"] == "step_back" and self.earlier:
            self.earlier.pop()
        self.present = answer["next"]

    def _request(self, day: int) -> Json:
        asked = self.case.request
        since = [one for one in self.done if one.day >= self.began]
        request: Json = {
            "prescription": self.present,
            "region": asked["complaint"]["region"],
            "sessions": [_session(one, self.present) for one in since[-MOST_SESSIONS:]],
            "usual_pain": round(2 * mean(one.report.usual_pain for one in since[-USUAL_OVER:])) / 2,
            "weekly_pain": weekly_means([(one.day, one.report.pain_in_session) for one in since]),
            "weeks_since_start": round((day - self.began) / 7, 2),
            "pain_at_start": self.pain_at_start,
            "original": asked["prescription"],
            "lifter": asked["lifter"],
            "aim": asked["aim"],
            **equipment_of(asked),
        }
        return {**request, "previous": self.earlier[-1]} if self.earlier else request


def equipment_of(asked: Json) -> Json:
    constraints = asked.get("constraints", {})
    return {name: constraints[name] for name in ("bar", "increment") if name in constraints}


def _session(done: Done, present: Json) -> Json:
    """A session as a review takes it: what was not reported is left out."""
    report = done.report
    stated = {
        "pain_next_morning": report.pain_next_morning,
        "reps_done": _reps_done(done),
        "reps_in_reserve": None if report.reps_in_reserve is None else min(MOST_RESERVE, report.reps_in_reserve),
    }
    session: Json = {"pain_in_session": report.pain_in_session}
    session |= {name: value for name, value in stated.items() if value is not None}
    return session if done.prescription == present else {**session, "earlier_prescription": True}


def _reps_done(done: Done) -> list[int] | None:
    """Repetitions of each set; of static ones those that were held to the end."""
    reps, prescription = done.report.reps_done, done.prescription
    if reps is None or prescription.get("hold") is None:
        return None if reps is None else list(reps)
    full, held = floor(repetitions(prescription)), int(prescription["reps"]["high"])
    return [held if one >= full else 0 for one in reps]


def followed_up(lifter: Simulated, course: Episode) -> list[Session]:
    """The sessions until the horizon: after the course the original, or none of the lift if it was not reached."""
    if course.ending in ("original", "no_change"):
        gaps = days_to_the_next(days_a_week(course.case.body.original))
        day = lifter.state.day + next(gaps) if lifter.sessions else 0
        while day < HORIZON:
            lifter.session(day, course.case.body.original)
            day += next(gaps)
    return lifter.sessions
