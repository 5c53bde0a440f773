"""Vectors in three dimensions."""

from __future__ import annotations

from math import sqrt

from msgspec import Struct


class Vector(Struct, frozen=True, gc=False):
    """A position [m], force [N], moment [N·m] or direction [1] by its parts along three right-handed axes.

    Attributes:
        x: along the first axis [any]
        y: along the second [any]
        z: along the third [any]
    """

    x: float
    y: float
    z: float


def plus(one: Vector, other: Vector) -> Vector:
    """The sum."""
    return Vector(one.x + other.x, one.y + other.y, one.z + other.z)


def minus(one: Vector, other: Vector) -> Vector:
    """One less the other."""
    return Vector(one.x - other.x, one.y - other.y, one.z - other.z)


def times(factor: float, vector: Vector) -> Vector:
    """A vector scaled.

    Args:
        factor: by which it becomes longer [1]
        vector: to be scaled
    """
    return Vector(factor * vector.x, factor * vector.y, factor * vector.z)


def dot(one: Vector, other: Vector) -> float:
    """The scalar product, in the product of both units [any]."""
    return one.x * other.x + one.y * other.y + one.z * other.z


def cross(one: Vector, other: Vector) -> Vector:
    """The vector product."""
    return Vector(
        one.y * other.z - one.z * other.y,
        one.z * other.x - one.x * other.z,
        one.x * other.y - one.y * other.x,
    )


def length(vector: Vector) -> float:
    """The length, in the unit of the vector [any]."""
    x, y, z = vector.x, vector.y, vector.z
    return sqrt(x * x + y * y + z * z)


def unit(vector: Vector) -> Vector:
    """The direction of a vector that has one."""
    return times(1.0 / length(vector), vector)
