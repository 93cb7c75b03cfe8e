"""The address by which guests reach the service, for the codes on the menu."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column(
        "bar_settings", sa.Column("public_address", sa.Text(), nullable=False, server_default="")
    )
