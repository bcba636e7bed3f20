"""The tables of the history, and how a file of an earlier version is brought up to this one."""

import sqlite3

from voicenotes.errors import InputError

APPLICATION_ID = 0x766E6F74
"""Says that a file is a history of ours ("vnot"); SQLite keeps it in the file's header."""

_FIRST = """
CREATE TABLE swimmers (id INTEGER PRIMARY KEY, name TEXT NOT NULL, folded TEXT NOT NULL UNIQUE);
CREATE TABLE reviews (
  id INTEGER PRIMARY KEY,
  key TEXT NOT NULL UNIQUE,
  swimmer INTEGER NOT NULL REFERENCES swimmers ON DELETE CASCADE,
  name TEXT NOT NULL,
  folder TEXT NOT NULL,
  stroke TEXT NOT NULL,
  level TEXT NOT NULL,
  made_on TEXT NOT NULL
);
CREATE INDEX reviews_by_swimmer ON reviews (swimmer, made_on, id);
CREATE TABLE approvals (
  id INTEGER PRIMARY KEY,
  review INTEGER NOT NULL REFERENCES reviews ON DELETE CASCADE,
  approved_on TEXT NOT NULL
);
CREATE INDEX approvals_by_review ON approvals (review);
CREATE TABLE findings (
  review INTEGER NOT NULL REFERENCES reviews ON DELETE CASCADE,
  place INTEGER NOT NULL,
  kind TEXT NOT NULL, code TEXT NOT NULL, side TEXT, severity TEXT, reason TEXT,
  PRIMARY KEY (review, place)
) WITHOUT ROWID;
CREATE TABLE figures (
  review INTEGER NOT NULL REFERENCES reviews ON DELETE CASCADE,
  place INTEGER NOT NULL,
  measure TEXT NOT NULL, side TEXT, unit TEXT NOT NULL,
  seen INTEGER NOT NULL, low REAL, high REAL,
  aimed INTEGER NOT NULL, aim_low REAL, aim_high REAL,
  distance_m REAL,
  PRIMARY KEY (review, place)
) WITHOUT ROWID;
CREATE TABLE corrections (
  review INTEGER NOT NULL REFERENCES reviews ON DELETE CASCADE,
  place INTEGER NOT NULL,
  rank INTEGER NOT NULL, code TEXT NOT NULL, name TEXT NOT NULL,
  side TEXT, severity TEXT, focus TEXT NOT NULL,
  figures TEXT NOT NULL,
  PRIMARY KEY (review, place)
) WITHOUT ROWID;
CREATE TABLE plans (
  review INTEGER NOT NULL REFERENCES reviews ON DELETE CASCADE,
  place INTEGER NOT NULL,
  session INTEGER NOT NULL, stage TEXT NOT NULL, part TEXT NOT NULL, name TEXT NOT NULL,
  drill TEXT, focus TEXT, added INTEGER NOT NULL, metres REAL NOT NULL,
  PRIMARY KEY (review, place)
) WITHOUT ROWID;
CREATE TABLE traces (
  review INTEGER NOT NULL REFERENCES reviews ON DELETE CASCADE,
  place INTEGER NOT NULL,
  digests TEXT NOT NULL,
  PRIMARY KEY (review, place)
) WITHOUT ROWID
"""

MIGRATIONS: tuple[str, ...] = (_FIRST,)
"""Statements, parted by semicolons, that lead from each version to the next; the first from an
empty file. Those that were released are never changed: a change is another one at the end."""


def check(connection: sqlite3.Connection, where: str) -> None:
    """Raises InputError for a file of another kind, or of a later version."""
    _version(connection, where)


def migrate(connection: sqlite3.Connection, where: str) -> None:
    """Brings a history up to this version: each step and its number in one transaction.

    Raises InputError for a file of another kind, or of a later version.
    """
    while (version := _version(connection, where)) < len(MIGRATIONS):
        connection.execute("BEGIN IMMEDIATE")
        try:
            if _version(connection, where) == version:  # another process may have been first
                for statement in MIGRATIONS[version].split(";"):
                    connection.execute(statement)
                connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
                connection.execute(f"PRAGMA user_version = {version + 1}")
            connection.execute("COMMIT")
        except BaseException:
            connection.execute("ROLLBACK")
            raise


def _version(connection: sqlite3.Connection, where: str) -> int:
    version = int(connection.execute("PRAGMA user_version").fetchone()[0])
    application = connection.execute("PRAGMA application_id").fetchone()[0]
    tables = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
    if application != APPLICATION_ID and (tables or version):
        raise InputError("is no history of voicenotes", where, "name another file with --history")
    if version > len(MIGRATIONS):
        raise InputError("was written by a later voicenotes", where, "bring voicenotes up to date")
    return version
