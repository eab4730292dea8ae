"""Which JSON may a line hold, and which bytes make it something else?"""

from hypothesis import strategies as st

TEXT = st.text(st.characters(exclude_categories=["Cs"]))
ANY_NAME = st.text(max_size=4)
ANY_VALUE = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(ANY_NAME, inner, max_size=4),
    max_leaves=12,
)
KEPT_VALUE = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | TEXT,
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text(st.characters(max_codepoint=127)), inner, max_size=4)
    ),
    max_leaves=12,
)
KEPT_DATA = st.dictionaries(st.text(st.characters(max_codepoint=127), max_size=4), KEPT_VALUE, max_size=4)
HOSTILE = [
    b" ", b"\t", b"\r", b"\\/", b"\\u00e4", b"\\u0041", b"\\u001B", b"\\u001b", b"\\b", b"\\n", b"\\ud800",
    b"\\ud83d\\ude00", b"\x7f", b"\x00", b"\x1f", b"\xff", b"\xc3", b"\xed\xa0\x80", "ä".encode(), "\u2028".encode(),
    b"1.5", b"1.0", b"1e3", b"1E400", b"-0", b"-0.0", b"-1", b"00", b"+1", b"NaN", b"Infinity", b"-Infinity", b"null",
    b"9007199254740991", b"9007199254740992", b"-9007199254740992", b"18446744073709551616", b"9" * 5000,
    b"true", b"True", b'"', b"'", b"\\", b"{", b"}", b"[", b"]", b",", b":", b",}", b"{}", b"[]", b"/**/",
    b'"a":1,', b'"a":1,"a":1', b'"b":1,"a":2', '"ä":1'.encode(), b'"":0', b"[" * 30 + b"]" * 30,
    b"[" * 300 + b"]" * 300, b"[" * 20_000 + b"]" * 20_000,
]  # fmt: skip
PIECES = st.sampled_from(HOSTILE) | st.binary(max_size=3)
