"""The steps by which a store of any age becomes one of today; Alembic runs them."""
