"""The command line: parses, calls one function, prints. No logic of its own."""

import gc
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from io import TextIOWrapper
from pathlib import Path
from typing import Annotated, Any

import typer

from voicenotes import __version__
from voicenotes.cli_history import HistoryFile, VocabularyFolder
from voicenotes.cli_history import app as history_app
from voicenotes.errors import InputError, OutputError, UserError, VocabularyError, WeightsError

EXIT_CODES = {InputError: 3, VocabularyError: 3, WeightsError: 4, OutputError: 5}
"""2 is left to wrong usage, 130 to Ctrl-C."""

app = typer.Typer(
    help="Turns a swim coach's spoken clip review into written corrections and a drill plan.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)
vocab_app = typer.Typer(help="Look after the swim vocabulary.", no_args_is_help=True)
app.add_typer(vocab_app, name="vocab")
app.add_typer(history_app)

Inputs = Annotated[
    list[Path],
    typer.Argument(
        help="Narrated clips, sound files or transcripts; each gets a review.", metavar="INPUT..."
    ),
]
Stroke = Annotated[
    str | None, typer.Option(help="freestyle, backstroke, breaststroke or butterfly.")
]
Equipment = Annotated[str | None, typer.Option(help="What is at hand, like fins,snorkel.")]
EmbedClip = Annotated[
    bool, typer.Option("--embed-clip", help="Put the clip itself into feedback.html.")
]
Model = Annotated[
    str | None,
    typer.Option("--model", help="A folder of weights, or a name to fetch from the model hub."),
]
Templates = Annotated[
    Path | None,
    typer.Option("--templates", help="A folder of your own page templates.", metavar="FOLDER"),
]
Start = Annotated[
    str | None,
    typer.Option("--start", help="Day of the first session, like 2026-03-02.", metavar="DATE"),
]


@app.command()
def review(
    inputs: Inputs,
    out: Annotated[Path, typer.Option("--out", help="Folder for the reviews.", metavar="DIR")],
    swimmer: Annotated[str | None, typer.Option(help="The swimmer's name.")] = None,
    stroke: Stroke = None,
    level: Annotated[str | None, typer.Option(help="learner, club or competitive.")] = None,
    pace: Annotated[str | None, typer.Option(help="Easy time for 100 m, like 1:50.")] = None,
    pool: Annotated[float | None, typer.Option(help="Pool length in metres.")] = None,
    sessions: Annotated[int | None, typer.Option(help="Sessions a week.")] = None,
    minutes: Annotated[int | None, typer.Option(help="Minutes a session.")] = None,
    equipment: Equipment = None,
    start: Start = None,
    clip: Annotated[
        Path | None,
        typer.Option(help="The clip talked about, where INPUT is only the talk.", metavar="FILE"),
    ] = None,
    offset: Annotated[
        str | None,
        typer.Option(help="When in INPUT the clip starts, like 12.5 or 0:12.", metavar="TIME"),
    ] = None,
    embed_clip: EmbedClip = False,
    vocabulary: VocabularyFolder = None,
    templates: Templates = None,
    model: Model = None,
) -> None:
    """Review narrated clips: corrections with their moments, and a drill plan.

    A file NAME.yaml beside NAME.mp4 may hold the same settings, one a line; coach.yaml those that
    all clips of a folder share.

    Example: voicenotes review clip.mp4 --out reviews --pool 25 --pace 1:50
    """
    from voicenotes.batch import review_all
    from voicenotes.show import Screen

    options = {
        "swimmer": swimmer,
        "stroke": stroke,
        "level": level,
        "pace": pace,
        "pool": pool,
        "sessions": sessions,
        "minutes": minutes,
        "equipment": equipment,
        "start": start,
        "clip": clip,
        "offset": offset,
        "vocabulary": vocabulary,
        "templates": templates,
    }
    with _stoppable(), Screen() as screen:
        results = review_all(inputs, out, options, model, screen, embed=embed_clip)
        worst = max((_told(screen, result) for result in results), default=0)
    raise typer.Exit(worst)


@app.command()
def approve(
    folder: Annotated[Path, typer.Argument(help="The folder of a review.", metavar="DIR")],
    start: Start = None,
    embed_clip: Annotated[
        bool | None,
        typer.Option("--embed-clip/--no-embed-clip", help="Whether feedback.html holds the clip."),
    ] = None,
    vocabulary: VocabularyFolder = None,
    templates: Templates = None,
    history: HistoryFile = None,
) -> None:
    """Put your edit (edit.yaml) into a review, take its draft mark off, and make its files again.

    With a swimmer's name it is set against the earlier ones, and kept for the next.

    Example: voicenotes approve reviews/clip
    """
    from voicenotes.approving import approve as approved
    from voicenotes.settings import read_day
    from voicenotes.show import Screen

    day = read_day(start) if start else None
    with _stoppable(), Screen() as screen:
        screen.summary(
            approved(
                folder,
                start=day,
                embed=embed_clip,
                vocabulary=vocabulary,
                templates=templates,
                history=history,
            )
        )


def _told(screen: Any, result: Any) -> int:
    """Shows one review or why there is none; its exit code."""
    if isinstance(result, UserError):
        screen.problem(result)
        return EXIT_CODES.get(type(result), 1)
    screen.summary(result)
    return 0


@app.command()
def models() -> None:
    """Show the speech weights: which would be used, and what is on this machine.

    Example: voicenotes models
    """
    from voicenotes.show import show_models
    from voicenotes.speech.weights import list_models

    show_models(list_models())


@app.command()
def schema() -> None:
    """Print the JSON Schema of review.json.

    Example: voicenotes schema > review.schema.json
    """
    import json

    from voicenotes.feedback import review_schema

    typer.echo(json.dumps(review_schema(), indent=2, ensure_ascii=False))


@app.command()
def evaluate(
    folder: Annotated[
        Path, typer.Argument(help="Annotated narrations: NAME.gold.json beside NAME.vtt.")
    ],
    by: Annotated[
        str, typer.Option(help="Whose reading of faults to score: both, frames or learned.")
    ] = "both",
    wrong: Annotated[
        bool, typer.Option("--wrong", help="List each miss and each false entry.")
    ] = False,
    vocabulary: VocabularyFolder = None,
) -> None:
    """Score the reading on annotated narrations.

    Example: voicenotes evaluate tests/gold --wrong
    """
    from voicenotes.evaluation import evaluate as evaluation
    from voicenotes.vocabulary.load import load_vocabulary

    score = evaluation.evaluate(folder, load_vocabulary(vocabulary), evaluation.readers_named(by))
    for entry in score.wrong if wrong else []:
        typer.echo(evaluation.wrong_line(entry))
    for line in evaluation.lines(score):
        typer.echo(line)


@vocab_app.command("check")
def vocab_check(vocabulary: VocabularyFolder = None) -> None:
    """Read every example of the vocabulary and say which are not read as they should be.

    Example: voicenotes vocab check --vocabulary my-words
    """
    from voicenotes.reading.faults.examples import check_vocabulary
    from voicenotes.vocabulary.load import load_vocabulary

    failures, examples = check_vocabulary(load_vocabulary(vocabulary))
    for failure in failures:
        typer.echo(failure)
    typer.echo(f"{examples} examples, {len(failures)} read wrongly")
    raise typer.Exit(1 if failures else 0)


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"voicenotes {__version__}")
        raise typer.Exit


@app.callback()
def _options(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version.")
    ] = False,
) -> None:
    pass


@contextmanager
def _stoppable() -> Iterator[None]:
    """One line for Ctrl-C, also where a library made another error of it."""
    try:
        yield
    except (KeyboardInterrupt, Exception) as error:
        if not _is_ctrl_c(error):
            raise
        typer.echo("voicenotes: stopped. Run it again to go on from what was heard.", err=True)
        raise typer.Exit(130) from None


def _is_ctrl_c(error: BaseException | None) -> bool:
    while error is not None and not isinstance(error, KeyboardInterrupt):
        error = error.__cause__ or error.__context__
    return error is not None


def main() -> None:
    """Runs the command line; one line for whatever the user can mend."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):  # a name may hold what the terminal cannot show
            stream.reconfigure(errors="replace")
    try:
        app()
    except UserError as error:
        typer.echo(f"voicenotes: {error}", err=True)
        sys.exit(EXIT_CODES.get(type(error), 1))
    finally:
        gc.freeze()  # all memory is about to go: nothing is left to collect
