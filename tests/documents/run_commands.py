"""Runs commands of ``rig-guide`` in the copy that PYTHONPATH names, which reads its content once.

In: a list of commands, each a list of words, as JSON. Out: their codes and what they printed, the
last page as HTML, the examples of the formulas that fail, and where the engine was found.
"""

import contextlib
import doctest
import io
import json
import sys
from functools import cache
from typing import Any

import engine
from engine.answer import Answer
from engine.conversation import Conversation
from engine.model.answers import Answers
from engine.respond import Page, respond
from engine.sizing import conductors
from guide import cli, cli_answer, cli_author
from guide.load import load_guide

pages: list[Page] = []


def keep(conversation: Conversation, answers: Answers) -> Answer:
    """Answer, and keep the page."""
    pages.append(respond(conversation.guide, answers))
    return pages[-1].answer


def run(command: list[str]) -> dict[str, Any]:
    """One command: its code and what it printed."""
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed), contextlib.redirect_stderr(printed):
        code = cli.main(command)
    return {"code": code, "printed": printed.getvalue()}


def main() -> None:
    """Run what standard input names."""
    reading = cache(load_guide)
    for module, name, kept in (
        (cli_author, "load_guide", reading),
        (cli_answer, "answer_of", keep),
    ):
        setattr(module, name, kept)
    ran = [run(command) for command in json.load(sys.stdin)]
    told = {
        "ran": ran,
        "html": pages[-1].html if pages else "",
        "examples_failed": doctest.testmod(conductors).failed,
        "engine": engine.__file__,
    }
    json.dump(told, sys.stdout)


if __name__ == "__main__":
    main()
