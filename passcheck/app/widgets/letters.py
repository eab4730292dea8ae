"""How is a word written so that it can be read from a metre away?

Five dots high and four wide, drawn with half blocks, so a letter takes three rows of a terminal in any font.
"""

from typing import Final

_ROWS: Final = 5

# Each letter's five rows of dots; an M and a W need a fifth column to be told from an N and a V.
_SHAPES: Final[dict[str, str]] = {
    "A": " ## /#  #/####/#  #/#  #",
    "B": "### /#  #/### /#  #/### ",
    "C": " ###/#   /#   /#   / ###",
    "D": "### /#  #/#  #/#  #/### ",
    "E": "####/#   /### /#   /####",
    "F": "####/#   /### /#   /#   ",
    "G": " ###/#   /# ##/#  #/ ###",
    "H": "#  #/#  #/####/#  #/#  #",
    "I": "###/ # / # / # /###",
    "J": "  ##/   #/   #/#  #/ ## ",
    "K": "#  #/# # /##  /# # /#  #",
    "L": "#   /#   /#   /#   /####",
    "M": "#   #/## ##/# # #/#   #/#   #",
    "N": "#  #/## #/# ##/#  #/#  #",
    "O": " ## /#  #/#  #/#  #/ ## ",
    "P": "### /#  #/### /#   /#   ",
    "Q": " ## /#  #/#  #/# ##/ ###",
    "R": "### /#  #/### /# # /#  #",
    "S": " ###/#   / ## /   #/### ",
    "T": "#####/  #  /  #  /  #  /  #  ",
    "U": "#  #/#  #/#  #/#  #/ ## ",
    "V": "#   #/#   #/ # # / # # /  #  ",
    "W": "#   #/#   #/# # #/## ##/#   #",
    "X": "#   #/ # # /  #  / # # /#   #",
    "Y": "#   #/ # # /  #  /  #  /  #  ",
    "Z": "####/  # / #  /#   /####",
    "0": " ## /#  #/#  #/#  #/ ## ",
    "1": " # /## / # / # /###",
    "2": "### /   #/ ## /#   /####",
    "3": "### /   #/ ## /   #/### ",
    "4": "#  #/#  #/####/   #/   #",
    "5": "####/#   /### /   #/### ",
    "6": " ###/#   /### /#  #/ ## ",
    "7": "####/   #/  # / #  / #  ",
    "8": " ## /#  #/ ## /#  #/ ## ",
    "9": " ## /#  #/ ###/   #/### ",
    " ": "  /  /  /  /  ",
    ".": " / / / /#",
    "-": "   /   /###/   /   ",
    "?": "### /   #/ ## /    / #  ",
}
_HALVES: Final = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}


def big(word: str) -> tuple[str, str, str]:
    """Return the three rows of a word in capitals; a character without a shape is drawn as a question mark."""
    shapes = [_SHAPES.get(letter, _SHAPES["?"]).split("/") for letter in word.upper()]
    dots = [" ".join(shape[row] for shape in shapes) for row in range(_ROWS)]
    dots.append(" " * len(dots[0]))
    top, middle, bottom = (_halved(dots[row], dots[row + 1]) for row in (0, 2, 4))
    return top, middle, bottom


def big_width(word: str) -> int:
    """Return the columns that a word takes when it is written big."""
    return len(big(word)[0])


def _halved(upper: str, lower: str) -> str:
    return "".join(_HALVES[above == "#", below == "#"] for above, below in zip(upper, lower, strict=True))
