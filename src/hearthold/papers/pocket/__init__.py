"""Pocket page: one HTML file for a phone, with no server and no network.

Knows how to say a plan on a small screen; the clocks and the log are the scripts in parts/.
May import: papers.words, papers.look and every layer below. Main function: page.pocket_html.
Read first: page.py, then facts.py; the format of the exported log is in docs/pocket.md.
"""
