"""The one base class of errors that reach a user as a sentence."""


class ProbesideError(Exception):
    """What was wrong, where, and what to do next, in one line that a user can act on.

    The command line prints it without a traceback and exits with `exit_status`:
    2 when the call or its input is wrong, 1 when a verification or validation said no.
    """

    exit_status = 2


class InputError(ProbesideError):
    """A file, folder or option given by the user cannot be used. Names it, and says what to do."""


class RefusedError(ProbesideError):
    """A verification or validation said no."""

    exit_status = 1
