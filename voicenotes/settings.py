"""What the coach tells the tool: options of the command line and a small YAML file by the clip."""

import difflib
import math
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from pydantic import Field, ValidationError

from voicenotes.clock import Mark
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
    "clip": "clip",
    "offset": "offset",
    "marks": "marks",
}
"""Keys of the settings file, most of which are options too, and the fields they fill."""

PATHS = ("vocabulary", "templates", "clip")
"""Keys whose values are looked for beside the settings file."""

NOT_OF_THE_BRIEF = (*PATHS, "offset", "marks")

SHARED = "coach.yaml"
"""Settings that a coach shares between all clips of a folder."""


class Settings(Record):
    """The brief, the coach's own folders, the clip, and where each key was told."""

    brief: Brief = Brief()
    vocabulary: Path | None = None
    templates: Path | None = None
    clip: Path | None = None
    """The clip that is talked about, where the narration is a file of its own."""
    marks: tuple[Mark, ...] = ()
    """Where the clip stands at some seconds of the narration."""
    where: dict[str, str] = Field(default_factory=dict)


def load_settings(narration: Path, options: Mapping[str, Any]) -> Settings:
    """Settings of one narration: options, NAME.yaml beside it, coach.yaml, defaults, in this order.

    ``options`` maps keys of KEYS to values as typed, None where not given. Raises InputError.
    """
    merged: dict[str, Any] = {}
    where: dict[str, str] = {}
    for found, place in _told(narration, options):
        if found.keys() & {"offset", "marks"}:  # one takes the place of the other
            merged = {k: v for k, v in merged.items() if k not in {"offset", "marks"}}
        merged |= found
        where |= {key: f"{place}{key}" for key in found}
    own = {key: merged.pop(key, None) for key in NOT_OF_THE_BRIEF}
    marks = read_marks(own.pop("offset"), own.pop("marks"), where)
    return Settings(brief=_brief(merged, where), marks=marks, where=where, **own)


def _told(narration: Path, options: Mapping[str, Any]) -> Iterator[tuple[dict[str, Any], str]]:
    """Keys with their values and how to say where they were told; what comes later wins."""
    for path in dict.fromkeys([narration.parent / SHARED, narration.with_suffix(".yaml")]):
        if path.is_file() and path != narration:
            read = _read(path)
            beside = {key: path.parent / str(read[key]) for key in PATHS if key in read}
            yield read | beside, f"{path}, "
    yield {key: value for key, value in options.items() if value is not None}, "--"


def check_options(options: Mapping[str, Any]) -> None:
    """Raises InputError for an option that is wrong whatever the clip."""
    given = {key: value for key, value in options.items() if value is not None}
    where = {key: f"--{key}" for key in given}
    read_marks(given.get("offset"), None, where)
    _brief({k: v for k, v in given.items() if k not in NOT_OF_THE_BRIEF}, where)


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


def read_marks(offset: object, marks: object, where: Mapping[str, str]) -> tuple[Mark, ...]:
    """The clip's marks: from an offset, or from pairs of narration and clip times.

    ``offset`` is the second of the narration at which the clip starts, below zero where it ran
    before. Times are seconds or "m:ss". Raises InputError, naming ``where`` each was told.
    """
    if offset is None:
        return _marks_in(marks, where["marks"]) if marks is not None else ()
    if marks is not None:
        raise InputError("stands beside marks", where["offset"], "give one or the other")
    start = _seconds(offset, where["offset"])
    return (Mark(narration_s=max(0.0, start), clip_s=max(0.0, -start)),)


def _marks_in(marks: object, where: str) -> tuple[Mark, ...]:
    remedy = 'write each as [narration, clip], like ["0:12", "0:00"]'
    if not isinstance(marks, list) or not marks:
        raise InputError("is not a list of marks", where, remedy)
    read: list[Mark] = []
    for number, pair in enumerate(marks, start=1):
        if not isinstance(pair, list) or len(pair) != 2:
            raise InputError(f"mark {number} is not a pair of times", where, remedy)
        narration, clip = (_seconds(time, where) for time in pair)
        if min(narration, clip) < 0:
            raise InputError(f"mark {number} is below zero", where, remedy)
        if read and narration < read[-1].narration_s:
            raise InputError(
                f"mark {number} comes before the one above it", where, "put them in order"
            )
        read.append(Mark(narration_s=narration, clip_s=clip))
    return tuple(read)


def _seconds(time: object, where: str) -> float:
    """Seconds of a number or of "m:ss", with a sign where given."""
    text = str(time).strip()
    sign = -1.0 if text.startswith("-") else 1.0
    minutes, _, seconds = text.removeprefix("-").rpartition(":")
    try:
        if minutes and not 0 <= float(seconds) < 60:
            raise ValueError(text)
        whole = sign * (float(minutes or 0) * 60 + float(seconds))
    except ValueError as error:
        raise InputError(
            f"{text!r} is not a time", where, 'write it in seconds or like "1:05"'
        ) from error
    if isinstance(time, bool) or not math.isfinite(whole):
        raise InputError(f"{text!r} is not a time", where, 'write it in seconds or like "1:05"')
    return whole


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
