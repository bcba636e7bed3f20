"""What the terminal shows of swimmers over time."""

from collections.abc import Iterable, Sequence

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from voicenotes.history.places import Forgotten, Place
from voicenotes.history.progress import Fault, Line, Measured, Point, Progress
from voicenotes.history.store import Shared, Swimmer
from voicenotes.notes import Side
from voicenotes.words import number, quantity

POINTS_SHOWN = 6
"""The latest values of a measure: more do not fit in a line."""

STYLES = {"gone": "green", "better": "green", "worse": "yellow"}


def show_swimmers(swimmers: Sequence[Swimmer]) -> None:
    """A line for each swimmer."""
    if not swimmers:
        _print("No review of a named swimmer has been approved yet.")
        return
    rows = [(s.name, str(s.reviews), str(s.first), str(s.latest)) for s in swimmers]
    _table(("swimmer", "reviews", "first", "latest"), rows)


def show_squad(shared: Sequence[Shared], swimmers: int) -> None:
    """The faults of the latest reviews, and who has them; those to work on now are marked."""
    if not shared:
        _print("No fault is open." if swimmers else "No review has been approved yet.")
        return
    rows = [
        (
            fault.name,
            f"{len(fault.swimmers)} of {swimmers}",
            ", ".join(f"{who}{'*' if who in fault.now else ''}" for who in fault.swimmers),
        )
        for fault in shared
    ]
    _table(("fault", "swimmers", "who (* to work on now)"), rows)


def show_progress(progress: Progress) -> None:
    """What became of each fault, then each measure by day."""
    days = progress.days
    span = f"{days[0]} to {days[-1]}" if len(days) > 1 else str(days[0])
    reviews = f"{len(days)} {'reviews' if len(days) > 1 else 'review'}"
    _print(f"{progress.swimmer}: {reviews}, {span}")
    if progress.faults:
        headings = ("fault", "what became of it", "on", "first told of")
        _table(headings, map(_fault, progress.faults))
    if progress.measures:
        rows = [_measured(m, line) for m in progress.measures for line in m.lines]
        _table(("measure", "aim", "seen"), rows)


def show_forgotten(forgotten: Forgotten, history: str) -> None:
    """What was taken away and what is left for the coach to delete."""
    _print(
        f"{forgotten.swimmer} is forgotten: {_count(forgotten.reviews, 'review')} out of {history},"
        f" {_count(forgotten.cached, 'file')} out of the cache."
    )
    emptied = [place for place in forgotten.deleted if place not in forgotten.left]
    for place in emptied:
        _print(f"deleted   {place}")
    for place in forgotten.left:
        own = place in forgotten.deleted
        _print(f"yours     {place} ({'files of your own' if own else 'the review; delete it'})")
    _print("Clips, talks and their settings are yours to delete, and so are copies you sent.")


def show_places(places: Iterable[Place]) -> None:
    """Where everything is kept, and how much of it."""
    rows = [(p.holds, _size(p.size), str(p.files), str(p.path)) for p in places]
    _table(("what", "size", "files", "where"), rows)
    _print("Reviews lie in the folders that you named with --out.")


def _fault(fault: Fault) -> tuple[str, ...]:
    name = fault.name + _side(fault.side)
    return name, _became(fault), str(fault.told_on), str(fault.first)


def _measured(measure: Measured, line: Line) -> tuple[str, str, str]:
    over = f" over {number(measure.distance_m)} m" if measure.distance_m else ""
    shown = line.points[-POINTS_SHOWN:]
    aim = next((p.aim for p in reversed(line.points) if p.aim is not None), None)
    seen = [_seen(point, measure.unit) for point in shown]
    more = [f"{len(line.points) - len(shown)} before"] if len(shown) < len(line.points) else []
    return (
        measure.name + over + _side(line.side),
        quantity(aim, measure.unit) if aim else "",
        "\n".join([*more, *seen]),
    )


def _seen(point: Point, unit: str) -> str:
    return f"{point.day}  {quantity(point.seen, unit)}"


def _became(fault: Fault) -> str:
    if fault.became == "new":
        return "first told of" if fault.first == fault.last else "back again"
    return "no clear change" if fault.became == "same" else fault.became


def _side(side: Side | None) -> str:
    return {None: "", "both": " (both sides)"}.get(side, f" ({side})")


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _size(count: float) -> str:
    """Bytes in the largest unit that leaves at least one, by thousands (IEC 80000-13)."""
    for unit in ("B", "kB", "MB"):
        if count < 1000:
            return f"{count:.0f} {unit}"
        count /= 1000
    return f"{count:.1f} GB"


def _print(text: str) -> None:
    Console(highlight=False, soft_wrap=True).print(escape(text))


def _table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    console = Console(highlight=False)
    table = Table(box=None, header_style="dim")
    for heading in headings:
        table.add_column(heading, overflow="fold")
    for row in rows:
        style = STYLES.get(row[1], "")
        table.add_row(*(escape(cell) for cell in row), style=style)
    console.print(table)
