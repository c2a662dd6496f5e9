"""`hearthold rules`: what the checks look for, what mends it, and where each rule comes from."""

from __future__ import annotations

from typing import Annotated

import typer

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.options import AsJson


def rules(
    rule: Annotated[
        str | None, typer.Argument(metavar="[ID]", help="Explain this rule in full.", show_default=False)
    ] = None,
    as_json: AsJson = False,
) -> int:
    """List the rules, or explain one.

    Tells what a rule looks for, what mends it, and where it comes from.
    """
    from hearthold.faces import files, service
    from hearthold.faces.cli.page import emit, show
    from hearthold.faces.cli.report.parts import sentence
    from hearthold.faces.cli.report.rulebook import rule_list

    if rule is not None:
        text = service.explain_rule(rule)
        if as_json:
            emit(files.json_text({"rule": rule, "text": text}))
        else:
            show(lambda _: (sentence(line) for line in text.splitlines()))
        return Exit.DONE
    book = service.rule_list()
    if as_json:
        emit(files.json_text([service.plain(row) for row in book]))
    else:
        show(lambda page: rule_list(book, page))
    return Exit.DONE
