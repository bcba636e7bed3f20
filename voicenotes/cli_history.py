"""The commands for swimmers over time: each parses, calls one function, prints."""

from pathlib import Path
from typing import Annotated

import typer

HistoryFile = Annotated[
    Path | None,
    typer.Option("--history", help="Another file for the swimmers' history.", metavar="FILE"),
]
VocabularyFolder = Annotated[
    Path | None,
    typer.Option("--vocabulary", help="A folder of your own vocabulary files.", metavar="FOLDER"),
]
SwimmersName = Annotated[
    str, typer.Argument(help="The swimmer's name, as in the reviews.", metavar="SWIMMER")
]

app = typer.Typer()


@app.command()
def swimmers(history: HistoryFile = None) -> None:
    """List the swimmers whose reviews you approved.

    Example: voicenotes swimmers
    """
    from voicenotes.history.store import History
    from voicenotes.show_history import show_swimmers

    with History(history) as past:
        show_swimmers(past.swimmers())


@app.command()
def progress(
    swimmer: SwimmersName,
    out: Annotated[
        Path | None,
        typer.Option("--out", help="Write it as a page with drawings.", metavar="FILE.html"),
    ] = None,
    history: HistoryFile = None,
    vocabulary: VocabularyFolder = None,
) -> None:
    """Show a swimmer's reviews over time: what became of each fault, and each measure.

    Example: voicenotes progress Sam --out sam.html
    """
    from voicenotes.files import write_file
    from voicenotes.history.progress import progress_of
    from voicenotes.history.store import History
    from voicenotes.show_history import show_progress
    from voicenotes.vocabulary.load import load_vocabulary

    with History(history) as past:
        reviews = past.reviews(past.named(swimmer))
    found = progress_of(reviews, load_vocabulary(vocabulary))
    if out is not None:
        from voicenotes.history.page import progress_html

        write_file(out, progress_html(found).encode("utf-8"))
    show_progress(found)


@app.command()
def squad(history: HistoryFile = None) -> None:
    """Show which faults are common now, by each swimmer's latest review, and who shares them.

    Example: voicenotes squad
    """
    from voicenotes.history.store import History
    from voicenotes.show_history import show_squad

    with History(history) as past:
        show_squad(past.shared(), len(past.swimmers()))


@app.command()
def export(
    form: Annotated[str, typer.Option("--format", help="json or csv.")], history: HistoryFile = None
) -> None:
    """Print the whole history for other programs.

    Example: voicenotes export --format csv > swimmers.csv
    """
    from voicenotes.errors import InputError
    from voicenotes.history.export import FORMATS
    from voicenotes.history.store import History

    if form not in FORMATS:
        raise InputError(f"{form!r} is no format", "--format", f"use {' or '.join(FORMATS)}")
    with History(history) as past:
        typer.echo(FORMATS[form](past.every_review()).encode("utf-8"), nl=False)


@app.command()
def forget(
    swimmer: SwimmersName,
    folders: Annotated[
        bool, typer.Option("--folders", help="Delete the folders of the reviews, too.")
    ] = False,
    history: HistoryFile = None,
) -> None:
    """Take all traces of a swimmer out of the history and the cache.

    Example: voicenotes forget Sam --folders
    """
    from voicenotes.history.forgetting import forget as forgotten
    from voicenotes.history.store import History
    from voicenotes.show_history import show_forgotten
    from voicenotes.speech.cache import cache_folder

    with History(history) as past:
        show_forgotten(forgotten(past, swimmer, cache_folder(), folders=folders), str(past.path))


@app.command()
def where(history: HistoryFile = None) -> None:
    """Show where everything is kept on this machine, and how much of it.

    Example: voicenotes where
    """
    from voicenotes.history.places import places
    from voicenotes.show_history import show_places

    show_places(places(history))
