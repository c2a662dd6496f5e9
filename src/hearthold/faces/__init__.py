"""Layer card of faces (being written)."""
