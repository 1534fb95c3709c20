"""Numbers that sound alike: fourteen and forty, one hundred and seven and one hundred and seventy."""

from __future__ import annotations

from math import isclose

from capture.speech.numerals import Numeral, numerals, sound


def confusable(key: str, other: str) -> bool:
    """Whether two numbers are easily taken for each other: `14` and `40`, `153` and `154`, `-4` and `4`."""
    found = numerals(other.split())
    if len(found) != 1:
        return False
    try:
        values = [float(sound(number)) for number in (key, found[0].key)]
    except ValueError:
        return False
    if values[0] == values[1]:
        return False
    one, two = sorted(map(abs, values))
    if isclose(one, two) or isclose(two - one, 1) or (one > 0 and isclose(two, one * 10)):
        return True
    if one // 100 != two // 100:
        return False
    less, more = sorted((int(one) % 100, int(two) % 100))
    teen_or_ty = 13 <= less <= 19 and more == (less - 10) * 10
    one_or_ty = 2 <= less <= 9 and more == less * 10
    return teen_or_ty or one_or_ty or _tenths_are_ones(one, two) or _tenths_are_ones(two, one)


def twinned(number: Numeral) -> bool:
    """Whether another number sounds much like this one: `14`, `40`, `107`, `170`."""
    value = number.value
    if value is None:
        return False
    below_hundred = int(abs(value)) % 100
    teen, ty = 13 <= below_hundred <= 19, below_hundred >= 30 and below_hundred % 10 == 0
    return teen or ty or (abs(value) > 100 and 3 <= below_hundred <= 9)


def _tenths_are_ones(one: float, two: float) -> bool:
    """`150.4` and 154."""
    tenths = round(one % 1 * 10)
    return tenths > 0 and int(one) % 10 == 0 and two == int(one) + tenths
