"""Why a journal was not opened, found or written. Words for a person, saying what is wrong and what to do; never raised."""

from dataclasses import dataclass

from runner.procedure.clean import clean


@dataclass(frozen=True, slots=True)
class Refused:
    """The answer of everything in this package that could not do what was asked.

    Its words quote paths, journals and procedures; what would act on a terminal stands in them as a picture.
    """

    words: str
    damaged: bool = False
    """True where lines that were kept are known to be lost: the record is damaged, though it reads as whole."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "words", clean(self.words))


def words_of(error: OSError) -> str:
    """What the operating system says is wrong, without numbers, paths or Python."""
    return (error.strerror or str(error) or type(error).__name__).strip()
