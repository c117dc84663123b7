"""The exceptions of the generator: each means that the run cannot go on."""

from __future__ import annotations


class GeneratorError(Exception):
    """Anything the user can put right; its text is fit to be shown to him."""


class ProfileError(GeneratorError):
    """A parameter file that cannot be used.

    Attributes:
        path: The file, as the user named it.
        problems: One line a problem: key, what is wrong, what would be right.
    """

    def __init__(self, path: str, problems: tuple[str, ...]) -> None:
        """Join the problems into one message that opens with the file and their number."""
        self.path = path
        self.problems = problems
        count = "1 problem" if len(problems) == 1 else f"{len(problems)} problems"
        super().__init__("\n".join([f"{path}: {count}", *(f"  {line}" for line in problems)]))


class StandardError(GeneratorError):
    """A size that a table does not hold."""


class ExportError(GeneratorError):
    """A file that could not be written, or did not read back as it was written."""
