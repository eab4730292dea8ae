"""How does a picture of a window stay small, when a browser writes it with three bytes a dot?

A window has few colours, so each dot becomes the number of one of 256: the most frequent one of each shade, then those
that are there most often, and for any other the nearest of them. Plain PNG, as wide and as high as before.
"""

import struct
import zlib
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path

SIGNATURE = b"\x89PNG\r\n\x1a\n"
MOST_COLOURS = 256
RED_GREEN_BLUE, NUMBERED = 2, 3
SHADE_BITS = 6
"""So many bits of red, green and blue don't make another shade, so that there are 64 of them."""
BYTES = 3
"""A dot as a browser writes it."""


def make_small(picture: Path) -> None:
    """Write the picture again with a colour's number for each dot; one that is written so already stays."""
    chunks = list(_chunks(picture.read_bytes()))
    width, height, depth, kind = struct.unpack(">IIBB", chunks[0][1][:10])
    if (depth, kind) == (8, RED_GREEN_BLUE):
        packed = b"".join(data for name, data in chunks if name == b"IDAT")
        picture.write_bytes(_numbered(width, height, _dots(zlib.decompress(packed), width)))


def _chunks(png: bytes) -> Iterator[tuple[bytes, bytes]]:
    at = len(SIGNATURE)
    while at < len(png):
        length, name = struct.unpack(">I4s", png[at : at + 8])
        yield name, png[at + 8 : at + 8 + length]
        at += 12 + length


def _dots(raw: bytes, width: int) -> list[bytes]:
    """Every dot's colour, row by row: each row is written as its difference from dots before it or above it."""
    dots, above, long = [], bytes(width * BYTES), width * BYTES + 1
    for at in range(0, len(raw), long):
        above = _row(raw[at], raw[at + 1 : at + long], above)
        dots += [above[place : place + BYTES] for place in range(0, len(above), BYTES)]
    return dots


def _row(way: int, written: bytes, above: bytes) -> bytes:
    row = bytearray(written)
    for place, byte in enumerate(row):
        left, corner = (row[place - BYTES], above[place - BYTES]) if place >= BYTES else (0, 0)
        from_what = (0, left, above[place], (left + above[place]) // 2, _nearest(left, above[place], corner))[way]
        row[place] = byte + from_what & 0xFF
    return bytes(row)


def _nearest(left: int, above: int, corner: int) -> int:
    """Which of the three the sum of two less the third comes nearest to; the first where two are as near."""
    wanted = left + above - corner
    return min((left, above, corner), key=lambda one: abs(wanted - one))


def _numbered(width: int, height: int, dots: list[bytes]) -> bytes:
    there = Counter(dots)
    often = sorted(there, key=lambda one: (-there[one], one))
    shades = {tuple(part >> SHADE_BITS for part in one): one for one in reversed(often)}
    colours = list(dict.fromkeys((*shades.values(), *often)))[:MOST_COLOURS]
    numbers = {colour: number for number, colour in enumerate(colours)}

    @cache
    def number(colour: bytes) -> int:
        if colour in numbers:
            return numbers[colour]
        return numbers[min(colours, key=lambda one: sum((a - b) ** 2 for a, b in zip(one, colour, strict=True)))]

    all_of_them = bytes(map(number, dots))
    rows = b"".join(b"\0" + all_of_them[at : at + width] for at in range(0, len(all_of_them), width))
    head = struct.pack(">IIBBBBB", width, height, 8, NUMBERED, 0, 0, 0)
    parts = ((b"IHDR", head), (b"PLTE", b"".join(colours)), (b"IDAT", zlib.compress(rows, 9)), (b"IEND", b""))
    return SIGNATURE + b"".join(_chunk(name, data) for name, data in parts)


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I4s", len(data), name) + data + struct.pack(">I", zlib.crc32(name + data))
