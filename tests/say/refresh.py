"""`python -m tests.say.refresh`: new messages into every catalogue, old ones out, and the compiled catalogue beside it.

A translation that stands is kept. A new message has an empty translation, and the tests fail until somebody writes it.
"""

from io import BytesIO

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from runner.say.language import CATALOGUES, DOMAIN
from tests.say.collected import Message, collected

LANGUAGES = ("de",)
HEAD = "Texts of the screen. Written by hand; `python -m tests.say.refresh` adds new messages and compiles."


class Plain(Catalog):
    """Its head says what a reader needs, and nothing that changes from one day or machine to the next."""

    @property
    def mime_headers(self) -> list[tuple[str, str]]:
        """Of the file."""
        return [
            ("Language", str(self.locale_identifier)),
            ("Plural-Forms", self.plural_forms),
            ("MIME-Version", "1.0"),
            ("Content-Type", f"text/plain; charset={self.charset}"),
            ("Content-Transfer-Encoding", "8bit"),
        ]

    @mime_headers.setter
    def mime_headers(self, headers: list[tuple[str, str]]) -> None:
        """What the file says of itself is known already."""


def path_of(language: str, kind: str) -> str:
    """Of the catalogue (`po`) or the compiled one (`mo`)."""
    return f"{CATALOGUES}/{language}/LC_MESSAGES/{DOMAIN}.{kind}"


def standing(language: str) -> Catalog:
    """The catalogue as it is."""
    try:
        with open(path_of(language, "po"), "rb") as file:
            return read_po(file, locale=language, domain=DOMAIN)
    except FileNotFoundError:
        return Catalog(locale=language, domain=DOMAIN)


def refreshed(language: str, messages: dict[Message, list[str]], old: Catalog) -> Catalog:
    """A catalogue of exactly these messages, with the translations that stand."""
    new = Plain(locale=language, domain=DOMAIN, charset="utf-8", header_comment=f"# {HEAD}", fuzzy=False)
    for message in sorted(messages, key=lambda one: (messages[one][0], one)):
        key = (message.text, message.plural) if message.plural else message.text
        before = old.get(message.text, context=message.context or None)
        said = before.string if before is not None else ""
        if message.plural and isinstance(said, str):
            said = (said, "")
        new.add(key, said, [(name, 1) for name in messages[message]], context=message.context or None)
    return new


def written(catalogue: Catalog) -> bytes:
    """As the file has it: with the files where a message stands, without lines, which change too often."""
    out = BytesIO()
    write_po(out, catalogue, width=120, include_lineno=False)
    return out.getvalue()


def compiled_bytes(catalogue: Catalog) -> bytes:
    """As the compiled file has it."""
    plain = Plain(locale=catalogue.locale, domain=DOMAIN, charset="utf-8", fuzzy=False)
    for message in catalogue:
        if message.id:
            plain.add(message.id, message.string, context=message.context)
    out = BytesIO()
    write_mo(out, plain)
    return out.getvalue()


def main() -> None:
    """Every language."""
    messages = collected()
    for language in LANGUAGES:
        catalogue = refreshed(language, messages, standing(language))
        with open(path_of(language, "po"), "wb") as file:
            file.write(written(catalogue))
        with open(path_of(language, "mo"), "wb") as file:
            file.write(compiled_bytes(standing(language)))
        for message in catalogue:
            if message.id and not all([message.string] if isinstance(message.string, str) else message.string or [""]):
                print(f"{language}: no translation yet: {message.id!r}")


if __name__ == "__main__":
    main()
