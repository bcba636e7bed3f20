"""Reads the vocabulary's YAML files, and a coach's own folder on top of them."""

import difflib
import hashlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml
from pydantic import BaseModel, ValidationError

from voicenotes.errors import VocabularyError
from voicenotes.vocabulary.model import (
    Aid,
    Caution,
    Concept,
    Drill,
    Fault,
    Measure,
    Misheard,
    Strength,
    Vocabulary,
)

LIST_KINDS: dict[str, type[BaseModel]] = {
    "faults": Fault,
    "strengths": Strength,
    "measures": Measure,
    "drills": Drill,
    "aids": Aid,
    "cautions": Caution,
    "misheard": Misheard,
}
"""Top-level keys of a vocabulary file that hold entries with a ``code``."""

SLOTS = ("part", "motion", "place", "quality", "phase")
"""Slots of the lexicon."""


def packaged_folder() -> Path:
    """The vocabulary that comes with the tool: beside the code, or in the source tree."""
    package = Path(__file__).parent.parent
    inside = package / "vocab"
    return inside if inside.is_dir() else package.parent / "vocab"


def load_vocabulary(own: Path | None = None) -> Vocabulary:
    """The packaged vocabulary with a coach's own folder on top.

    A coach's entry with a known code overrides just the fields it names; one with a new code
    is added whole. Raises VocabularyError naming file, entry and field.
    """
    raw: dict[str, dict[str, dict[str, Any]]] = {kind: {} for kind in LIST_KINDS}
    lexicon: dict[str, dict[str, dict[str, Any]]] = {slot: {} for slot in SLOTS}
    where: dict[tuple[str, str], str] = {}
    digest = hashlib.sha256()
    for folder in [packaged_folder()] + ([own] if own else []):
        for path in _files(folder):
            digest.update(path.read_bytes())
            shown = path.relative_to(folder).as_posix()
            for kind, entries in _sections(path, shown):
                if kind == "lexicon":
                    _add_concepts(lexicon, entries, shown)
                else:
                    _add_entries(raw[kind], kind, entries, shown, where)
    built = {
        kind: {
            code: _validate(LIST_KINDS[kind], entry, where[kind, code], code)
            for code, entry in entries.items()
        }
        for kind, entries in raw.items()
    }
    concepts = {
        slot: {
            name: _validate(Concept, concept, f"lexicon {slot}", name)
            for name, concept in entries.items()
        }
        for slot, entries in lexicon.items()
    }
    vocabulary = Vocabulary(lexicon=concepts, digest=digest.hexdigest(), **built)
    _check_references(vocabulary, where)
    return vocabulary


def _files(folder: Path) -> list[Path]:
    if not folder.is_dir():
        raise VocabularyError("no such folder", str(folder), "name a folder of YAML files")
    return sorted(p for p in folder.rglob("*.y*ml") if p.suffix in {".yaml", ".yml"})


def _sections(path: Path, shown: str) -> Iterator[tuple[str, Any]]:
    try:
        data = yaml.load(path.read_text(encoding="utf-8"), Loader=_loader())
    except UnicodeDecodeError as error:
        raise VocabularyError("is not UTF-8 text", shown, "save it as UTF-8") from error
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        line = f" line {mark.line + 1}" if mark else ""
        problem = getattr(error, "problem", None) or "is not YAML"
        raise VocabularyError(str(problem), f"{shown}{line}", "mend the YAML there") from error
    if data is None:
        return
    if not isinstance(data, dict):
        raise VocabularyError("has no sections", shown, f"start it with one of {_kinds()}")
    for kind, entries in data.items():
        if kind != "lexicon" and kind not in LIST_KINDS:
            raise VocabularyError(
                f"unknown section {kind!r}{_near(kind, ['lexicon', *LIST_KINDS])}",
                shown,
                f"use one of {_kinds()}",
            )
        yield kind, entries


def _loader() -> Any:
    """The C parser where it is built in: it reads the vocabulary ten times faster."""
    return getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def _kinds() -> str:
    return ", ".join(["lexicon", *LIST_KINDS])


