"""What is said in code is what the catalogues gather: no text is asked for that a translator never sees."""

import ast

from tests.words.gathered import ROOT, gathered

SAYING = {"t": 0, "th": 0, "N_": 0, "tn": 0, "tc": 1}


def said() -> set[str]:
    """The texts of every saying call of the code, by its syntax tree."""
    found = set()
    for file in (ROOT / "station").rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in SAYING:
                at = SAYING[node.func.id]
                if len(node.args) > at and isinstance(node.args[at], ast.Constant):
                    found.add(node.args[at].value)
    return found


def formatted() -> list[str]:
    """Saying calls with a formatted string: its filled-in words would never be found in a catalogue."""
    return [
        f"{file.relative_to(ROOT)}:{node.lineno}"
        for file in (ROOT / "station").rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in SAYING
        and any(isinstance(one, ast.JoinedStr) for one in node.args)
    ]


def test_every_text_that_is_said_is_gathered():
    gathered_texts = {text for one in gathered() for text in ((one.id,) if isinstance(one.id, str) else one.id)}
    assert len(said()) > 500
    assert said() - gathered_texts == set()


def test_no_text_is_made_before_it_is_looked_up():
    assert formatted() == []
