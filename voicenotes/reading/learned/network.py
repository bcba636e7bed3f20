"""The learned reader's network: loaded from the package's weights, run by onnxruntime."""

import json
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from voicenotes.reading.learned.packed import unpack
from voicenotes.reading.learned.windows import Plan, Tokens, tokens_of, windows_of

WEIGHTS = Path(__file__).parent / "weights"
"""model.onnx (the graph), weights.npz (packed), tokenizer.json, labels.json, card.md."""
TOGETHER = 6
"""Windows run at once: more outgrow the caches, fewer leave cores idle (measured)."""

Array = NDArray[Any]


class Network:
    """Says of every sentence what its heads say; ``labels`` names what that is.

    Its weights are unpacked in the background from the start, beside what else is to be loaded.
    """

    def __init__(self, folder: Path) -> None:
        from tokenizers import Tokenizer

        self.labels: dict[str, Any] = json.loads(
            (folder / "labels.json").read_text(encoding="utf-8")
        )
        self._folder = folder
        self._tokenizer = Tokenizer.from_file(str(folder / "tokenizer.json"))
        start, end = self.labels["marks"]
        self._start = self._id_of(start)
        self._end = self._id_of(end)
        background = ThreadPoolExecutor(1, "weights")
        self._loading = background.submit(_load, folder)
        background.shutdown(wait=False)

    def _id_of(self, mark: str) -> int:
        number = self._tokenizer.token_to_id(mark)
        if number is None:
            raise ValueError(f"{self._folder}: its tokeniser does not know {mark}")
        return int(number)

    def tokens(self, text: str) -> tuple[list[int], list[tuple[int, int]]]:
        """Token ids of a text, and the characters each stands for."""
        encoded = self._tokenizer.encode(text, add_special_tokens=False)
        return encoded.ids, encoded.offsets

    def run(self, sentences: Sequence[Sequence[int]]) -> dict[str, Array]:
        """The outputs of all heads, a row a sentence. ``sentences`` are token ids.

        What is said of each token is filled up with 0 to the longest sentence.
        """
        lengths = [len(sentence) for sentence in sentences]
        windows = windows_of(lengths, Plan(**self.labels["plan"]))
        written = [tokens_of(sentences, window, self._start, self._end) for window in windows]
        rows: dict[int, dict[str, Array]] = {}
        order = sorted(range(len(written)), key=lambda i: len(written[i].ids))
        for group in _groups(order, TOGETHER):
            out = self._run_together([written[i] for i in group])
            row = 0
            for i in group:
                for number in range(windows[i].start, windows[i].end):
                    rows[number] = {name: values[row] for name, values in out.items()}
                    row += 1
        return {name: _stacked([rows[i][name] for i in range(len(rows))]) for name in rows[0]}

    def _run_together(self, written: Sequence[Tokens]) -> dict[str, Array]:
        longest = max(len(tokens.ids) for tokens in written)
        ids = np.full((len(written), longest), self._end)
        mask = np.zeros(ids.shape, np.int64)
        spans = []
        for row, tokens in enumerate(written):
            ids[row, : len(tokens.ids)] = tokens.ids
            mask[row, : len(tokens.ids)] = 1
            spans += [(row * longest + a, row * longest + b) for a, b in tokens.spans]
        index = np.zeros((len(spans), max(1, *(b - a for a, b in spans))), np.int64)
        inside = np.zeros(index.shape, np.int64)
        for row, (a, b) in enumerate(spans):
            index[row, : b - a], inside[row, : b - a] = np.arange(a, b), 1
        weights, session = self._loading.result()
        words = _vectors(weights, ids)
        asked = index[inside > 0]
        words.reshape(-1, words.shape[-1])[asked] += weights["mark"]
        given = {"words": words, "mask": mask, "index": index, "inside": inside}
        outputs = [output.name for output in session.get_outputs()]
        return dict(zip(outputs, session.run(outputs, given), strict=True))


def _load(folder: Path) -> tuple[dict[str, Array], Any]:
    """The packed weights, and the graph with them put in: four bits on disk, eight at work."""
    import onnxruntime

    with np.load(folder / "weights.npz") as stored:
        weights = dict(stored)
    options = onnxruntime.SessionOptions()
    options.log_severity_level = 3
    inner = {name for name in weights if not name.startswith(("words", "mark"))}
    names = sorted(n for n in inner if not n.endswith((".scales", ".steps", ".factors")))
    values = [np.ascontiguousarray(_full(weights, name)) for name in names]
    wrapped = [onnxruntime.OrtValue.ortvalue_from_numpy(value) for value in values]
    options.add_external_initializers(names, wrapped)
    path = str(folder / "model.onnx")
    session = onnxruntime.InferenceSession(path, options, providers=["CPUExecutionProvider"])
    return weights, session


def _full(weights: dict[str, Array], name: str) -> Array:
    stored = weights[name]
    if f"{name}.scales" not in weights:
        return stored.astype(np.float32)
    whole = unpack(stored, weights[f"{name}.scales"])
    if f"{name}.factors" in weights:
        whole *= weights[f"{name}.factors"].astype(np.float32)
    whole /= weights[f"{name}.steps"].reshape(-1, 1)
    np.clip(np.rint(whole, out=whole), -127, 127, out=whole)
    return whole.astype(np.int8).T


def _stacked(rows: Sequence[Array]) -> Array:
    """Rows as one array, the shorter ones filled up with 0."""
    if rows[0].ndim < 2 or len({row.shape for row in rows}) == 1:
        return np.stack(rows)
    longest = max(len(row) for row in rows)
    return np.stack([np.pad(row, ((0, longest - len(row)), (0, 0))) for row in rows])


def _vectors(weights: dict[str, Array], ids: Array) -> Array:
    used, where = np.unique(ids, return_inverse=True)
    vectors = unpack(weights["words"][used], weights["words.scales"][used])
    return vectors[where.reshape(ids.shape)]


def _groups(order: Sequence[int], size: int) -> Iterator[Sequence[int]]:
    for first in range(0, len(order), size):
        yield order[first : first + size]


@lru_cache(maxsize=2)
def load_network(folder: Path) -> Network:
    """The network in a folder, loaded once."""
    return Network(folder)
