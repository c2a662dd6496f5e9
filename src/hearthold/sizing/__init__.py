"""Layer card of sizing (being written)."""