def _near(word: object, known: list[str]) -> str:
    close = difflib.get_close_matches(str(word), known, n=1)
    return f" (did you mean {close[0]!r}?)" if close else ""


def _add_entries(
    into: dict[str, dict[str, Any]],
    kind: str,
    entries: Any,
    shown: str,
    where: dict[tuple[str, str], str],
) -> None:
    if not isinstance(entries, dict):
        raise VocabularyError(f"{kind} is not a mapping", shown, "write it as CODE: fields")
    for code, entry in entries.items():
        if not isinstance(entry, dict):
            raise VocabularyError(f"{code} has no fields", f"{shown}, {kind}", "give it fields")
        into[str(code)] = {**into.get(str(code), {}), **entry, "code": str(code)}
        where[kind, str(code)] = f"{shown}, {kind}"


def _add_concepts(into: dict[str, dict[str, Any]], entries: Any, shown: str) -> None:
    place = f"{shown}, lexicon"
    for slot, concepts in _mapping(entries, "lexicon", place).items():
        if slot not in into:
            raise VocabularyError(
                f"unknown slot {slot!r}{_near(slot, [*SLOTS])}",
                place,
                f"use one of {', '.join(SLOTS)}",
            )
        for name, forms in _mapping(concepts, slot, place).items():
            if not isinstance(forms, list | None):
                raise VocabularyError(f"{name} is not a list", place, "write it as [word, word]")
            known = into[slot].get(name, {"forms": []})["forms"]
            into[slot][str(name)] = {"forms": [*known, *(str(form) for form in forms or [])]}


def _mapping(entries: Any, name: str, place: str) -> dict[Any, Any]:
    if entries is not None and not isinstance(entries, dict):
        raise VocabularyError(f"{name} is not a mapping", place, "write it as NAME: entries")
    return entries or {}


def _validate(model: type[BaseModel], entry: dict[str, Any], shown: str, code: str) -> BaseModel:
    try:
        return model.model_validate(entry)
    except ValidationError as error:
        first = error.errors()[0]
        field = ".".join(str(part) for part in first["loc"]) or "entry"
        fields = [*model.model_fields]
        hint = _near(first["loc"][0], fields) if first["type"] == "extra_forbidden" else ""
        raise VocabularyError(
            f"{code}, field {field}: {first['msg']}{hint}", shown, "mend that field"
        ) from error


def _check_references(vocabulary: Vocabulary, where: dict[tuple[str, str], str]) -> None:
    """Every code that an entry names must exist."""
    for kind, code, field, named, known in _references(vocabulary):
        if named not in known:
            raise VocabularyError(
                f"{code}, field {field}: unknown code {named!r}{_near(named, [*known])}",
                where.get((kind, code), kind),
                "name a code of the vocabulary",
            )


def _references(
    vocabulary: Vocabulary,
) -> Iterator[tuple[str, str, str, str, dict[str, Any]]]:
    for fault in vocabulary.faults.values():
        for drill in fault.drills:
            yield "faults", fault.code, "drills", drill, dict(vocabulary.drills)
        for code in fault.leads_to:
            yield "faults", fault.code, "leads_to", code, dict(vocabulary.faults)
        for sign in fault.measured_by:
            yield "faults", fault.code, "measured_by", sign.measure, dict(vocabulary.measures)
    for drill_entry in vocabulary.drills.values():
        for code in drill_entry.trains:
            yield "drills", drill_entry.code, "trains", code, dict(vocabulary.faults)
        for aid in drill_entry.equipment:
            yield "drills", drill_entry.code, "equipment", aid, dict(vocabulary.aids)
        for caution in drill_entry.cautions:
            yield "drills", drill_entry.code, "cautions", caution, dict(vocabulary.cautions)
    concepts = {name: True for slot in vocabulary.lexicon.values() for name in slot}
    for kind, entries in (("faults", vocabulary.faults), ("strengths", vocabulary.strengths)):
        for code, entry in entries.items():
            for frame in entry.frames:
                for slot in SLOTS:
                    for concept in getattr(frame, slot):
                        yield kind, code, f"frames.{slot}", concept, dict(vocabulary.lexicon[slot])
                for concept in frame.without:
                    yield kind, code, "frames.without", concept, concepts
