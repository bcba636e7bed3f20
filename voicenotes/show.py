"""What the terminal shows: progress while hearing, then each review in short."""

import sys
from collections.abc import Sequence
from types import TracebackType
from typing import Self

from rich.console import Console
from rich.markup import escape
from rich.progress import BarColumn, Progress, TaskID, TextColumn, TimeRemainingColumn
from rich.table import Table

from voicenotes.batch import Written
from voicenotes.errors import UserError
from voicenotes.judging.words import amount, moment, quantity
from voicenotes.review import Correction, Review
from voicenotes.speech.weights import Weights

MOMENTS_SHOWN = 3
"""A coach wants to jump to a fault, not to read every place it was said."""


class Screen:
    """The terminal of one run; progress goes to the error stream and only to a terminal."""

    def __init__(self) -> None:
        self._out = Console(highlight=False, soft_wrap=not sys.stdout.isatty())
        self._err = Console(stderr=True, highlight=False, soft_wrap=True)
        self._progress = Progress(
            TextColumn("hearing {task.description}"),
            BarColumn(),
            TextColumn("{task.percentage:3.0f} %"),
            TimeRemainingColumn(),
            console=self._err,
            transient=True,
            disable=not self._err.is_terminal,
        )
        self._tasks: dict[str, TaskID] = {}

    def __enter__(self) -> Self:
        self._progress.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._progress.stop()

    def hearing(self, name: str, done: float, total: float) -> None:
        """Moves the bar of one input."""
        if name not in self._tasks:
            self._tasks[name] = self._progress.add_task(escape(name), total=total)
        self._progress.update(self._tasks[name], completed=done, total=total)

    def problem(self, error: UserError) -> None:
        """One line for an input that could not be reviewed."""
        self._err.print(escape(f"voicenotes: {error}"), style="red")

    def summary(self, written: Written) -> None:
        """Corrections with moments and verdicts, what to listen to again, what was written."""
        review = written.review
        self._out.print(f"\n[bold]{escape(review.name)}[/bold]  {moment(review.duration)} heard")
        if review.corrections:
            self._out.print(_corrections(review))
        else:
            self._out.print("No fault was heard.")
        for question in review.questions:
            self._out.print(f"  [yellow]listen again[/yellow]  {escape(question.text)}")
        for remark in review.plan.remarks:
            self._out.print(f"  [yellow]plan[/yellow]  {escape(remark)}")
        self._out.print(f"  written to {escape(str(written.folder))}: {', '.join(written.files)}")


def _corrections(review: Review) -> Table:
    table = Table(box=None, pad_edge=True, show_header=True, header_style="dim")
    for heading in ("", "correction", "moments", "against target"):
        table.add_column(heading, overflow="fold")
    for correction in review.corrections:
        style = "bold" if correction.focus == "now" else "dim"
        table.add_row(
            str(correction.rank),
            escape(f"{correction.name}{_side(correction)}"),
            escape(_moments(correction)),
            escape("; ".join(_verdicts(review, correction))),
            style=style,
        )
    return table


def _side(correction: Correction) -> str:
    return f" ({correction.side})" if correction.side else ""


def _moments(correction: Correction) -> str:
    told = [*dict.fromkeys(moment(mention.start) for mention in correction.mentions)]
    more = f" +{len(told) - MOMENTS_SHOWN}" if len(told) > MOMENTS_SHOWN else ""
    return " ".join(told[:MOMENTS_SHOWN]) + more


def _verdicts(review: Review, correction: Correction) -> list[str]:
    """Each figure of a correction against its range: "155°, 35° over 90 to 120°"."""
    told = []
    for verdict in review.verdicts:
        figure = review.figures[verdict.figure]
        if verdict.figure not in correction.figures or figure.observed is None:
            continue
        measured = quantity(figure.observed, figure.unit)
        wanted = quantity((verdict.low, verdict.high), figure.unit)
        how = {
            "inside": "inside",
            "straddles": f"reaches {amount(verdict.margin, figure.unit)} outside",
        }.get(verdict.outcome, f"{amount(verdict.margin, figure.unit)} {verdict.outcome}")
        told.append(f"{measured}, {how} {wanted}")
    return [*dict.fromkeys(told)]


def show_models(models: Sequence[Weights]) -> None:
    """A table of the speech weights on this machine."""
    console = Console(highlight=False)
    table = Table(box=None, header_style="dim")
    for heading in ("name", "from", "size", "state", "folder"):
        table.add_column(heading, overflow="fold")
    for weights in models:
        table.add_row(*(escape(str(cell)) for cell in weights.row()))
    console.print(table)
