"""Layer card of plan (being written)."""
