"""Roots and the functions of angles, the same on every machine: whole-number arithmetic only."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from math import isqrt

SCALE = 10**40  # working grid, far finer than any result needs


def root(value: Fraction, step: Fraction) -> tuple[Fraction, bool]:
    """Give the square root and whether it is exact; an inexact one is rounded to ``step``.

    ``value`` must not be negative.
    """
    over, under = isqrt(value.numerator), isqrt(value.denominator)
    if over * over == value.numerator and under * under == value.denominator:
        return Fraction(over, under), True
    halves = 2 * step.denominator // step.numerator
    # The root in half steps, cut down; the nearest step is then half of it, rounded up.
    half_steps = isqrt(value.numerator * halves * halves // value.denominator)
    return Fraction((half_steps + 1) // 2) * step, False


def sine(degrees: Fraction) -> tuple[Fraction, bool]:
    """Give the sine of an angle in degrees, and whether it is exact."""
    turned = degrees % 360
    sign = 1
    if turned >= 180:
        turned, sign = turned - 180, -1
    if turned > 90:
        turned = 180 - turned
    exact = {0: Fraction(0), 30: Fraction(1, 2), 90: Fraction(1)}.get(
        turned.numerator if turned.denominator == 1 else -1
    )
    if exact is not None:
        return sign * exact, True
    return sign * Fraction(_sine_series(_radians(turned)), SCALE), False


def cosine(degrees: Fraction) -> tuple[Fraction, bool]:
    """Give the cosine of an angle in degrees, and whether it is exact."""
    return sine(degrees + 90)


def tangent(degrees: Fraction) -> tuple[Fraction, bool] | None:
    """Give the tangent of an angle in degrees, and whether it is exact; None where it has none."""
    if degrees % 90 == 45:
        return Fraction(1 if degrees % 180 == 45 else -1), True
    over, over_exact = sine(degrees)
    under, under_exact = cosine(degrees)
    if not under:
        return None
    return over / under, over_exact and under_exact


def _radians(degrees: Fraction) -> int:
    return degrees.numerator * _pi() // (180 * degrees.denominator)


def _sine_series(angle: int) -> int:
    """Sum the Taylor series of the sine; angle and result in units of 1/SCALE."""
    square = angle * angle // SCALE
    term, total, index = angle, angle, 1
    while term:
        term = -(term * square // SCALE) // ((index + 1) * (index + 2))
        if term == -1:  # floor division never reaches zero from below
            break
        total += term
        index += 2
    return total


@cache
def _pi() -> int:
    """Pi in units of 1/SCALE by Machin's formula of 1706: pi/4 = 4 atan(1/5) - atan(1/239)."""
    guard = 10**6
    return 4 * (4 * _inverse_tangent(5, guard) - _inverse_tangent(239, guard)) // guard


def _inverse_tangent(inverse: int, guard: int) -> int:
    power = SCALE * guard // inverse
    total, index, sign = 0, 1, 1
    while power:
        total += sign * (power // index)
        power //= inverse * inverse
        index += 2
        sign = -sign
    return total
