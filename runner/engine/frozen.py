"""Frozen classes of fields as `dataclasses.dataclass(frozen=True, slots=True)` makes them, in a part of the time.

There are some hundred classes of events and intents, and the standard decorator compiles six methods for each of them:
a fifth of what the first page takes. Here `__init__` is compiled for each class and the rest is shared; fields, `replace`
and types are those of `dataclasses`.
"""

import dataclasses
from typing import TYPE_CHECKING, Any, NoReturn

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass  # noqa: PLC0414 - to the types it is the same
else:

    def dataclass(*, frozen: bool, slots: bool):
        """The decorator, for frozen classes with slots alone."""
        if not (frozen and slots):
            raise TypeError("only frozen classes with slots are made here")
        return made


def made(cls: type) -> type:
    """The class with slots, an `__init__` of its own, and what all share."""
    whole: Any = dataclasses.dataclass(init=False, repr=False, eq=False, slots=True)(cls)
    whole.__init__ = _init(whole)
    whole.__setattr__, whole.__delattr__ = _refuse_set, _refuse_delete
    whole.__eq__, whole.__hash__, whole.__repr__ = _eq, _hash, _repr
    whole.__getstate__, whole.__setstate__ = _values, _fill
    return whole  # type: ignore[no-any-return]


def _init(cls: type) -> Any:
    """Sets each slot through its own descriptor, which a frozen class does not keep out."""
    known: dict[str, Any] = {}
    given: list[str] = ["self"]
    by_name: list[str] = []
    body: list[str] = []
    for field in dataclasses.fields(cls):
        name = field.name
        known[f"set_{name}"] = getattr(cls, name).__set__
        text, value = name, name
        if field.default is not dataclasses.MISSING:
            known[f"usual_{name}"] = field.default
            text = f"{name}=usual_{name}"
        elif field.default_factory is not dataclasses.MISSING:
            known[f"make_{name}"], known["MISSING"] = field.default_factory, dataclasses.MISSING
            text, value = f"{name}=MISSING", f"make_{name}() if {name} is MISSING else {name}"
        (by_name if field.kw_only else given).append(text)
        body.append(f" set_{name}(self, {value})")
    arguments = ", ".join([*given, *(["*", *by_name] if by_name else [])])
    exec("\n".join([f"def __init__({arguments}):", *body]), known)  # names of fields alone, as dataclasses does it
    init = known["__init__"]
    init.__qualname__ = f"{cls.__qualname__}.__init__"
    init.__module__ = cls.__module__
    init.__annotations__ = {field.name: field.type for field in dataclasses.fields(cls)} | {"return": None}
    return init


def _values(self: Any) -> tuple[Any, ...]:
    return tuple([getattr(self, name) for name in self.__dataclass_fields__])


def _fill(self: Any, values: tuple[Any, ...]) -> None:
    """For copies and what is sent to another process."""
    for name, value in zip(self.__dataclass_fields__, values, strict=True):
        object.__setattr__(self, name, value)


def _eq(self: Any, other: object) -> bool:
    return _values(self) == _values(other) if other.__class__ is self.__class__ else NotImplemented


def _hash(self: Any) -> int:
    return hash(_values(self))


def _repr(self: Any) -> str:
    fields = dataclasses.fields(self)
    shown = ", ".join(f"{field.name}={getattr(self, field.name)!r}" for field in fields if field.repr)
    return f"{self.__class__.__qualname__}({shown})"


def _refuse_set(self: Any, name: str, value: object) -> NoReturn:  # noqa: ARG001 - as every class is asked
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _refuse_delete(self: Any, name: str) -> NoReturn:  # noqa: ARG001 - as every class is asked
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")
