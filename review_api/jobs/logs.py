"""What the job engine logs goes where all else does, warnings only."""

from __future__ import annotations

import logging


def log_like_the_rest() -> None:
    """Takes away the handler and the chatter of the engine's own logger, after its set-up."""
    logger = logging.getLogger("dbos")
    for handler in list(logger.handlers):
        logger.removeHandler(handler)
    logger.setLevel(logging.WARNING)
    logger.propagate = True
