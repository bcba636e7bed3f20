"""A trained reader -> the files that run without torch: graph, packed weights, words, labels."""

import json
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
import onnx
import torch
from numpy.typing import NDArray
from onnx import numpy_helper
from onnxruntime.quantization import QuantType, quantize_dynamic
from torch import Tensor, nn

from voicenotes.reading.learned.packed import pack, unpack
from voicenotes.training.corpus import Corpus
from voicenotes.training.examples import reading_passages
from voicenotes.training.model import ReaderNet, marks_of, packed_weights
from voicenotes.training.smooth import smooth
from voicenotes.training.train import Trained

Matrix = tuple[Tensor, Tensor | None]
"""Weights, and the factors that smoothing multiplies their columns by."""
WORDS_KEPT = 12_800
"""Word pieces in the reader's tokeniser: all that the corpus uses, then the commonest."""
_SMALL = 2048
_FARTHEST = 512
_OUTPUTS = (
    "true", "mention", "status", "figures", "cause", "effect", "side", "severity", "peak", "number",
)  # fmt: skip


class _Named(nn.Module):
    """The network with its outputs in a fixed order."""

    def __init__(self, net: ReaderNet) -> None:
        super().__init__()
        self.net = net
        _look_up_distances(net.encoder.encoder)

    def forward(self, words: Tensor, mask: Tensor, index: Tensor, inside: Tensor) -> Any:
        out = self.net(words, mask, index, inside)
        return tuple(out[name] for name in _OUTPUTS)


def _look_up_distances(encoder: Any) -> None:
    """Makes the classes of distance between words a table.

    They come from a logarithm cut to whole numbers, which another runtime rounds otherwise.
    """
    if not hasattr(encoder, "relative_position_bucket"):
        return
    distances = torch.arange(1 - _FARTHEST, _FARTHEST)
    table = encoder.relative_position_bucket(distances)

    def bias(x: Tensor, position_ids: Tensor | None = None, num_buckets: int = 32) -> Tensor:
        places = torch.arange(x.size(1))
        apart = places[None, :] - places[:, None] + _FARTHEST - 1
        values: Tensor = encoder.relative_attention_bias(table[apart])
        return values.permute(2, 0, 1).unsqueeze(0)

    encoder.compute_position_bias = bias


