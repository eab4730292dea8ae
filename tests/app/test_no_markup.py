"""No text from outside reaches a widget that would read markup in it."""

import ast
from pathlib import Path

import pytest

import passcheck.app

APP = Path(passcheck.app.__file__).parent
MODULES = sorted(APP.rglob("*.py"))
READS_MARKUP = frozenset(
    {"Static", "Label", "Button", "Checkbox", "RadioButton", "RadioSet", "Select", "SelectionList", "Selection"}
    | {"OptionList", "Option", "Collapsible", "TabPane", "TabbedContent", "Tab", "DataTable", "Tree", "ListItem"}
    | {"ListView", "Markdown", "MarkdownViewer", "Link", "Digits", "Pretty", "Log", "RichLog", "Welcome"}
)
RAW_ENTRIES = frozenset({"Input", "TextArea", "MaskedInput"})
ALLOWED = {"plain.py": READS_MARKUP, "typed.py": RAW_ENTRIES}
TITLES = frozenset({"border_title", "border_subtitle", "tooltip"})


def faults(tree: ast.AST, allowed: frozenset[str]) -> list[str]:
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
            if name in READS_MARKUP | RAW_ENTRIES and name not in allowed:
                found.append(f"line {node.lineno}: {name}(…) is called; take plain.py's or typed.py's")
            if name == "notify" and not allowed & READS_MARKUP:
                found.append(f"line {node.lineno}: notify(…) reads markup; take plain.tell")
            if name == "from_markup":
                found.append(f"line {node.lineno}: markup is made")
            for word in node.keywords:
                if word.arg in TITLES and not isinstance(word.value, ast.Constant):
                    found.append(f"line {node.lineno}: {word.arg} is no text of the code's own")
        if isinstance(node, ast.Attribute) and node.attr in TITLES and isinstance(node.ctx, ast.Store):
            found.append(f"line {node.lineno}: {node.attr} reads markup")
    return found


@pytest.mark.parametrize("module", MODULES, ids=lambda path: str(path.relative_to(APP)))
def test_no_module_of_the_screens_hands_text_to_a_widget_that_reads_markup(module: Path) -> None:
    tree = ast.parse(module.read_text(encoding="utf-8"))
    assert faults(tree, ALLOWED.get(module.name, frozenset())) == []


def test_the_rule_sees_what_it_forbids() -> None:
    bad = "Static(serial)\napp.notify(serial)\nInput(value)\nw.border_title = serial\nTab(tooltip=serial)"
    assert len(faults(ast.parse(bad), frozenset())) == 6
