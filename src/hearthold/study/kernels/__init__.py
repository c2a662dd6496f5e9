"""Kernels of the study: they drive the engine's and add nothing to its model."""
