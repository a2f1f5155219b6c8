"""What goes wrong, in a sentence a person can act on."""


class PatternError(ValueError):
    """A request that cannot be carried out.

    Args:
        sentence: One sentence that names the piece, line or field and says what to do.
        code: A short stable word for tests and JSON, for example ``"no-such-edge"``.
    """

    def __init__(self, sentence: str, *, code: str = "bad-input") -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.code = code


class MissingPartError(PatternError, LookupError):
    """A piece, edge, dart or notch that a step points at is not there."""


class StepError(PatternError):
    """An alteration that cannot be done on this piece; the piece is left as it was."""
