"""The one exception that a person may cause."""


class UnusableError(Exception):
    """A file or a call that cannot be used at all; its text is one sentence for the person.

    Whatever concerns a single row is a flag and not an exception.
    """
