"""Fine-tuning: passes over the corpus, weights held to four bits for the later ones."""

import math
from collections.abc import Callable, Sequence
from contextlib import nullcontext
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import torch
from numpy.typing import NDArray
from tokenizers import Tokenizer
from torch import Tensor
from torch.nn import functional

from voicenotes.reading.learned.numbers import NUMBER_ROLES
from voicenotes.reading.learned.windows import LONGEST_SENTENCE, Plan
from voicenotes.training.corpus import Corpus, Talk, resplit
from voicenotes.training.examples import (
    UNKNOWN,
    Batch,
    Labels,
    Passage,
    Writer,
    one_by_one,
    reading_passages,
    training_passages,
)
from voicenotes.training.model import (
    ReaderNet,
    in_four_bits,
    load_encoder,
    marks_of,
    packed_weights,
)
from voicenotes.training.noise import Mishearing

SENTENCES = 32
"""Sentences a batch."""
FOLDS = 4
POSITIVE = 3.0
"""How much more a code that is there weighs than one that is not."""
_WEIGHTS = {"true": 1.0, "mention": 0.4, "figures": 0.3, "cause": 0.3, "effect": 0.3}
_KNOWN = {
    "true": "true?", "mention": "mention?", "figures": "figures?", "cause": "causes?",
    "effect": "causes?",
}  # fmt: skip

_NUMBER_WEIGHTS = (("number_role", "number_measure"), (0.6, 0.4))

Outputs = dict[str, Tensor]
ONE_BY_ONE = Plan(width=0, before=2, after=1)


@dataclass(frozen=True)
class Settings:
    """How a reader is trained. Rates are AdamW's for the encoder and for the heads."""

    plan: Plan = ONE_BY_ONE
    layers: int | None = 8
    passes: int = 8
    rate: float = 6e-5
    head_rate: float = 1e-3
    noisiness: float = 0.5
    packed_from: float = 0.5
    """Share of the training after which weights are held to four bits; 1 for never."""


@dataclass(frozen=True)
class Trained:
    """A trained network and what writes its input."""

    net: ReaderNet
    writer: Writer
    plan: Plan


def device_name() -> str:
    """Where to compute: the graphics card where there is one."""
    return "cuda" if torch.cuda.is_available() else "cpu"


def writer_for(base: Path, labels: Labels) -> Writer:
    """The writer that goes with a base model's tokeniser."""
    tokenizer = Tokenizer.from_file(str(base / "tokenizer.json"))
    tokenizer.no_padding()
    tokenizer.no_truncation()
    known: dict[str, tuple[list[int], list[tuple[int, int]]]] = {}

    def pieces(text: str) -> tuple[list[int], list[tuple[int, int]]]:
        if text not in known:
            encoded = tokenizer.encode(text, add_special_tokens=False)
            known[text] = encoded.ids, encoded.offsets
        return known[text]

    vocabulary = tokenizer.get_vocab()
    start, end, pad = (vocabulary[mark] for mark in marks_of(base))
    return Writer(pieces, (start, end, pad), labels)


def train(
    base: Path,
    corpus: Corpus,
    labels: Labels,
    settings: Settings,
    seed: int,
    teachers: Sequence[Trained] = (),
    tell: Callable[[str], None] = print,
) -> Trained:
    """Trains a reader from a base model; with teachers, half of what it learns is their view."""
    random = Random(seed)
    torch.manual_seed(seed)
    device = device_name()
    writer = writer_for(base, labels)
    encoder = load_encoder(base, settings.layers)
    net = ReaderNet(encoder, len(labels.codes), len(labels.measures)).to(device)
    trained = Trained(net, writer, settings.plan)
    noise = Mishearing(corpus.talks)
    recut = {talk.name: resplit(talk) for talk in corpus.narrations}
    steps = settings.passes * _batches_a_pass(corpus)
    optimizer, schedule = _optimizer(net, settings, steps)
    held, step = packed_weights(net), 0
    for number in range(settings.passes):
        net.train()
        talks = [random.choice((t, recut[t.name])) for t in corpus.narrations] + corpus.bank
        passages = training_passages(talks, settings.plan, noise, random, settings.noisiness)
        batches, total = _in_batches(list(passages), random), torch.zeros((), device=device)
        for group in batches:
            packed = held if step >= settings.packed_from * steps else []
            total += _step(trained, group, teachers, packed)
            optimizer.step()
            schedule.step()
            optimizer.zero_grad(set_to_none=True)
            step += 1
        tell(f"pass {number + 1} of {settings.passes}: loss {total.item() / len(batches):.3f}")
    if settings.packed_from < 1:
        for parameter in held:
            parameter.data = in_four_bits(parameter.data)
    return trained


