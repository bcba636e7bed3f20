"""What the coach tells the tool: options of the command line and a small YAML file by the clip."""

import difflib
from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from pydantic import Field, ValidationError

from voicenotes.errors import InputError
from voicenotes.record import Record
from voicenotes.review import Brief
from voicenotes.vocabulary.model import Vocabulary

KEYS = {
    "swimmer": "swimmer",
    "stroke": "stroke",
    "level": "level",
    "pace": "pace_s",
    "pool": "pool_m",
    "sessions": "sessions",
    "minutes": "minutes",
    "equipment": "equipment",
    "coach": "coach",
    "greeting": "greeting",
    "sign_off": "sign_off",
    "start": "start",
    "vocabulary": "vocabulary",
    "templates": "templates",
}
"""Keys of the settings file, most of which are options too, and the fields they fill."""

FOLDERS = ("vocabulary", "templates")

SHARED = "coach.yaml"
"""Settings that a coach shares between all clips of a folder."""


class Settings(Record):
    """The brief, the coach's own vocabulary and templates, and where each key was told."""

    brief: Brief = Brief()
    vocabulary: Path | None = None
    templates: Path | None = None
    where: dict[str, str] = Field(default_factory=dict)


def load_settings(clip: Path, options: Mapping[str, Any]) -> Settings:
    """Settings for one clip: options, then NAME.yaml beside it, then coach.yaml, then defaults.

    ``options`` maps keys of KEYS to values as typed, None where not given. Raises InputError.
    """
    merged: dict[str, Any] = {}
    where: dict[str, str] = {}
    for path in dict.fromkeys([clip.parent / SHARED, clip.with_suffix(".yaml")]):
        if path.is_file() and path != clip:
            read = _read(path)
            found = {k: path.parent / str(v) if k in FOLDERS else v for k, v in read.items()}
            merged |= found
            where |= {key: f"{path}, {key}" for key in found}
    given = {key: value for key, value in options.items() if value is not None}
    merged |= given
    where |= {key: f"--{key}" for key in given}
    folders = {key: merged.pop(key, None) for key in FOLDERS}
    return Settings(brief=_brief(merged, where), where=where, **folders)


def check_options(options: Mapping[str, Any]) -> None:
    """Raises InputError for an option that is wrong whatever the clip."""
    given = {k: v for k, v in options.items() if v is not None and k not in FOLDERS}
    _brief(given, {key: f"--{key}" for key in given})


def brief_for(settings: Settings, vocabulary: Vocabulary) -> Brief:
    """The brief with its equipment by code; raises InputError for what the vocabulary lacks."""
    named = {
        name.casefold(): code
        for code, aid in vocabulary.aids.items()
        for name in (*aid.names, aid.name, code)
    }
    codes = []
    for item in settings.brief.equipment:
        code = named.get(item.casefold()) or named.get(item.casefold().replace(" ", "_"))
        if code is None:
            raise InputError(
                f"unknown equipment {item!r}{_near(item, vocabulary.aids)}",
                settings.where["equipment"],
                f"use {', '.join(sorted(vocabulary.aids))}",
            )
        codes.append(code)
    return settings.brief.model_copy(update={"equipment": tuple(dict.fromkeys(codes))})


def _brief(values: Mapping[str, Any], where: Mapping[str, str]) -> Brief:
    fields = {KEYS[key]: _value(key, value, where[key]) for key, value in values.items()}
    try:
        return Brief.model_validate(fields)
    except ValidationError as error:
        first = error.errors()[0]
        key = next(key for key, field in KEYS.items() if field == first["loc"][0])
        problem = str(first["msg"]).removeprefix("Input ")
        raise InputError(
            f"{values[key]!r} cannot be used: it {problem}", where[key], "give another value"
        ) from error


def _read(path: Path) -> dict[str, Any]:
    import yaml

    try:
        data = yaml.safe_load(path.read_text(encoding="utf-8"))
    except (yaml.YAMLError, ValueError) as error:
        mark = getattr(error, "problem_mark", None)
        line = f", line {mark.line + 1}" if mark else ""
        raise InputError("is not YAML text", f"{path}{line}", "write it as KEY: VALUE") from error
    except OSError as error:
        raise InputError("cannot be read", str(path), "check its permissions") from error
    if data is None:
        return {}
    if not isinstance(data, dict):
        raise InputError("has no keys", str(path), f"use {', '.join(KEYS)}")
    for key in data:
        if key not in KEYS:
            what = f"unknown key {key!r}{_near(key, KEYS)}"
            raise InputError(what, str(path), f"use {', '.join(KEYS)}")
    return {key: value for key, value in data.items() if value is not None}


def _near(word: object, known: Iterable[str]) -> str:
    close = difflib.get_close_matches(str(word), [*known], n=1)
    return f" (did you mean {close[0]!r}?)" if close else ""


def _value(key: str, value: Any, where: str) -> Any:
    if key == "pace":
        return read_pace(value, where)
    if key == "start":
        return read_day(value, where)
    if key == "equipment":
        items = value.split(",") if isinstance(value, str) else value
        if not isinstance(items, list):
            raise InputError(f"{value!r} is not a list", where, "write it as fins, snorkel")
        return tuple(str(item).strip() for item in items if str(item).strip())
    return value


def read_pace(value: object, where: str = "pace") -> float:
    """Seconds per 100 m from "1:50", 110 or "110". Raises InputError, naming ``where``."""
    text = str(value).strip()
    minutes, _, seconds = text.rpartition(":")
    try:
        if minutes and not 0 <= float(seconds) < 60:
            raise ValueError(text)
        return float(minutes or 0) * 60 + float(seconds)
    except ValueError as error:
        raise InputError(
            f"{text!r} is not a time for 100 m", where, 'write it like "1:50" or 110'
        ) from error


def read_day(value: object, where: str = "--start") -> date:
    """A day from 2026-03-02, as text or as YAML reads it. Raises InputError."""
    try:
        return date.fromisoformat(str(value).strip())
    except ValueError as error:
        raise InputError(
            f"{str(value)!r} is not a day", where, "write it like 2026-03-02"
        ) from error
