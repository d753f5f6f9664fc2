"""A database brought to the newest schema, from none or from any released one."""

from sqlalchemy import Connection, inspect, text

from fencewright.store.faults import StoreFault

NEWEST = "1"
RELEASED = ("1",)
_TABLE = "alembic_version"


def schema_of(connection: Connection) -> str:
    """Give the schema that a database has; empty where it has none."""
    if not inspect(connection).has_table(_TABLE):
        return ""
    return str(connection.execute(text(f"SELECT version_num FROM {_TABLE}")).scalar() or "")


def migrate(connection: Connection, where: str) -> bool:
    """Bring a database to the newest schema.

    Parameters
    ----------
    connection : Connection
        In a transaction; all steps are in it, so that a migration broken off leaves the database as it was.
    where : str
        What the store is called, for messages.

    Returns
    -------
    bool
        Whether anything was done.

    Raises
    ------
    StoreFault
        `newer-store`: a newer version of the program made it.
    """
    had = schema_of(connection)
    if had == NEWEST:
        return False
    if had and had not in RELEASED:
        raise StoreFault(
            f"{where}: a newer fencewright made this job store (schema {had}; this one knows {NEWEST}): "
            "use that version, or name another store with --store",
            "newer-store",
        )
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", "fencewright:store/migrations")
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    command.upgrade(config, NEWEST)
    return True
