"""What alembic runs: the steps on the connection that `migrate` hands it, in one transaction."""

from alembic import context

from fencewright.store.schema import metadata

context.configure(connection=context.config.attributes["connection"], target_metadata=metadata)
with context.begin_transaction():
    context.run_migrations()
