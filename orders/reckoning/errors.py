"""What the core raises: a sentence for the person, or a value and its range for the developer."""


class Unreadable(ValueError):
    """Text that is not one length.

    Attributes
    ----------
    says : str
        What was read and what was expected, for a person holding a tape.
    reason : str
        Key of the sentence, one of typed_sentences.SENTENCES.
    """

    def __init__(self, says: str, reason: str = "") -> None:
        super().__init__(says)
        self.says = says
        self.reason = reason


class OutOfRange(ValueError):
    """A number outside the range in which a function holds. Nothing is clamped.

    Attributes
    ----------
    name, value, allowed
        The argument, what it was, and what it may be.
    """

    def __init__(self, name: str, value: object, allowed: str) -> None:
        super().__init__(f"{name} is {value}; it must be {allowed}")
        self.name = name
        self.value = value
        self.allowed = allowed
