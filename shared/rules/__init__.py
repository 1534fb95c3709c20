"""The law as data: limits, provisions, deadlines and form of a jurisdiction. `load` reads and checks it."""

from shared.rules.fields import Fault
from shared.rules.files import names
from shared.rules.loading import RulesError, examine, load
from shared.rules.model import FormItem, Limit, Provision, Rules, Source

__all__ = [
    "Fault",
    "FormItem",
    "Limit",
    "Provision",
    "Rules",
    "RulesError",
    "Source",
    "examine",
    "load",
    "names",
]