def _step(
    trained: Trained,
    group: Sequence[Passage],
    teachers: Sequence[Trained],
    packed: Sequence[torch.nn.Parameter],
) -> Tensor:
    """Gradients of one batch. Those of packed weights are taken where packing puts them."""
    device = device_name()
    batch = trained.writer.batch(group, device, targets=True)
    views = [_outputs(teacher, group, device) for teacher in teachers]
    masters = [parameter.data for parameter in packed]
    for parameter in packed:
        parameter.data = in_four_bits(parameter.data)
    loss = _loss(trained.net, batch, views)
    loss.backward()  # type: ignore[no-untyped-call]
    for parameter, master in zip(packed, masters, strict=True):
        parameter.data = master
    torch.nn.utils.clip_grad_norm_(trained.net.parameters(), 1.0)
    return loss.detach()


def _batches_a_pass(corpus: Corpus) -> int:
    units = sum(unit.learned_from for talk in corpus.talks for unit in talk.units)
    return math.ceil(units / SENTENCES)


def _optimizer(net: ReaderNet, settings: Settings, steps: int) -> tuple[Any, Any]:
    """AdamW with a short warm-up and a straight way down."""
    body: list[Any] = []
    heads: list[Any] = []
    for name, parameter in net.named_parameters():
        (body if name.startswith("encoder.") else heads).append(parameter)
    groups = [
        {"params": [p for p in body if p.ndim > 1], "lr": settings.rate, "weight_decay": 0.01},
        {"params": [p for p in body if p.ndim <= 1], "lr": settings.rate, "weight_decay": 0.0},
        {"params": heads, "lr": settings.head_rate, "weight_decay": 0.01},
    ]
    optimizer = torch.optim.AdamW(groups, betas=(0.9, 0.98), fused=device_name() == "cuda")
    warm = max(1, int(0.06 * steps))

    def share(step: int) -> float:
        return min(1.0, (step + 1) / warm) * max(0.02, (steps - step) / steps)

    return optimizer, torch.optim.lr_scheduler.LambdaLR(optimizer, share)


def _in_batches(passages: list[Passage], random: Random) -> list[list[Passage]]:
    """Passages of like length together, the batches in random order."""

    def about(passage: Passage) -> float:
        return sum(map(len, passage.texts)) * random.uniform(0.8, 1.25)

    batches: list[list[Passage]] = [[]]
    for passage in sorted(passages, key=about):
        if sum(len(p.asked) for p in batches[-1]) + len(passage.asked) > SENTENCES:
            batches.append([])
        batches[-1].append(passage)
    random.shuffle(batches)
    return [batch for batch in batches if batch]


def _half(device: str) -> Any:
    return torch.autocast(device, dtype=torch.bfloat16) if device == "cuda" else nullcontext()


def _forward(net: ReaderNet, batch: Batch) -> Outputs:
    with _half(batch.ids.device.type):
        out = net(net.embed(batch.ids, batch.asked), batch.mask, batch.index, batch.inside)
    return {name: value.float() for name, value in out.items() if name != "peak"}


@torch.no_grad()
def _outputs(trained: Trained, passages: Sequence[Passage], device: str) -> Outputs:
    trained.net.eval()
    if trained.plan.width == 0:
        passages = [one for passage in passages for one in one_by_one(passage, trained.plan)]
    return _forward(trained.net, trained.writer.batch(passages, device, targets=False))


def _loss(net: ReaderNet, batch: Batch, views: Sequence[Outputs]) -> Tensor:
    out = _forward(net, batch)
    loss = gold_loss(out, batch.targets)
    if views:
        view = {name: torch.stack([v[name] for v in views]).mean(0) for name in views[0]}
        loss = 0.4 * loss + 0.6 * teachers_loss(out, view, batch.targets)
    return loss