def export(
    trained: Trained, base: Path, corpus: Corpus, folder: Path, labels: dict[str, Any]
) -> None:
    """Writes model.onnx, weights.npz, tokenizer.json and labels.json into the folder.

    ``labels`` is kept as it is, with codes, measures, plan and marks added.
    """
    folder.mkdir(parents=True, exist_ok=True)
    net = trained.net.cpu().eval()
    rows = _write_tokenizer(base, corpus, folder)
    matrices = [(p.detach().clone(), None) for p in packed_weights(net) if p is not net.words]
    some = corpus.narrations[:: max(1, len(corpus.narrations) // 16)]
    passages = [p for t in some for p in reading_passages(t, trained.plan, trained.writer.encode)]
    smoothed = list(smooth(trained, passages[:160]).values())
    with TemporaryDirectory() as place:
        whole, small = Path(place) / "whole.onnx", Path(place) / "small.onnx"
        _write_graph(net, whole)
        encoder = [n.name for n in onnx.load(whole).graph.node if "/encoder/" in n.name]
        quantize_dynamic(
            whole, small, op_types_to_quantize=["MatMul"], per_channel=True,
            nodes_to_quantize=encoder, weight_type=QuantType.QInt8,
        )  # fmt: skip
        model = onnx.load(small)
    weights = _take_weights(model, [*smoothed, *matrices])
    words, scales = pack(net.words.detach().numpy()[rows])
    weights |= {"words": words, "words.scales": scales, "mark": net.mark.detach().numpy()}
    onnx.save(model, folder / "model.onnx")
    np.savez(folder / "weights.npz", allow_pickle=False, **weights)
    plan, names = trained.plan, trained.writer.labels
    said = {
        "codes": list(names.codes),
        "measures": list(names.measures),
        "plan": {"width": plan.width, "before": plan.before, "after": plan.after},
        "marks": list(marks_of(base)[:2]),
        **labels,
    }
    text = json.dumps(said, indent=1, ensure_ascii=False) + "\n"
    (folder / "labels.json").write_text(text, encoding="utf-8")


def _write_tokenizer(base: Path, corpus: Corpus, folder: Path) -> NDArray[np.int64]:
    """A tokeniser of fewer word pieces; returns their ids in the base model's."""
    from tokenizers import Tokenizer

    whole = Tokenizer.from_file(str(base / "tokenizer.json"))
    data = json.loads((base / "tokenizer.json").read_text(encoding="utf-8"))
    vocabulary: dict[str, int] = data["model"]["vocab"]
    texts = [unit.text for talk in corpus.talks for unit in talk.units]
    texts += [text.lower() for text in texts]
    kept = {i for text in texts for i in whole.encode(text, add_special_tokens=False).ids}
    kept |= {i for piece, i in vocabulary.items() if len(piece.removeprefix("##")) == 1}
    kept |= {vocabulary[mark] for mark in (*marks_of(base), "[UNK]")}
    for piece, i in sorted(vocabulary.items(), key=lambda item: item[1]):
        if len(kept) >= WORDS_KEPT:
            break
        if piece.isascii() and "unused" not in piece:
            kept.add(i)
    order = sorted(kept)
    new = {old: number for number, old in enumerate(order)}
    data["model"]["vocab"] = {p: new[i] for p, i in vocabulary.items() if i in new}
    data["added_tokens"] = [
        {**token, "id": new[token["id"]]} for token in data["added_tokens"] if token["id"] in new
    ]
    data["post_processor"] = data["truncation"] = data["padding"] = None
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    (folder / "tokenizer.json").write_text(text, encoding="utf-8")
    return np.array(order)


def _write_graph(net: ReaderNet, path: Path) -> None:
    width = net.mark.shape[0]
    words = torch.zeros(2, 24, width)
    mask = torch.ones(2, 24, dtype=torch.int64)
    index = torch.arange(15).reshape(3, 5)
    axes = {name: {0: "windows", 1: "tokens"} for name in ("words", "mask")}
    axes |= {name: {0: "sentences"} for name in _OUTPUTS}
    axes |= {name: {0: "sentences", 1: "longest"} for name in ("index", "inside", "number")}
    torch.onnx.export(
        _Named(net),
        (words, mask, index, torch.ones_like(index)),
        str(path),
        input_names=["words", "mask", "index", "inside"],
        output_names=list(_OUTPUTS),
        dynamic_axes=axes,
        opset_version=17,
        dynamo=False,
    )


def _take_weights(model: onnx.ModelProto, matrices: list[Matrix]) -> dict[str, NDArray[Any]]:
    """Takes the large tensors out of the graph; their names and places in it stay.

    Matrices of the encoder come out in four bits with the steps of their eight-bit form,
    everything else at half precision.
    """
    taken: dict[str, NDArray[Any]] = {}
    tensors = {tensor.name: tensor for tensor in model.graph.initializer}
    for name, tensor in tensors.items():
        values = numpy_helper.to_array(tensor)
        if values.nbytes < _SMALL or name.endswith(("_scale", "_zero_point")):
            continue
        if values.dtype == np.int8:
            steps = numpy_helper.to_array(tensors[name.replace("_quantized", "_scale")])
            taken |= _packed(name, values, steps, matrices)
        elif values.dtype == np.float32:
            taken[name] = values.astype(np.float16)
        else:
            continue
        _leave_outside(tensor)
    return taken


def _packed(
    name: str, values: NDArray[np.int8], steps: NDArray[np.float32], matrices: list[Matrix]
) -> dict[str, NDArray[Any]]:
    """The four-bit form of an eight-bit matrix of the graph, found among the network's own."""
    for matrix, factors in matrices:
        if tuple(reversed(matrix.shape)) != values.shape:
            continue
        packed, scales = pack(matrix.numpy())
        whole = unpack(packed, scales)
        whole = whole if factors is None else whole * factors.numpy()
        again = np.rint(whole / steps.reshape(-1, 1)).clip(-127, 127)
        if np.abs(again.T - values).max() <= 1:
            out: dict[str, NDArray[Any]] = {
                name: packed,
                f"{name}.scales": scales,
                f"{name}.steps": steps,
            }
            if factors is not None:
                out[f"{name}.factors"] = factors.numpy().astype(np.float16)
            return out
    raise ValueError(f"{name}: no matrix of the network has these values; was it trained packed?")


def _leave_outside(tensor: onnx.TensorProto) -> None:
    tensor.ClearField("raw_data")
    tensor.ClearField("float_data")
    tensor.ClearField("int32_data")
    tensor.data_location = onnx.TensorProto.EXTERNAL
    del tensor.external_data[:]
    entry = tensor.external_data.add()
    entry.key, entry.value = "location", "weights.npz"
