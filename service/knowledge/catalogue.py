"""The catalogue behind the numbers: exercises, regions, sources, cautions and the usual bars."""

from __future__ import annotations

from math import radians
from typing import Final, Literal

import msgspec

from service.knowledge.loader import read_rows, read_tables
from service.knowledge.records import ExerciseId, Known, MuscleId, Record, RegionId, SourceId, StanceId
from service.vocabulary import Implement
from service.vocabulary import Region as RegionName

LiftFamily = Literal["squat", "split", "hinge", "press", "pull", "calf", "hip_machine", "core", "carry"]
Carry = Literal["trunk", "hands", "pelvis", "overhead", "supported", "machine", "body", "swung"]


class Exercise(Record, frozen=True):
    """An exercise of the catalogue.

    Attributes:
        id: stable id
        name: name for people
        family: lifts of one purpose
        regions: regions that the exercise loads, the arms that hold the load among them, the finer ones last
        carry: where the load acts: on the trunk, in hands that hang, swung and caught, and so on
        implements: what it is lifted with, the usual first
        aliases: what the trade calls it as well; a request names the id all the same
        stance: how the feet stand, empty where nothing stands on them
        bar: whether it is loaded with a bar and plates
        dumbbells: whether its load is the sum of two dumbbells
        one_arm: whether one arm alone moves the load
        isolation: whether it trains one joint or small muscles, so that no other lift says where its load starts
        assisted: whether a band or machine that takes weight off is usual, in lifts of one's own body
        unloaded: whether it is an exercise of its own with the body alone (common practice, no source)
        lean: trunk lean at the bottom assumed where none is stated [deg]
        lean_source: source of the lean
        lean_known: how far the lean is known
        body_share: part of body mass that a lift of one's own body moves, None where none is published [1]
        body_share_source: source of that part
        note: what to mind in using the figures
        proper_name: whether its name begins with a proper one, which keeps its capital within a sentence
    """

    id: str
    name: str
    family: LiftFamily
    regions: tuple[RegionId, ...]
    carry: Carry
    implements: tuple[Implement, ...]
    aliases: tuple[str, ...] = ()
    stance: StanceId = ""
    bar: bool = True
    dumbbells: bool = False
    one_arm: bool = False
    isolation: bool = False
    assisted: bool = False
    unloaded: bool = False
    lean: float | None = None
    lean_source: SourceId = ""
    lean_known: Known = "design_choice"
    body_share: float | None = None
    body_share_source: SourceId = ""
    note: str = ""
    proper_name: bool = False

    @property
    def in_a_sentence(self) -> str:
        """The name as it stands within a sentence."""
        return self.name if self.proper_name else self.name.lower()

    @property
    def lean_in_radians(self) -> float | None:
        """The assumed lean in [rad]."""
        return None if self.lean is None else radians(self.lean)


class Region(Record, frozen=True):
    """A region of the body that can be sore.

    Attributes:
        id: stable id
        name: name for people
        demand: what is computed as its demand, in words
        adjustable: whether an adjustment can take demand off it
        said_of_you: the lifter's own, in words, empty where "your" goes before the name
        finer: whether it is shown only where a question names it
        part_of: the region whose demand stands for it, None for none
        measure: whether a number of the whole holds for it, or only the direction
        muscle: a lift that trains it more is never said to ask less of the region
        spared_by: exercises that load the whole and not the part
        loaded_by: exercises that load it besides
        not_while_paused: exercises that are not said to load it and yet none to do while it is loaded no more
        source: where what loads it is from
        known: how far that is known
    """

    id: RegionName
    name: str
    demand: str
    adjustable: bool
    said_of_you: str = ""
    finer: bool = False
    part_of: RegionName | None = None
    measure: Literal["number", "direction"] = "number"
    muscle: MuscleId = ""
    spared_by: tuple[ExerciseId, ...] = ()
    loaded_by: tuple[ExerciseId, ...] = ()
    not_while_paused: tuple[ExerciseId, ...] = ()
    source: SourceId = ""
    known: Known = "practice"

    @property
    def whole(self) -> RegionName:
        """The region whose demand is computed for it: the one it is part of, or itself."""
        return self.part_of or self.id

    @property
    def yours(self) -> str:
        """The region as it is said to the lifter whose it is."""
        return self.said_of_you or f"your {self.name.lower()}"

    def loaded_in(self, exercise: Exercise) -> bool:
        """Whether an exercise as the file lists it loads this finer region."""
        with_whole = self.part_of in exercise.regions and exercise.id not in self.spared_by
        return with_whole or exercise.id in self.loaded_by


