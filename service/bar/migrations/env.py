"""Where Alembic starts: on the connection, and inside the transaction, of `migrate`."""

from __future__ import annotations

from alembic import context

from service.bar.columns import metadata


def run() -> None:
    """Run the steps that are asked for."""
    context.configure(
        connection=context.config.attributes["connection"],
        target_metadata=metadata,
        render_as_batch=True,
        transactional_ddl=True,
    )
    with context.begin_transaction():
        context.run_migrations()


if __name__ == "env_py":  # so named by Alembic; anybody else may import this without effect
    run()
