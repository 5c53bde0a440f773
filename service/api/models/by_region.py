"""What is stated of regions of the body: one field for each of them, left out where nothing is."""

from __future__ import annotations

from typing import Final, TypeVar

from msgspec import UNSET, UnsetType

from service.api.models.common import Estimate
from service.api.models.sparse import Sparse
from service.vocabulary import Direction

T = TypeVar("T")


class ByRegion(Sparse[T], kw_only=True, frozen=True):
    """Something of each region that it is known of.

    Attributes:
        low_back: Of the lower back, by the moment at the lumbosacral joint. Left out where nothing is stated of it.
        hip: Of the hip. Left out where nothing is stated of it.
        knee: Of the knee. Left out where nothing is stated of it.
        ankle: Of the ankle. Left out where nothing is stated of it.
        shoulder: Of the shoulder. Left out where nothing is stated of it.
        elbow: Of the elbow. Left out where nothing is stated of it.
        wrist: Of the wrist. Left out where nothing is stated of it.
        groin: Of the groin, a part of the hip. Left out where nothing is stated of it.
        hamstring: Of the hamstrings, the back of the thigh. Left out where nothing is stated of it.
        front_of_knee: Of the front of the knee: kneecap and patellar tendon. Left out where nothing is stated of it.
        calf_achilles: Of the calf and the Achilles tendon. Left out where nothing is stated of it.
        upper_back: Of the upper back. Left out where nothing is stated of it.
        neck: Of the neck. Left out where nothing is stated of it.
    """

    low_back: T | UnsetType = UNSET
    hip: T | UnsetType = UNSET
    knee: T | UnsetType = UNSET
    ankle: T | UnsetType = UNSET
    shoulder: T | UnsetType = UNSET
    elbow: T | UnsetType = UNSET
    wrist: T | UnsetType = UNSET
    groin: T | UnsetType = UNSET
    hamstring: T | UnsetType = UNSET
    front_of_knee: T | UnsetType = UNSET
    calf_achilles: T | UnsetType = UNSET
    upper_back: T | UnsetType = UNSET
    neck: T | UnsetType = UNSET


class DemandByRegion(ByRegion[Estimate], kw_only=True, frozen=True):
    """What is asked of each region against the present or the original prescription: 0.8 is a fifth less. A region without a number is left out."""


class DirectionByRegion(ByRegion[Direction], kw_only=True, frozen=True):
    """Which way the demand of each region moves."""


NO_DIRECTION: Final = DirectionByRegion()
