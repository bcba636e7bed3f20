"""What the coach tells the tool: options of the command line and a small YAML file by the clip."""

import difflib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from voicenotes.errors import InputError
from voicenotes.record import Record
from voicenotes.review import Brief

KEYS = {
    "swimmer": "swimmer",
    "stroke": "stroke",
    "level": "level",
    "pace": "pace_s",
    "pool": "pool_m",
    "sessions": "sessions",
    "minutes": "minutes",
    "equipment": "equipment",
    "vocabulary": "vocabulary",
}
"""Keys of the settings file, which are the long options too, and the fields they fill."""


class Settings(Record):
    """The brief, and the coach's own vocabulary folder."""

    brief: Brief = Brief()
    vocabulary: Path | None = None


def load_settings(clip: Path, options: Mapping[str, Any]) -> Settings:
    """Settings for one clip: options first, then NAME.yaml beside it, then the defaults.

    ``options`` maps keys of KEYS to values as typed, None where not given. Raises InputError.
    """
    path = clip.with_suffix(".yaml")
    read = _read(path) if path.is_file() and path != clip else {}
    if "vocabulary" in read:
        read["vocabulary"] = path.parent / str(read["vocabulary"])
    given = {key: value for key, value in options.items() if value is not None}
    merged = {**read, **given}
    vocabulary = merged.pop("vocabulary", None)
    fields = {KEYS[key]: _value(key, value) for key, value in merged.items()}
    try:
        brief = Brief.model_validate(fields)
    except ValidationError as error:
        first = error.errors()[0]
        key = next((k for k, field in KEYS.items() if field == first["loc"][0]), "settings")
        where = f"--{key}" if key in given else f"{path.name}, {key}"
        raise InputError(str(first["msg"]), where, "give another value") from error
    return Settings(brief=brief, vocabulary=vocabulary)


def _read(path: Path) -> dict[str, Any]:
    import yaml

    try:
        data = yaml.safe_load(path.read_text(encoding="utf-8"))
    except (yaml.YAMLError, UnicodeDecodeError) as error:
        mark = getattr(error, "problem_mark", None)
        line = f" line {mark.line + 1}" if mark else ""
        raise InputError("is not YAML text", f"{path}{line}", "write it as KEY: VALUE") from error
    except OSError as error:
        raise InputError("cannot be read", str(path), "check its permissions") from error
    if data is None:
        return {}
    if not isinstance(data, dict):
        raise InputError("has no keys", str(path), f"use {', '.join(KEYS)}")
    for key in data:
        if key not in KEYS:
            close = difflib.get_close_matches(str(key), KEYS, n=1)
            hint = f" (did you mean {close[0]!r}?)" if close else ""
            raise InputError(f"unknown key {key!r}{hint}", str(path), f"use {', '.join(KEYS)}")
    return dict(data)


def _value(key: str, value: Any) -> Any:
    if key == "pace":
        return read_pace(value)
    if key == "equipment":
        items = value.split(",") if isinstance(value, str) else value
        return tuple(str(item).strip() for item in items if str(item).strip())
    return value


def read_pace(value: object) -> float:
    """Seconds per 100 m from "1:50", 110 or "110". Raises InputError."""
    text = str(value).strip()
    minutes, _, seconds = text.rpartition(":")
    try:
        if minutes and not 0 <= float(seconds) < 60:
            raise ValueError(text)
        return float(minutes or 0) * 60 + float(seconds)
    except ValueError as error:
        raise InputError(
            f"{text!r} is not a time for 100 m", "pace", 'write it like "1:50" or 110'
        ) from error
