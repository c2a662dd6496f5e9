"""One module a family of rules; each function answers one row of tables/<family>.toml."""
