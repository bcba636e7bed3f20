"""The coach's edit read back: each slip in one line, with its place."""

import difflib
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import yaml
from pydantic import ValidationError
from yaml.nodes import MappingNode, Node, SequenceNode

from voicenotes.editing.model import Edit
from voicenotes.errors import InputError
from voicenotes.words import moment

_Loc = tuple[int | str, ...]


class EditFile:
    """An edit and the file it came from: tells the place of an entry."""

    def __init__(self, edit: Edit, path: Path, root: Node | None) -> None:
        self.edit, self.path, self._root = edit, path, root

    def error(self, loc: _Loc, what: str, do: str) -> InputError:
        """What is wrong at a place of the file, as ("corrections", 2, "side")."""
        return InputError(what, _where(self.path, self._root, loc), do)


def read_edit(path: Path) -> EditFile:
    """Reads edit.yaml. Raises InputError for what is no YAML, and for keys and values that no
    entry has."""
    try:
        text = path.read_text(encoding="utf-8-sig")
        if any(isinstance(event, yaml.AliasEvent) for event in yaml.parse(text)):
            raise InputError("uses an alias (*name)", str(path), "write the words out")
        root = yaml.compose(text, Loader=yaml.SafeLoader)
        data = yaml.safe_load(text)
    except (yaml.YAMLError, ValueError) as error:
        mark = getattr(error, "problem_mark", None)
        line = f", line {mark.line + 1}" if mark else ""
        raise InputError(
            "is not YAML text", f"{path}{line}", "mend the line, or put words in quotes"
        ) from error
    except OSError as error:
        raise InputError("cannot be read", str(path), "check the file") from error
    _check_once(root, path)
    shaped = _with_text_moments(data) if isinstance(data, dict) else data or {}
    try:
        return EditFile(Edit.model_validate(shaped), path, root)
    except ValidationError as error:
        raise _told(error, path, root) from error


def did_you_mean(word: object, known: Iterable[str]) -> str:
    """ " (did you mean 'left'?)", or nothing."""
    close = difflib.get_close_matches(str(word), [*known], n=1)
    return f" (did you mean {close[0]!r}?)" if close else ""


def _with_text_moments(data: dict[Any, Any]) -> dict[Any, Any]:
    """Moments as text: YAML reads a bare 1:18 as 78."""
    return {
        key: [_entry_with_text_moments(e) for e in value] if isinstance(value, list) else value
        for key, value in data.items()
        if value is not None
    }


def _entry_with_text_moments(entry: Any) -> Any:
    said = entry.get("said") if isinstance(entry, dict) else None
    if not isinstance(said, dict):
        return entry
    words = {moment(k) if isinstance(k, int) else str(k): v for k, v in said.items()}
    return {**entry, "said": words}


def _told(error: ValidationError, path: Path, root: Node | None) -> InputError:
    """The first slip of the file in plain words."""
    first = error.errors()[0]
    loc: _Loc = first["loc"]
    where = _where(path, root, loc)
    if first["type"] == "extra_forbidden":
        known = _known_keys(loc)
        what = f"unknown key {loc[-1]!r}{did_you_mean(loc[-1], known)}"
        return InputError(what, where, f"use {', '.join(known)}")
    if first["type"] == "missing":
        return InputError("does not say which entry it is", where, f"give {loc[-1]!r}")
    problem = str(first["msg"]).removeprefix("Input ").removeprefix("Value error, ")
    shown = first["input"] if isinstance(first["input"], str | int | float | bool) else "this"
    what = f"{shown!r} cannot be used: it {problem}" if shown != "this" else f"it {problem}"
    return InputError(what, where, "change it as the comments at the file's head say")


def _known_keys(loc: _Loc) -> list[str]:
    if len(loc) < 3:
        return [*Edit.model_fields]
    entry = Edit.model_fields[str(loc[0])].annotation.__args__[0]  # type: ignore[union-attr]
    return [field.alias or name for name, field in entry.model_fields.items()]


def _where(path: Path, root: Node | None, loc: _Loc) -> str:
    """ "clip/edit.yaml, line 31, corrections, elbow_drops, side"."""
    node, line, words = root, None, []
    for step in loc:
        if isinstance(node, MappingNode):
            pair = next(((k, v) for k, v in node.value if str(k.value) == str(step)), None)
            if pair is None:
                break
            line, node = pair[0].start_mark.line + 1, pair[1]
            words.append(str(step))
        elif isinstance(node, SequenceNode) and isinstance(step, int):
            node = node.value[step]
            line = node.start_mark.line + 1
            words.append(_entry_name(node) or f"entry {step + 1}")
    place = [str(path), *([f"line {line}"] if line else []), *words]
    return ", ".join(place)


def _entry_name(node: Node) -> str | None:
    if isinstance(node, MappingNode):
        for key, value in node.value:
            if key.value in {"strength", "correction", "figure", "set"}:
                return str(value.value)
    return None


def _check_once(node: Node | None, path: Path) -> None:
    """Raises InputError for a key that stands twice in one entry: YAML would keep the last."""
    if isinstance(node, MappingNode):
        seen: set[str] = set()
        for key, value in node.value:
            if str(key.value) in seen:
                raise InputError(
                    f"{key.value!r} stands twice",
                    f"{path}, line {key.start_mark.line + 1}",
                    "take one of the two lines out",
                )
            seen.add(str(key.value))
            _check_once(value, path)
    elif isinstance(node, SequenceNode):
        for item in node.value:
            _check_once(item, path)
