"""Faces: how people and other programs reach Hearthold; they ask and show, and compute nothing.

Knows: the actions every face offers (service.py), the settings (settings.py), and each face's own words.
May import: every layer below. Nothing imports a face.
Main types: the frozen results of service.py (Checked, Catalogue, ...), House and Plan passed through.
Read first: service.py, the table of contents of the program; then cli/main.py.
Try: python -m hearthold demo
"""