def gold_loss(out: Outputs, goals: dict[str, Tensor]) -> Tensor:
    """How far the outputs are from the annotation, where that is known."""
    loss = torch.zeros((), device=out["true"].device)
    for name, weight in _WEIGHTS.items():
        goal, logit = goals[name], out[name]
        parts = (1 - goal) * functional.softplus(logit)
        parts = parts + POSITIVE * goal * functional.softplus(-logit)
        loss = loss + weight * (parts * goals[_KNOWN[name]]).sum(1).mean()
    for name, weight in (("side", 0.4), ("severity", 0.2), ("status", 0.3)):
        goal = goals[name].flatten()
        logits = out[name].flatten(0, -2)
        parts = functional.cross_entropy(logits, goal, ignore_index=UNKNOWN, reduction="sum")
        loss = loss + weight * parts / (goal != UNKNOWN).sum().clamp(min=1)
    for name, weight, logits in zip(*_NUMBER_WEIGHTS, _number_logits(out), strict=True):
        goal = goals[name].flatten()
        parts = functional.cross_entropy(
            logits.flatten(0, 1), goal, ignore_index=UNKNOWN, reduction="sum"
        )
        loss = loss + weight * parts / (goal != UNKNOWN).sum().clamp(min=1)
    return loss


def _number_logits(out: Outputs) -> tuple[Tensor, Tensor]:
    """Logits of each token's role and measure."""
    roles = len(NUMBER_ROLES)
    return out["number"][..., :roles], out["number"][..., roles:]


def teachers_loss(out: Outputs, view: Outputs, goals: dict[str, Tensor]) -> Tensor:
    """How far the outputs are from what the teachers say."""
    loss = torch.zeros((), device=out["true"].device)
    for name, weight in _WEIGHTS.items():
        goal = torch.sigmoid(view[name])
        parts = functional.binary_cross_entropy_with_logits(out[name], goal, reduction="none")
        loss = loss + weight * (parts * (1 + (POSITIVE - 1) * goal)).sum(1).mean()
    there = torch.sigmoid(view["true"])
    for name, weight in (("side", 0.4), ("severity", 0.2)):
        apart = functional.kl_div(
            out[name].log_softmax(-1), view[name].softmax(-1), reduction="none"
        ).sum(-1)
        loss = loss + weight * (apart * there).sum() / there.sum().clamp(min=1)
    status = functional.kl_div(
        out["status"].log_softmax(-1), view["status"].softmax(-1), reduction="batchmean"
    )
    return loss + 0.3 * status + _numbers_apart(out, view, goals)


def _numbers_apart(out: Outputs, view: Outputs, goals: dict[str, Tensor]) -> Tensor:
    """How far the outputs for the tokens of numbers are from the teachers'."""
    at, loss = goals["number_role"] != UNKNOWN, torch.zeros((), device=out["number"].device)
    pairs = zip(_number_logits(out), _number_logits(view), strict=True)
    for weight, (mine, theirs) in zip(_NUMBER_WEIGHTS[1], pairs, strict=True):
        apart = functional.kl_div(mine.log_softmax(-1), theirs.softmax(-1), reduction="none").sum(
            -1
        )
        loss = loss + weight * (apart * at).sum() / at.sum().clamp(min=1)
    return loss


def read_talks(trained: Trained, talks: Sequence[Talk]) -> dict[str, NDArray[np.float32]]:
    """The outputs for every unit of the talks, in their order; ``number`` is filled up with 0."""
    device, groups = device_name(), []
    for talk in talks:
        passages = reading_passages(talk, trained.plan, trained.writer.encode)
        groups += [passages[i : i + 64] for i in range(0, len(passages), 64)]
    outputs = [_outputs(trained, group, device) for group in groups]
    for out in outputs:
        short = LONGEST_SENTENCE - out["number"].shape[1]
        out["number"] = functional.pad(out["number"], (0, 0, 0, short))
    return {
        name: np.concatenate([out[name].cpu().numpy() for out in outputs]) for name in outputs[0]
    }


def leave_out(corpus: Corpus, fold: int) -> tuple[Corpus, list[Talk]]:
    """The corpus less every fourth series of narrations, and those narrations.

    Names of one series differ only in their number; one hand wrote them.
    """
    series = {talk.name: talk.name.rstrip("0123456789") for talk in corpus.narrations}
    order = sorted(set(series.values()))
    left = [t for t in corpus.narrations if order.index(series[t.name]) % FOLDS == fold]
    kept = [t for t in corpus.narrations if order.index(series[t.name]) % FOLDS != fold]
    return Corpus(kept, corpus.bank), left
