"""What the database itself refuses: changing what was sent, changing or deleting what happened.

Used by the migrations, and by the tests that empty tables between cases and put the triggers back afterwards.
"""

from collections.abc import Iterable

# table: the verbs refused. Seals and revisions may be deleted, since erasing a person must be able to.
FROZEN = {
    "orders_event": ("UPDATE", "DELETE"),
    "orders_look": ("UPDATE", "DELETE"),
    "orders_revision": ("UPDATE",),
    "orders_document": ("UPDATE",),
    # who sent it may be forgotten, what was sent may not change
    "capture_seal": ("UPDATE OF order_id, sha256, raw, parent_sha256, received_at",),
}


def statements(vendor: str, tables: Iterable[str] = FROZEN) -> list[str]:
    """The SQL that makes the triggers of these tables, for "sqlite" or "postgresql"."""
    return [make(vendor, table, verb) for table in tables for verb in FROZEN[table]]


def drops(vendor: str, tables: Iterable[str] = FROZEN) -> list[str]:
    """The SQL that takes the triggers away again."""
    return [drop(vendor, table, verb) for table in tables for verb in FROZEN[table]]


def make(vendor: str, table: str, verb: str) -> str:
    name = name_of(table, verb)
    if vendor == "sqlite":
        return (
            f"CREATE TRIGGER {name} BEFORE {verb} ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{table} is written once'); END"
        )
    return (
        f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN RAISE EXCEPTION '{table} is written once'; END $$; "
        f"CREATE TRIGGER {name} BEFORE {verb} ON {table} FOR EACH ROW EXECUTE FUNCTION {name}()"
    )


def drop(vendor: str, table: str, verb: str) -> str:
    name = name_of(table, verb)
    return f"DROP TRIGGER {name}" if vendor == "sqlite" else f"DROP TRIGGER {name} ON {table}"


def name_of(table: str, verb: str) -> str:
    return f"{table}_no_{verb.split()[0].lower()}"


def run(schema_editor, lines: list[str]) -> None:
    """Runs the statements on a migration's or a test's connection."""
    for line in lines:
        schema_editor.execute(line)
