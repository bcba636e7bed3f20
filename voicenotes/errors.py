"""Errors that a user sees: one line that says what is wrong, where, and what to do."""


class UserError(Exception):
    """Something the user can mend.

    Args:
        what: what is wrong, without a full stop.
        where: the file, entry or option it was found in.
        do: what to do about it, as an imperative.
    """

    def __init__(self, what: str, where: str, do: str) -> None:
        self.what, self.where, self.do = what, where, do
        super().__init__(f"{where}: {what}. {do[:1].upper()}{do[1:]}.")


class InputError(UserError):
    """A clip, transcript or settings file that cannot be used."""


class VocabularyError(UserError):
    """A vocabulary file with a wrong entry."""


class WeightsError(UserError):
    """Speech weights that are missing or damaged."""


class OutputError(UserError):
    """A result that could not be written."""
