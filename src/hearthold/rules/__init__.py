"""Layer card of rules (being written)."""
