"""The arithmetic of the trade: a reading, or several, held against the law as data."""

from extract.checks.checking import check
from extract.checks.measured import UNKNOWN_INSTRUMENT, Instrument, Measured
from extract.checks.thermometer import instrument, of_the_day
from shared.types import Quantity

__all__ = ["UNKNOWN_INSTRUMENT", "Instrument", "Measured", "Quantity", "check", "instrument", "of_the_day"]
