"""All that vouches for one record, beside its chain: seals, signatures, the register of heads, a code on paper. Pure.

`verify` makes it out of what was read; the words are those that a person reads. What is grave contradicts the record;
the rest should be known and contradicts nothing.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from runner.engine.events import Sealed
from runner.record.head_code import head_code
from runner.record.keys import INSTALL, key_name, signature_fits
from runner.record.line import Entry
from runner.record.register import Finding, Register, against, unknown
from runner.record.seal import text_of
from runner.record.verify import Verification


@dataclass(frozen=True, slots=True)
class Signed:
    """What the signature of one seal is worth."""

    line: int
    key: str
    """The public key; empty where it is not signed."""
    terminal: str
    """The name that the trusted keys give it; empty where it is none of them."""
    fits: bool | None
    """None where it is not signed, or nobody can say."""

    @property
    def words(self) -> str:
        """For a person."""
        if not self.key:
            return "not signed"
        if self.fits is None:
            return f"signed by the key {key_name(self.key)}; not checked. {INSTALL}"
        if not self.fits:
            return f"the signature is not that of the key {key_name(self.key)} over this seal"
        if not self.terminal:
            return f"signed by the key {key_name(self.key)}, which no site file and no --key names"
        return f"signed by {self.terminal}, key {key_name(self.key)}"


@dataclass(frozen=True, slots=True)
class Vouched:
    """What was found beside the chain."""

    seals: tuple[Signed, ...]
    """One a seal, in order."""
    findings: tuple[Finding, ...]
    """Of seals, signatures, register and code, in this order."""
    code: str
    """The head as a short code; empty where no line is in order."""
    code_words: str
    """What a code that was given says; empty where none was given."""

    @property
    def grave(self) -> bool:
        """Whether something contradicts the record."""
        return any(finding.grave for finding in self.findings)


def vouched(
    found: Verification,
    hashes: Sequence[str],
    began: str,
    register: Register | None,
    trusted: Mapping[str, str],
    must_sign: bool,
    given: str | None,
    place: str = "",
) -> Vouched:
    """What vouches for a record, whose lines have these hashes and whose first has the time `began`.

    `trusted` is by public key the terminal's name; with `must_sign` its newest seal must be by one of them, and where any
    are trusted it may not be by another. `given` is the beginning of the hash that a code on paper stands for. `place` is the
    run that the journal's name says; empty where it says none.
    """
    seals = tuple(signed(seal, trusted) for seal in found.seals)
    findings: list[Finding] = []
    if found.outcome and not seals:
        findings.append(
            Finding("no seal", "the run ended without a seal, as records did before they had any", grave=False)
        )
    findings += [Finding("signature", f"line {one.line}: {one.words}") for one in seals if one.fits is False]
    if must_sign and not (seals and seals[-1].fits and seals[-1].terminal):
        words = seals[-1].words if seals else "there is no seal"
        findings.append(Finding("not by a trusted key", words))
    elif trusted and seals and seals[-1].fits and not seals[-1].terminal:
        findings.append(Finding("not by a trusted key", seals[-1].words))
    elif seals and not seals[-1].key and any(one.key for one in seals):
        words = f"the newest seal, in line {seals[-1].line}, is not signed, and one before it is"
        findings.append(Finding("signature", words, grave=False))
    findings += registered(found, hashes, began, register, place)
    code_words = ""
    if given is not None:
        fits, code_words = judged(given, hashes, found)
        if not fits:
            findings.append(Finding("code", code_words))
    return Vouched(seals, tuple(findings), head_code(found.head) if found.events else "", code_words)


def signed(entry: Entry, trusted: Mapping[str, str]) -> Signed:
    """What the signature in a seal is worth."""
    event = entry.event
    assert isinstance(event, Sealed)
    if not event.key and not event.signature:
        return Signed(entry.number, "", "", None)
    fits = signature_fits(event.key, event.signature, text_of(entry))
    return Signed(entry.number, event.key, trusted.get(event.key, ""), fits)


def registered(
    found: Verification, hashes: Sequence[str], began: str, register: Register | None, place: str
) -> list[Finding]:
    """What the register shows about a record."""
    if register is None:
        return []
    known = register.of(found.run or place) if found.run or place else ()
    if known:
        return list(against(known, hashes, bool(found.seals), found.whole))
    return [unknown(register, began)] if hashes else []


def judged(given: str, hashes: Sequence[str], found: Verification) -> tuple[bool, str]:
    """(whether it speaks for the record, words) of a code that was written down."""
    at = next((number for number in range(len(hashes), 0, -1) if hashes[number - 1].startswith(given)), 0)
    if not at:
        return False, "the code is of no line of this record: it was changed or replaced after the code was written"
    if at == len(hashes):
        return True, "the code is that of the last line: nothing was changed or cut off since it was written"
    later = len(hashes) - at
    lines = "line was" if later == 1 else "lines were"
    if found.outcome and not any(seal.number == at for seal in found.seals):
        return True, f"the code is that of line {at}, before the run ended; {later} {lines} added since"
    return True, f"the code is that of line {at}; {later} {lines} added since"
