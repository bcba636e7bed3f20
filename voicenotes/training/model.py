"""The network: an encoder over a window of speech, and heads over each of its sentences."""

import json
from pathlib import Path
from typing import Any

import torch
from torch import Tensor, nn
from torch.nn import functional

from voicenotes.reading.learned.numbers import NUMBER_ROLES
from voicenotes.reading.learned.packed import GROUP, LEVELS
from voicenotes.training.corpus import SEVERITIES, SIDES, STATUSES

OFF_TOPIC = len(STATUSES)
"""The tenth class of the status head."""
_LOW = 96
_SHARPNESS = 4.0


class ReaderNet(nn.Module):
    """Encoder and heads. Every code looks at the words of the sentence that matter to it.

    Outputs, a row a sentence: ``true`` and ``mention`` (logits a code), ``status``, ``figures``
    (measures as observed, then as target), ``cause`` and ``effect`` (logits a code), ``side`` and
    ``severity`` (logits for each code), ``peak`` (the token looked at most for each code),
    ``number`` (for each of its tokens, logits of NUMBER_ROLES, then of the measures).
    """

    def __init__(self, encoder: nn.Module, codes: int, measures: int) -> None:
        super().__init__()
        self.encoder = encoder
        width = int(encoder.config.hidden_size)  # type: ignore[union-attr,arg-type]
        self.drop = nn.Dropout(0.1)
        self.query = nn.Parameter(torch.randn(codes, width) * 0.02)
        self.key = nn.Linear(width, width)
        self.value = nn.Parameter(torch.randn(2, codes, width) * 0.02)
        self.sentence = nn.ModuleDict(
            {
                "true": nn.Linear(width, codes),
                "mention": nn.Linear(width, codes),
                "status": nn.Linear(width, len(STATUSES) + 1),
                "figures": nn.Linear(width, 2 * measures),
                "cause": nn.Linear(width, codes),
                "effect": nn.Linear(width, codes),
            }
        )
        self.number = nn.Linear(width, len(NUMBER_ROLES) + measures)
        self.mark = nn.Parameter(torch.randn(width) * 0.02)
        self.code = nn.Parameter(torch.randn(codes, _LOW) * 0.1)
        self.low = nn.Linear(width, _LOW)
        self.side = nn.Linear(_LOW, len(SIDES))
        self.severity = nn.Linear(_LOW, len(SEVERITIES))
        for name, layer in self.sentence.items():
            if name != "status":
                nn.init.constant_(layer.bias, -4.0)

    @property
    def words(self) -> nn.Parameter:
        """The word vectors, a row a token id."""
        weight: nn.Parameter = self.encoder.get_parameter("embeddings.word_embeddings.weight")
        return weight

    def embed(self, ids: Tensor, asked: Tensor) -> Tensor:
        """Word vectors of token ids, those asked about marked, as ``forward`` takes them."""
        vectors = functional.embedding(ids, self.words)
        return vectors + asked.to(vectors.dtype).unsqueeze(-1) * self.mark

    def forward(
        self, words: Tensor, mask: Tensor, index: Tensor, inside: Tensor
    ) -> dict[str, Tensor]:
        """``index`` and ``inside`` (sentences x longest) say where each sentence's tokens lie."""
        hidden = self.encoder(inputs_embeds=words, attention_mask=mask).last_hidden_state
        tokens = self.drop(hidden.flatten(0, 1)[index])
        weight = inside.to(tokens.dtype).unsqueeze(-1)
        mean = (tokens * weight).sum(1) / weight.sum(1).clamp(min=1)
        out = {name: head(mean) for name, head in self.sentence.items()}
        score = torch.matmul(self.key(tokens), self.query.T) * (
            _SHARPNESS / tokens.shape[-1] ** 0.5
        )
        look = score.masked_fill(~inside.bool().unsqueeze(-1), -1e4).softmax(1)
        for number, name in enumerate(("true", "mention")):
            out[name] = out[name] + (look * torch.matmul(tokens, self.value[number].T)).sum(1)
        about = torch.tanh(torch.matmul(look.transpose(1, 2), self.low(tokens)) + self.code)
        out |= {"side": self.side(about), "severity": self.severity(about)}
        return {**out, "peak": look.argmax(1), "number": self.number(tokens)}


def load_encoder(folder: Path, layers: int | None = None) -> nn.Module:
    """The base model in a folder (config.json, model.safetensors), its first layers only."""
    from transformers import AutoConfig, AutoModel

    config: Any = AutoConfig.from_pretrained(folder)
    attention = "sdpa" if config.model_type == "bert" else "eager"
    encoder: Any = AutoModel.from_pretrained(
        folder, attn_implementation=attention, add_pooling_layer=False, dtype=torch.float32
    )
    if layers is not None:
        encoder.encoder.layer = encoder.encoder.layer[:layers]
        encoder.config.num_hidden_layers = layers
    model: nn.Module = encoder
    return model


def marks_of(folder: Path) -> tuple[str, str, str]:
    """The tokeniser's marks of start, end and padding."""
    marks = json.loads((folder / "special_tokens_map.json").read_text(encoding="utf-8"))
    texts = (marks[name] for name in ("cls_token", "sep_token", "pad_token"))
    start, end, pad = (mark if isinstance(mark, str) else mark["content"] for mark in texts)
    return start, end, pad


def in_four_bits(weights: Tensor) -> Tensor:
    """The weights as ``reading.packed`` will give them back."""
    levels = torch.from_numpy(LEVELS).to(weights.device)
    groups = weights.reshape(-1, GROUP)
    scales = groups.abs().amax(1, keepdim=True).clamp(min=1e-8).half().float()
    codes = torch.bucketize((groups / scales).contiguous(), (levels[1:] + levels[:-1]) / 2)
    return (levels[codes] * scales).reshape(weights.shape)


def packed_weights(net: ReaderNet) -> list[nn.Parameter]:
    """The parameters that are kept in four bits: the encoder's matrices and word vectors."""
    return [
        parameter
        for name, parameter in net.encoder.named_parameters()
        if parameter.ndim == 2 and parameter.shape[1] % GROUP == 0
        and ("layer." in name or "word_embeddings" in name)
    ]  # fmt: skip
