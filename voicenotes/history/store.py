"""The history of swimmers: approved reviews in one SQLite file of the user's own."""

import difflib
import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from types import TracebackType
from typing import NamedTuple, Self

from voicenotes.errors import InputError, OutputError
from voicenotes.history.kept import Kept
from voicenotes.history.place import history_file, make_private
from voicenotes.history.rows import COLUMNS, kept_from, rows_of
from voicenotes.history.schema import check, migrate

WAIT_S = 20.0
"""How long one process waits for another that is writing."""

_REVIEWS = """
SELECT reviews.id, key, swimmers.name AS swimmer, reviews.name, folder, stroke, level, made_on,
  (SELECT max(approved_on) FROM approvals WHERE review = reviews.id) AS approved_on
FROM reviews JOIN swimmers ON swimmers.id = reviews.swimmer
"""

_IN_ORDER = " ORDER BY made_on, reviews.id"


class Swimmer(NamedTuple):
    """A swimmer of the history, with the days of the first and the latest review."""

    name: str
    reviews: int
    first: date
    latest: date


class Shared(NamedTuple):
    """A fault that swimmers have in their latest reviews; ``now`` where it is to work on now."""

    code: str
    name: str
    swimmers: tuple[str, ...]
    now: tuple[str, ...]


class History:
    """One history file. Every change is a transaction that is on the disk when it returns.

    Two processes may use it at once: one waits while the other writes. Its methods raise
    OutputError where the file cannot be read or written.
    """

    def __init__(self, named: Path | None = None) -> None:
        """Opens the file, and makes it where it is not there. Raises InputError, OutputError."""
        self.path = history_file(named)
        with _told(self.path):
            make_private(self.path)
            self._db = sqlite3.connect(self.path, timeout=WAIT_S, isolation_level=None)
            try:
                self._set_up()
            except BaseException:
                self._db.close()
                raise

    def _set_up(self) -> None:
        self._db.row_factory = sqlite3.Row
        check(self._db, str(self.path))
        for setting in (
            "synchronous = FULL",
            "secure_delete = ON",
            "foreign_keys = ON",
            "temp_store = MEMORY",
        ):
            self._db.execute(f"PRAGMA {setting}")
        self._keep_a_log()
        migrate(self._db, str(self.path))

    def _keep_a_log(self) -> None:
        """Write-ahead logging; SQLite itself does not wait where two would turn it on at once."""
        until = time.monotonic() + WAIT_S
        while True:
            try:
                self._db.execute("PRAGMA journal_mode = WAL")
            except sqlite3.OperationalError:
                if time.monotonic() > until:
                    raise
                time.sleep(0.05)
            else:
                return

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._db.close()

    def add(self, kept: Kept) -> None:
        """Adds an approved review; one with the same key is replaced and keeps its approvals."""
        with self._change():
            swimmer = self._swimmer(kept.swimmer)
            values = (swimmer, kept.name, kept.folder, kept.stroke, kept.level)
            self._db.execute(
                "INSERT INTO reviews (swimmer, name, folder, stroke, level, made_on, key)"
                " VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT (key) DO UPDATE SET swimmer ="
                " excluded.swimmer, name = excluded.name, folder = excluded.folder, stroke ="
                " excluded.stroke, level = excluded.level, made_on = excluded.made_on",
                (*values, kept.made_on.isoformat(), kept.key),
            )
            found = self._db.execute("SELECT id FROM reviews WHERE key = ?", (kept.key,))
            review = int(found.fetchone()[0])
            self._db.execute(
                "INSERT INTO approvals (review, approved_on) VALUES (?, ?)",
                (review, kept.approved_on.isoformat()),
            )
            for table, rows in rows_of(kept).items():
                self._replace(table, review, rows)
            self._db.execute("DELETE FROM swimmers WHERE id NOT IN (SELECT swimmer FROM reviews)")

    def _swimmer(self, name: str) -> int:
        """The swimmer's number; a name counts however it is spaced or capitalised."""
        self._db.execute(
            "INSERT INTO swimmers (name, folded) VALUES (?, ?)"
            " ON CONFLICT (folded) DO UPDATE SET name = excluded.name",
            (name, fold(name)),
        )
        found = self._db.execute("SELECT id FROM swimmers WHERE folded = ?", (fold(name),))
        return int(found.fetchone()[0])

    def _replace(self, table: str, review: int, rows: list[tuple[object, ...]]) -> None:
        columns = COLUMNS[table]
        marks = ", ".join("?" * (columns.count(",") + 3))
        self._db.execute(f"DELETE FROM {table} WHERE review = ?", (review,))
        self._db.executemany(
            f"INSERT INTO {table} (review, place, {columns}) VALUES ({marks})",
            ((review, place, *row) for place, row in enumerate(rows)),
        )

    def reviews(self, swimmer: str) -> list[Kept]:
        """A swimmer's reviews, oldest first; none for an unknown name."""
        with self._one_view():
            found = self._db.execute(
                f"{_REVIEWS} WHERE swimmers.folded = ?{_IN_ORDER}", (fold(swimmer),)
            )
            return self._kept(found.fetchall())

    def every_review(self) -> Iterator[Kept]:
        """All reviews, swimmer by swimmer, oldest first."""
        for swimmer in self.swimmers():
            yield from self.reviews(swimmer.name)

    def _kept(self, reviews: list[sqlite3.Row]) -> list[Kept]:
        found = []
        for review in reviews:

            def entries(table: str, review: int = review["id"]) -> list[sqlite3.Row]:
                query = f"SELECT {COLUMNS[table]} FROM {table} WHERE review = ? ORDER BY place"
                return self._db.execute(query, (review,)).fetchall()

            found.append(kept_from(review, entries))
        return found

    def before(self, kept: Kept) -> list[Kept]:
        """The same swimmer's reviews that are older than one, which may be in the history."""
        older = []
        for other in self.reviews(kept.swimmer):
            if other.key == kept.key or other.made_on > kept.made_on:
                break
            older.append(other)
        return older

    def swimmers(self) -> list[Swimmer]:
        """The swimmers, by name."""
        with _told(self.path):
            rows = self._db.execute(
                "SELECT swimmers.name, count(*), min(made_on), max(made_on) FROM swimmers"
                " JOIN reviews ON reviews.swimmer = swimmers.id GROUP BY swimmers.id"
                " ORDER BY folded"
            )
            return [
                Swimmer(name, count, date.fromisoformat(first), date.fromisoformat(latest))
                for name, count, first, latest in rows
            ]

    def named(self, swimmer: str) -> str:
        """A swimmer's name as it is kept. Raises InputError for one who is not there."""
        names = {fold(known.name): known.name for known in self.swimmers()}
        if fold(swimmer) in names:
            return names[fold(swimmer)]
        close = difflib.get_close_matches(fold(swimmer), names, n=1)
        first = [folded for folded in names if fold(swimmer) in folded.split()]
        near = next((names[folded] for folded in (*first, *close)), None)
        raise InputError(
            f"no such swimmer{f' (did you mean {near!r}?)' if near else ''}",
            repr(swimmer),
            "see voicenotes swimmers" if names else "approve a review with a swimmer's name first",
        )

    def shared(self) -> list[Shared]:
        """The faults in each swimmer's latest review, those of most swimmers first."""
        with _told(self.path):
            rows = self._db.execute(
                "SELECT code, corrections.name, swimmers.name, max(focus = 'now')"
                " FROM swimmers JOIN corrections ON corrections.review = (SELECT id FROM reviews"
                "  WHERE swimmer = swimmers.id ORDER BY made_on DESC, id DESC LIMIT 1)"
                " GROUP BY code, swimmers.id ORDER BY code, folded"
            ).fetchall()
        names = {code: name for code, name, _, _ in rows}
        faults = [
            Shared(
                code=code,
                name=name,
                swimmers=tuple(who for one, _, who, _ in rows if one == code),
                now=tuple(who for one, _, who, now in rows if one == code and now),
            )
            for code, name in names.items()
        ]
        return sorted(faults, key=lambda fault: (-len(fault.swimmers), -len(fault.now), fault.name))

    def forget(self, swimmer: str) -> None:
        """Takes a swimmer out; nothing of it is left in the file or beside it.

        Deleted rows are overwritten, the file is written anew, and the log is emptied. Raises
        OutputError where another process does not let go of the log; the swimmer is out all the
        same, and SQLite empties the log when that process ends.
        """
        with self._change():
            self._db.execute("DELETE FROM swimmers WHERE folded = ?", (fold(swimmer),))
        with _told(self.path):
            self._db.execute("VACUUM")
            busy, _, _ = self._db.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        if busy:
            raise OutputError(
                "the swimmer is out, but another voicenotes still reads the file's log",
                str(self.path),
                "let that end: the log is emptied then",
            )

    @contextmanager
    def _one_view(self) -> Iterator[None]:
        """What is read meanwhile is of one moment, whatever another process writes."""
        with _told(self.path):
            self._db.execute("BEGIN")
            try:
                yield
            finally:
                self._db.execute("COMMIT")

    @contextmanager
    def _change(self) -> Iterator[None]:
        with _told(self.path):
            self._db.execute("BEGIN IMMEDIATE")
            try:
                yield
                self._db.execute("COMMIT")
            except BaseException:
                self._db.execute("ROLLBACK")
                raise


def fold(name: str) -> str:
    """A name as it is compared: case and spacing do not count."""
    return " ".join(name.split()).casefold()


@contextmanager
def _told(path: Path) -> Iterator[None]:
    """One line for what SQLite or the system say of the file."""
    remedy = "check its permissions, or name another file with --history"
    try:
        yield
    except sqlite3.DatabaseError as error:
        what = str(error)
        if "locked" in what or "busy" in what:
            what, remedy = "another voicenotes is at work on it", "wait, then run it again"
        elif "not a database" in what:
            what, remedy = "is no history of voicenotes", "name another file with --history"
        elif "malformed" in what:
            what, remedy = "is damaged", "put a copy of it in its place, or move it away"
        elif "full" in what:
            what, remedy = "cannot be written (the disk is full)", "free some space"
        raise OutputError(what, str(path), remedy) from error
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise OutputError(f"cannot be opened ({reason})", str(path), remedy) from error
