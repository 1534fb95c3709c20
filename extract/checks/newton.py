"""Newton's law of cooling fitted to readings, T(t) = A + (T0 - A) exp(-k t), with its uncertainty.

The fit is a weighted least-squares problem in A, T0 and ln k, solved by Levenberg-Marquardt. The
surroundings A enter as one more observation (a cooler's air, with its spread), so that two readings
already give an answer and more readings soon outweigh it. Spreads come from the curvature at the solution
(JCGM 100, 5.1.2, first order).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

_Array = NDArray[np.float64]

COOLER_DEGF, COOLER_SPREAD_DEGF = 37.0, 6.0
"""The air that food cools in when nobody said: a cooler, give or take. Common practice, no source."""
_STEPS = 200
_COVERAGE = 1.96
"""95 % of a normal distribution."""


@dataclass(frozen=True, slots=True)
class Fit:
    """A fitted cooling curve in °F and minutes from the first reading."""

    surroundings: float
    first: float
    """The curve's temperature at the first reading."""
    rate: float
    """k, per minute."""
    covariance: tuple[tuple[float, ...], ...]
    """Of surroundings, first and ln rate."""
    residual: float
    """The largest distance of a reading from the curve, °F."""

    def temperature(self, minutes: float) -> float:
        """The curve's temperature that many minutes after the first reading."""
        return self.surroundings + (self.first - self.surroundings) * math.exp(-self.rate * minutes)

    def minutes_to(self, target: float) -> float | None:
        """Minutes from the first reading until the curve reaches `target`; None when it never does."""
        if target >= self.first:
            return 0.0
        if target <= self.surroundings:
            return None
        return math.log((self.first - self.surroundings) / (target - self.surroundings)) / self.rate

    def interval_to(self, target: float) -> tuple[float | None, float | None]:
        """The 95 % interval of `minutes_to`, from its logarithm; None where it may never be reached."""
        best = self.minutes_to(target)
        if best is None or best == 0:
            return (None, None) if best is None else (0.0, 0.0)
        spread = self._log_spread(target, best)
        warm = self.surroundings + _COVERAGE * math.sqrt(max(0.0, self.covariance[0][0]))
        late = None if warm >= target or spread > 3 else best * math.exp(_COVERAGE * spread)
        return best * math.exp(-_COVERAGE * min(spread, 3)), late

    def band(self, minutes: float) -> float:
        """Half the width of the 95 % band of the curve at that time, °F."""
        fall = math.exp(-self.rate * minutes)
        gradient = np.array(
            [1 - fall, fall, -(self.first - self.surroundings) * fall * self.rate * minutes], dtype=np.float64
        )
        return _COVERAGE * math.sqrt(max(0.0, float(gradient @ np.array(self.covariance) @ gradient)))

    def _log_spread(self, target: float, best: float) -> float:
        above, span = target - self.surroundings, self.first - self.surroundings
        gradient = np.array(
            [(-1 / span + 1 / above) / self.rate, 1 / span / self.rate, -best], dtype=np.float64
        )
        return math.sqrt(max(0.0, float(gradient @ np.array(self.covariance) @ gradient))) / best


def fit(
    minutes: Sequence[float],
    degf: Sequence[float],
    *,
    accuracy_degf: float = 2.0,
    surroundings_degf: float | None = None,
) -> Fit | None:
    """The curve through readings in °F at minutes from the first; None when they do not fall.

    `accuracy_degf` is the thermometer's, taken as two standard deviations. Known surroundings are held to
    1 °F.
    """
    times, values = np.array(minutes, dtype=np.float64), np.array(degf, dtype=np.float64)
    if len(times) < 2 or float(times.max()) <= float(times.min()) or not _falls(times, values):
        return None
    prior = COOLER_DEGF if surroundings_degf is None else surroundings_degf
    prior_spread = COOLER_SPREAD_DEGF if surroundings_degf is None else 1.0
    spread = max(accuracy_degf / 2, 0.05)
    start = _start(times, values, prior)
    solution = _minimise(start, times, values, spread, prior, prior_spread)
    residuals, jacobian = _residuals(solution, times, values, spread, prior, prior_spread)
    try:
        covariance = np.linalg.inv(jacobian.T @ jacobian)
    except np.linalg.LinAlgError:
        return None
    if not np.all(np.isfinite(covariance)) or not np.all(np.isfinite(solution)):
        return None
    return Fit(
        surroundings=float(solution[0]),
        first=float(solution[1]),
        rate=math.exp(float(solution[2])),
        covariance=tuple(tuple(float(cell) for cell in row) for row in covariance),
        residual=float(np.max(np.abs(residuals[:-1]))) * spread,
    )


def _falls(times: _Array, values: _Array) -> bool:
    order = np.argsort(times, kind="stable")
    return bool(values[order[-1]] < values[order[0]])


def _start(times: _Array, values: _Array, prior: float) -> _Array:
    first, last = int(np.argmin(times)), int(np.argmax(times))
    ambient = min(prior, float(values.min()) - 2.0)
    ratio = (values[first] - ambient) / (values[last] - ambient)
    rate = max(math.log(max(float(ratio), 1.0001)) / float(times[last] - times[first]), 1e-6)
    return np.array([ambient, values[first], math.log(rate)], dtype=np.float64)


def _residuals(
    parameters: _Array, times: _Array, values: _Array, spread: float, prior: float, prior_spread: float
) -> tuple[_Array, _Array]:
    ambient, first = parameters[0], parameters[1]
    rate = math.exp(float(np.clip(parameters[2], -20.0, 5.0)))
    fall = np.exp(-rate * (times - times.min()))
    model = ambient + (first - ambient) * fall
    jacobian = np.empty((len(times) + 1, 3), dtype=np.float64)
    jacobian[:-1, 0] = (1 - fall) / spread
    jacobian[:-1, 1] = fall / spread
    jacobian[:-1, 2] = -(first - ambient) * fall * rate * (times - times.min()) / spread
    jacobian[-1] = (1 / prior_spread, 0.0, 0.0)
    residuals = np.append((model - values) / spread, (ambient - prior) / prior_spread)
    return residuals, jacobian


def _minimise(
    start: _Array, times: _Array, values: _Array, spread: float, prior: float, prior_spread: float
) -> _Array:
    current, damping = start, 1e-3
    residuals, jacobian = _residuals(current, times, values, spread, prior, prior_spread)
    cost = float(residuals @ residuals)
    for _ in range(_STEPS):
        normal = jacobian.T @ jacobian
        step = np.linalg.solve(normal + damping * np.diag(np.diag(normal) + 1e-12), -jacobian.T @ residuals)
        step[2] = float(np.clip(step[2], -1.0, 1.0))
        tried = current + step
        new_residuals, new_jacobian = _residuals(tried, times, values, spread, prior, prior_spread)
        new_cost = float(new_residuals @ new_residuals)
        if new_cost <= cost:
            small = cost - new_cost <= 1e-14 * (1 + cost) and float(np.max(np.abs(step))) < 1e-9
            current, residuals, jacobian, cost = tried, new_residuals, new_jacobian, new_cost
            damping = max(damping / 5, 1e-12)
            if small:
                break
        else:
            damping *= 4
            if damping > 1e12:
                break
    return current


def crossing(hot: float, cool: float, between: float, *, surroundings: float) -> float:
    """The part of the time from `hot` to `cool` after which the curve passes `between`; all in one unit."""
    whole = math.log((hot - surroundings) / (cool - surroundings))
    return math.log((hot - surroundings) / (between - surroundings)) / whole
