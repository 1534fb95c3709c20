"""Figures of which one may be the other, said or printed wrongly: 115 and 150, 14 and 41."""

from __future__ import annotations

_TEEN_TY = {13: 30, 14: 40, 15: 50, 16: 60, 17: 70, 18: 80, 19: 90}


def teen_partner(value: float) -> float | None:
    """13 for 30 and so on, also behind a hundred: 115 and 150."""
    hundreds, rest = divmod(value, 100)
    partner = _TEEN_TY.get(int(rest)) if rest == int(rest) else None
    if partner is None:
        back = {ty: teen for teen, ty in _TEEN_TY.items()}
        partner = back.get(int(rest)) if rest == int(rest) else None
    return hundreds * 100 + partner if partner is not None else None


def misprinted(one: float, two: float) -> bool:
    """Whether one may be the other misprinted: teen and ty, the same digits, or one digit too few."""
    a, b = f"{one:g}", f"{two:g}"
    return (
        teen_partner(one) == two
        or teen_partner(two) == one
        or _within(a, b)
        or _within(b, a)
        or (a != b and sorted(a) == sorted(b))
    )


def confusable(one: float, two: float) -> bool:
    """Whether two figures sound or look so alike that either may be the misheard one: 115 and 150, 118 and
    188."""
    a, b = f"{one:g}", f"{two:g}"
    return misprinted(one, two) or (len(a) == len(b) and sum(x != y for x, y in zip(a, b, strict=True)) == 1)


def _within(short: str, long: str) -> bool:
    """Whether all digits of one are in the other in that order, as 172 in 1702."""
    rest = iter(long)
    return len(short) == len(long) - 1 and all(digit in rest for digit in short)