class Source(Record, frozen=True):
    """An entry of the bibliography.

    Attributes:
        id: stable id, which figures name
        known: how far it is known to us
        authors: authors in citation form
        year: year of publication [years]
        title: title, shortened where our record shortens it
        published_in: journal, book or publisher
        doi: digital object identifier
        note: what was taken from it and what was not seen
    """

    id: str
    known: Known
    authors: str = ""
    year: int | None = None
    title: str = ""
    published_in: str = ""
    doi: str = ""
    note: str = ""


class PublishedRatio(Record, frozen=True):
    """A row of exercise_ratios.csv: the maximum in one exercise against that in another, as published.

    Attributes:
        from_exercise: the exercise that is compared with
        from_as_published: first lift in the words of the source
        to_as_published: second lift in the words of the source
        form: whether the source gives a ratio, or a line fitted to loads
        source: where it is from
        known: how far it is known
        preferred: whether it is the one to use of several for this pair
        note: what to mind in using it
        to_exercise: the exercise that is compared; empty for a lift that the catalogue does not have
        ratio: second maximum over the first [1]
        sd: standard deviation of the ratio between people [1]
        slope: slope of the fitted line [1]
        intercept_kg: load of the fitted line at no load in the first lift [kg]
        see_kg: standard error of the estimate of the fitted line [kg]
    """

    from_exercise: ExerciseId
    from_as_published: str
    to_as_published: str
    form: Literal["ratio", "linear"]
    source: SourceId
    known: Known
    preferred: bool
    note: str
    to_exercise: ExerciseId = ""
    ratio: float | None = None
    sd: float | None = None
    slope: float | None = None
    intercept_kg: float | None = None
    see_kg: float | None = None


class Ratio(msgspec.Struct, frozen=True):
    """What a lifter manages in one exercise as a share of another, where that was published.

    Attributes:
        ratio: maximum in the one over that in the other [1]
        sd: standard deviation of the ratio between people, None where none is published [1]
        source: where it is from
        known: how far the less known of two joined ratios is known
        through: the exercise by which two published ratios were joined, if they were
        second_source: source of the second of them, where it is another one
    """

    ratio: float
    sd: float | None
    source: str
    known: Known
    through: str = ""
    second_source: str = ""

    @property
    def sources(self) -> tuple[str, ...]:
        """Every source that the ratio rests on."""
        return (self.source, self.second_source) if self.second_source else (self.source,)


class BarAndPlates(Record, frozen=True):
    """A table of bars.toml: bar and plates in one unit of mass; common practice, without a source.

    Attributes:
        bar: mass of the bar, in the unit of the table [any]
        plates: masses of the plates, in the unit of the table [any]
        pairs: number of pairs of each plate [count]
        known: how far it is known
    """

    bar: float
    plates: tuple[float, ...]
    pairs: int
    known: Known


class UsualBar(msgspec.Struct, frozen=True):
    """Bar and plates that are taken where a request names none.

    Attributes:
        bar: mass of the bar, in the unit of the row [any]
        kinds: each kind of plate, lightest first: its mass [thousandths] and number of pairs [count]
    """

    bar: float
    kinds: tuple[tuple[int, int], ...]


class StanceShare(Record, frozen=True):
    """The lead leg's share of body and load in a stance.

    Attributes:
        id: stable id
        name: name for people
        source: where the share is from
        known: how far it is known
        value: usual share, None where none is published [1]
        low: lowest share [1]
        high: highest share [1]
        interval: what the interval stands for
        note: what to mind in using it
    """

    id: str
    name: str
    source: SourceId
    known: Known
    value: float | None = None
    low: float | None = None
    high: float | None = None
    interval: str = ""
    note: str = ""


def _with_finer_regions(exercise: Exercise) -> Exercise:
    finer = (region.id for region in REGIONS.values() if region.finer and region.loaded_in(exercise))
    return msgspec.structs.replace(exercise, regions=(*exercise.regions, *finer))


SOURCES: Final = read_tables("sources.toml", Source)
REGIONS: Final = read_tables("regions.toml", Region)
EXERCISES: Final = {
    id_: _with_finer_regions(exercise) for id_, exercise in read_tables("exercises.toml", Exercise).items()
}
STANCES: Final = read_tables("stances.toml", StanceShare)
PUBLISHED_RATIOS: Final = read_rows("exercise_ratios.csv", PublishedRatio)
RATIOS: Final = {
    (row.from_exercise, row.to_exercise): Ratio(row.ratio, row.sd, row.source, row.known)
    for row in PUBLISHED_RATIOS
    if row.ratio and row.preferred
}
"""The ratio to use first for each pair of exercises that has one."""
BARS: Final = {
    unit: UsualBar(row.bar, tuple(sorted((round(plate * 1000), row.pairs) for plate in row.plates)))
    for unit, row in read_tables("bars.toml", BarAndPlates).items()
}
