"""The command line: one module a command, imported with the program, its heavy imports inside the functions.

Knows: arguments and options, exit codes (exits.py), how an error is shown (messages.py), the page (page.py).
May import: faces.service and faces.settings; types of the layers below for rendering only.
Main types: Exit (the codes), Page (a console with the reader's units), report/ (one module a section).
Read first: main.py, then plan.py and report/__init__.py.
Try: hearthold --help
"""
