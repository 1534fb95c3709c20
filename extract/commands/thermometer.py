"""The thermometer of the day as options of a call."""

from __future__ import annotations

import argparse

from extract.checks import Instrument, given, instrument
from extract.checks.boiling import boiling_point
from extract.checks.measured import ICE
from extract.checks.thermometer import NEAR
from shared.errors import InputError
from shared.types import Quantity


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares the options that tell how the thermometer reads."""
    say = parser.add_argument
    say("--offset", help="what the thermometer reads over the truth in ice water, such as '1 degF'")
    say("--ice", help="what the thermometer read in ice water that day, such as '33 degF'")
    say("--boiling", help="what it read in boiling water that day, such as '210 degF'; give --elevation too")
    say("--elevation", help="height of the site in metres above the sea, for a check in boiling water")
    say("--accuracy", help="the thermometer's accuracy, plus or minus, such as '2 degF'")


def thermometer(options: argparse.Namespace) -> Instrument:
    """The thermometer that the options tell of. Raises `InputError`, also for an offset told twice."""
    offset = given.temperature(options.offset) if options.offset else None
    accuracy = given.temperature(options.accuracy) if options.accuracy else None
    if accuracy is not None and accuracy.value < 0:
        raise InputError(
            f"--accuracy {options.accuracy!r} is less than nothing: write plus or minus, as '2 degF'"
        )
    _refuse_too_far("--accuracy", accuracy, 0.0)
    own = {accuracy.unit: accuracy.value} if accuracy else {}
    if offset is not None:
        if options.ice or options.boiling:
            raise InputError(
                "--offset and a check in ice or boiling water tell the same twice: give one of them"
            )
        _refuse_too_far("--offset", offset, 0.0)
        return Instrument(accuracy=own, offset={offset.unit: offset.value})
    if options.boiling and options.elevation is None:
        raise InputError(
            "--boiling needs --elevation, the height of the site in metres, as --elevation 180: water "
            "boils at less the higher it is"
        )
    ice = given.temperature(options.ice) if options.ice else None
    boiling = given.temperature(options.boiling) if options.boiling else None
    height = elevation(options) or 0.0
    try:
        if ice is not None:
            _refuse_too_far("--ice", ice, ICE[ice.unit])
        if boiling is not None:
            _refuse_too_far("--boiling", boiling, boiling_point(height, boiling.unit))
        return instrument(ice=ice, boiling=boiling, elevation_m=height, accuracy=own)
    except ValueError as error:
        raise InputError(f"--elevation cannot be right: {error}") from error


def _refuse_too_far(name: str, told: Quantity | None, truth: float) -> None:
    """Raises `InputError` for a thermometer so far off that nothing it reads can be put right."""
    if told is not None and abs(told.value - truth) > NEAR[told.unit]:
        most = f"{NEAR[told.unit]:g} {told.unit}"
        raise InputError(
            f"{name} '{told.value:g} {told.unit}' cannot be meant: a thermometer that is off by more than "
            f"{most} corrects nothing; measure with another one"
        )


def elevation(options: argparse.Namespace) -> float | None:
    """The height of the site in metres, where it was given."""
    return None if options.elevation is None else given.number(options.elevation, "--elevation")
