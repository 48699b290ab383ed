"""What was given can't be, said so that every door can tell it beside its field."""

from __future__ import annotations


class Refused(ValueError):
    """The words say why. `field` names what was given wrong; empty where nothing was,
    and it only does not fit what is so now."""

    def __init__(self, words: str, field: str = "") -> None:
        self.field = field
        super().__init__(words)
