"""How many pages has a page that was set?

assert page_count(typeset(paper, "a4")) == 1
"""

import re

from passcheck.report.typeset import Set

_TREE = re.compile(rb"/Type/Pages/Count (\d+)")


def page_count(made: Set) -> int:
    """As the file itself says at the root of its pages, which comes before anything that it carries inside."""
    found = _TREE.search(made.pdf)
    assert found is not None, "no tree of pages"
    return int(found[1])
