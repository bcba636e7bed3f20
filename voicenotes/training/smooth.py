"""Evening out activations before they are held to eight bits.

A few neurons of the feed-forward layers answer a hundred times as loudly as the rest, and one
scale for all would drown the rest. Each input is divided by a factor that the weights take over
(Xiao and others, 2022, "SmoothQuant").
"""

from collections.abc import Iterable

import torch
from torch import Tensor, nn

from voicenotes.training.examples import Passage
from voicenotes.training.model import ReaderNet
from voicenotes.training.train import Trained

_SHARES = {"intermediate": 0.7, "output": 0.85}
"""How much of the loudness the weights take over; chosen by the error left on narrations."""


class SmoothedLinear(nn.Module):
    """A linear layer whose input is divided by ``factors`` and whose weights are multiplied."""

    def __init__(self, layer: nn.Linear, factors: Tensor) -> None:
        super().__init__()
        self.quieter = nn.Parameter(1 / factors)
        self.layer = nn.Linear(layer.in_features, layer.out_features)
        self.layer.weight.data = layer.weight.data * factors
        self.layer.bias.data = layer.bias.data

    def forward(self, x: Tensor) -> Tensor:
        """What the plain layer gives."""
        out: Tensor = self.layer(x * self.quieter)
        return out


def smooth(trained: Trained, passages: list[Passage]) -> dict[int, tuple[Tensor, Tensor]]:
    """Smooths the feed-forward layers in place, by how loud the passages make their inputs.

    Returns the plain weights and the factors of each smoothed layer, by the layer's number in
    the order of the network (two a block).
    """
    loudest = _loudest(trained, passages)
    plain: dict[int, tuple[Tensor, Tensor]] = {}
    for block in _blocks(trained.net):
        for name, share in _SHARES.items():
            layer: nn.Linear = getattr(block, name).dense
            loud = loudest[layer].clamp(min=1e-3) ** share
            weights = layer.weight.detach()
            factors = loud / weights.abs().amax(0).clamp(min=1e-4) ** (1 - share)
            factors = factors.clamp(min=1e-3).half().float()
            plain[len(plain)] = (weights.clone(), factors)
            getattr(block, name).dense = SmoothedLinear(layer, factors)
    return plain


def _blocks(net: ReaderNet) -> Iterable[nn.Module]:
    blocks: Iterable[nn.Module] = net.encoder.encoder.layer  # type: ignore[union-attr,assignment]
    return blocks


@torch.no_grad()
def _loudest(trained: Trained, passages: list[Passage]) -> dict[nn.Module, Tensor]:
    """The largest value of each input of each layer."""
    seen: dict[nn.Module, Tensor] = {}

    def note(layer: nn.Module, given: tuple[Tensor, ...], _: Tensor) -> None:
        most = given[0].abs().flatten(0, -2).amax(0)
        seen[layer] = torch.maximum(seen[layer], most) if layer in seen else most

    layers = [getattr(block, name).dense for block in _blocks(trained.net) for name in _SHARES]
    hooks = [layer.register_forward_hook(note) for layer in layers]
    net = trained.net.eval()
    for first in range(0, len(passages), 8):
        batch = trained.writer.batch(passages[first : first + 8], "cpu", targets=False)
        net(net.embed(batch.ids, batch.asked), batch.mask, batch.index, batch.inside)
    for hook in hooks:
        hook.remove()
    return seen
