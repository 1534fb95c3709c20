"""The event log of an inspection: who did what when, from capture to hand-over, in a hash chain."""

from review_api.log.chain import GENESIS, Entry, Event, Fault, chain, follow, verify
from review_api.log.lines import read_lines, write_lines

__all__ = ["GENESIS", "Entry", "Event", "Fault", "chain", "follow", "read_lines", "verify", "write_lines"]
