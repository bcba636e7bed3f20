"""What the terminal shows: progress while hearing, then each review in short."""

import shlex
import sys
from collections.abc import Iterable, Iterator, Sequence
from types import TracebackType
from typing import Self

from rich.console import Console
from rich.markup import escape
from rich.progress import BarColumn, Progress, TaskID, TextColumn, TimeRemainingColumn
from rich.table import Table
from rich.text import Text

from voicenotes.errors import UserError
from voicenotes.feedback.spots import spot_of
from voicenotes.folder import Written
from voicenotes.notes import Side
from voicenotes.review import Correction, Review, Verdict
from voicenotes.speech.weights import Weights
from voicenotes.words import moment, number, quantity

LABEL = 9
"""Width of the first column: what a line is."""

WIDEST = 60
"""Of a correction: on a wide terminal its moments still stand near."""

MARGIN_UNITS = {"deg": "°", "s/100m": " s"}
"""Units told with a margin; for the others the range beside it tells."""

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
        """One review in short: what is good, what to work on, what to listen to again."""
        review = written.review
        whose = f"{review.brief.swimmer}, " if review.brief.swimmer else ""
        heading = Text.assemble(
            "\n", (review.name, "bold"), f"  {whose}{moment(review.duration)} heard"
        )
        self._out.print(heading)
        self._out.print(_notes([("good", "green", _strengths(written))]))
        self._out.print(_corrections(review))
        self._out.print(_notes(_to_look_at(review)))
        self._out.print(_notes(_state(written)))
        self._out.print(
            _notes([("written", "dim", f"{written.folder}: {', '.join(written.files)}")])
        )


def _notes(rows: Iterable[tuple[str, str, str]]) -> Table:
    """Lines of text beside what they are: label, its style, and words."""
    table = Table.grid(padding=(0, 2))
    table.add_column(no_wrap=True, min_width=LABEL)
    table.add_column(overflow="fold")
    for label, style, words in rows:
        if words:
            table.add_row(Text(f"  {label}", style), Text(words))
    return table


def _strengths(written: Written) -> str:
    """What was praised, in a line: "hand entry, catch (right)"."""
    sides: dict[str, set[Side | None]] = {}
    for finding in written.review.findings:
        if finding.kind == "strength":
            sides.setdefault(finding.code, set()).add(finding.side)
    known = written.vocabulary.strengths
    named = []
    for code in written.review.strengths:
        name = known[code].name if code in known else code.replace("_", " ")
        side = sides[code].pop() if len(sides[code]) == 1 else None
        named.append(name + _side(side))
    return ", ".join(named)


def _to_look_at(review: Review) -> Iterator[tuple[str, str, str]]:
    """What the coach should see to before this is sent."""
    for doubt in review.doubts:
        if doubt.reason == "cut_off":
            yield "cut off", "yellow", f"The file breaks off at {moment(doubt.start)}."
    for question in () if review.approved else review.questions:
        yield "check", "yellow", question.text
    for remark in review.plan.remarks:
        yield "plan", "yellow", remark


def _state(written: Written) -> Iterator[tuple[str, str, str]]:
    """Whether it can be sent, and how."""
    if written.notice:
        yield "edit", "yellow", f"Your edit is kept, but not in it: {written.notice}"
    if written.review.draft:
        yield (
            "draft",
            "yellow",
            (
                "Listen again, put right in edit.yaml what is wrong, then run: voicenotes approve"
                f" {shlex.quote(str(written.folder))}"
            ),
        )
    elif written.review.approved:
        changes = len(written.review.changes)
        made = f"with {changes} {'change' if changes == 1 else 'changes'} of yours"
        yield "approved", "green", made if changes else "as heard"


def _corrections(review: Review) -> Table:
    """Each correction with its moments, its figures below it; those to work on now first."""
    table = Table.grid(padding=(0, 2))
    table.add_column(no_wrap=True, min_width=LABEL)
    table.add_column(justify="right", no_wrap=True)
    table.add_column(overflow="fold", max_width=WIDEST)
    table.add_column(no_wrap=True)
    label = ""
    for correction in review.corrections:
        now = correction.focus == "now"
        said = Text(correction.name + _side(correction.side), "bold" if now else "")
        for verdict in _verdicts(review, correction):
            said.append(f"\n{verdict}", "dim")
        same, label = label == correction.focus, correction.focus
        mark = Text("" if same else f"  {label}", "bold cyan" if now else "dim")
        table.add_row(mark, str(correction.rank), said, _moments(review, correction))
    if not review.corrections:
        table.add_row("", "", "No fault was heard.", "")
    return table


def _side(side: Side | None) -> str:
    return {None: "", "both": " (both sides)"}.get(side, f" ({side})")


def _moments(review: Review, correction: Correction) -> str:
    """Its first moments as the page tells them: "0:14 0:22 +3", "0:14 (clip)"."""
    spot = spot_of(review, correction.mentions)
    told = [moment(one.second) for one in spot.moments]
    more = f" +{len(told) - MOMENTS_SHOWN}" if len(told) > MOMENTS_SHOWN else ""
    whose = " (clip)" if spot.in_clip and not review.clock.agrees else ""
    return " ".join(told[:MOMENTS_SHOWN]) + more + whose


def _verdicts(review: Review, correction: Correction) -> list[str]:
    """Each figure of a correction against its range: "155°, 35° over your 90 to 120°".

    The coach's own target comes before the usual range, which is told only where it says
    something else.
    """
    told = []
    for index in correction.figures:
        figure = review.figures[index]
        verdicts = [verdict for verdict in review.verdicts if verdict.figure == index]
        verdicts.sort(key=lambda verdict: verdict.against != "spoken target")
        if figure.observed is None or not verdicts:
            continue
        first, *others = verdicts
        line = f"{quantity(figure.observed, figure.unit)}, {_against(first, figure.unit)}"
        if other := next((v for v in others if v.outcome != first.outcome), None):
            line += f"; {_against(other, figure.unit)}"
        told.append(line)
    return [*dict.fromkeys(told)]


def _against(verdict: Verdict, unit: str) -> str:
    """ "35° over your 90 to 120°", "inside the usual 44 to 72 a minute"."""
    whose = "your" if verdict.against == "spoken target" else "the usual"
    wanted = f"{whose} {quantity((verdict.low, verdict.high), unit)}"
    margin = number(verdict.margin) + MARGIN_UNITS.get(unit, "")
    if verdict.outcome == "inside":
        return f"inside {wanted}"
    if verdict.outcome == "straddles":
        return f"reaches {margin} beyond {wanted}"
    return f"{margin} {verdict.outcome} {wanted}"


def show_models(models: Sequence[Weights]) -> None:
    """A table of the speech weights on this machine."""
    console = Console(highlight=False)
    table = Table(box=None, header_style="dim")
    for heading in ("name", "from", "size", "state", "folder"):
        table.add_column(heading, overflow="fold")
    for weights in models:
        table.add_row(*(escape(str(cell)) for cell in weights.row()))
    console.print(table)
