"""Does the shop's list of keys say what ssh-keygen reads in it, and is each slip named with its place?"""

import calendar
import re
import time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ssh_keys import KeyPair, key_pair, stock_accepts, stock_signs, with_stock

from passcheck.errors import BenchFailed
from passcheck.records.signers import LARGEST, Leave, matches, read_revoked, read_signers
from passcheck.records.ssh_key import PublicKey, read_public_key
from passcheck.records.ssh_signature import NAMESPACE

AT = "20310402091403Z"
AT_S = calendar.timegm((2031, 4, 2, 9, 14, 3, 0, 0, 0))
ONLY = 'namespaces="passcheck-journal"'

LISTS = {
    "plain": "t1 KEY",
    "comment, blank lines": "# who may sign\n\n  # more\nt1 KEY bench A\n",
    "several names": "t2,t1,t1@shop KEY",
    "quoted names": '"first technician,t1" KEY',
    "tabs and blanks": "\tt1\t KEY \r\n",
    "a star": "t* KEY",
    "a question mark": "t? KEY",
    "but not": "t*,!t1 KEY",
    "another name": "t2 KEY",
    "capitals differ": "T1 KEY",
    "another key": "t1 OTHER",
    "namespace": f"t1 {ONLY} KEY",
    "option in capitals": 't1 NameSpaces="passcheck-journal" KEY',
    "namespace pattern": 't1 namespaces="file,pass*" KEY',
    "other namespace": 't1 namespaces="file" KEY',
    "namespace but not": 't1 namespaces="*,!passcheck-journal" KEY',
    "namespace with a blank": 't1 namespaces="file, passcheck-journal" KEY',
    "from that second on": 't1 valid-after="20310402091403Z" KEY',
    "from the next second on": 't1 valid-after="20310402091404Z" KEY',
    "until that second": 't1 valid-before="20310402091403Z" KEY',
    "until the second before": 't1 valid-before="20310402091402Z" KEY',
    "within days": f't1 valid-after="20310402Z",valid-before="20310403Z",{ONLY} KEY',
    "minutes": 't1 valid-after="203104020914Z" KEY',
    "local time": 't1 valid-after="20310401" KEY',
    "local time, too late": 't1 valid-after="20310404" KEY',
    "the second line": 't1 namespaces="file" KEY\nt1 KEY',
    "certificates": "t1 cert-authority KEY",
    "unquoted value": "t1 namespaces=passcheck-journal KEY",
    "unknown option": 't1 colour="red" KEY',
    "twice": 't1 valid-after="20310101Z",valid-after="20310101Z" KEY',
    "ends before it begins": 't1 valid-after="20310401Z",valid-before="20300401Z" KEY',
    "ends as it begins": 't1 valid-after="20310402091403Z",valid-before="20310402091403Z" KEY',
    "comma at the end": f"t1 {ONLY}, KEY",
    "open quote": 't1 namespaces="passcheck-journal KEY',
    "no day": 't1 valid-after="soon" KEY',
    "month 13": 't1 valid-after="20301301Z" KEY',
    "wrong kind": "t1 ssh-rsa BASE64",
    "no key": "t1",
    "cut short": "t1 ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIA==",
    "a slip above": 't9\nt1 colour="red" KEY\nt1 KEY',
    "nothing": "",
}


def keys(folder: Path) -> tuple[KeyPair, KeyPair]:
    return key_pair(folder, "one"), key_pair(folder, "two")


def written(path: Path, text: str, one: KeyPair, two: KeyPair) -> Path:
    filled = text.replace("KEY", one.public).replace("OTHER", two.public).replace("BASE64", one.public.split()[1])
    path.write_text(filled, encoding="utf-8", newline="")
    return path


@with_stock
@pytest.mark.parametrize("text", LISTS.values(), ids=LISTS.keys())
def test_a_list_lets_sign_whom_ssh_keygen_lets_sign(text: str, tmp_path: Path) -> None:
    one, two = keys(tmp_path)
    journal, path = tmp_path / "journal", written(tmp_path / "allowed_signers", text, one, two)
    journal.write_bytes(b"evidence\n")
    (tmp_path / "journal.sig").write_bytes(stock_signs(one, journal))
    leave = read_signers(path).leave(read_public_key(one.public), NAMESPACE, AT_S, "t1")
    assert (leave is not None and not leave.against) == stock_accepts(journal, path, "t1", AT)


@pytest.mark.parametrize(
    ("name", "line", "why"),
    [
        ("certificates", 1, "passcheck takes no certificates"),
        ("unquoted value", 1, "the value of namespaces has to stand in quotes"),
        ("unknown option", 1, "'colour' is no option"),
        ("twice", 1, "valid-after stands there twice"),
        ("ends before it begins", 1, "valid-before is not later than valid-after"),
        ("comma at the end", 1, "is no key and no option"),
        ("open quote", 1, "never closed"),
        ("no day", 1, "valid-after is 'soon'"),
        ("month 13", 1, "valid-after is '20301301Z'"),
        ("wrong kind", 1, "not of the kind that is named before it"),
        ("no key", 1, "a key is missing"),
        ("cut short", 1, "ends too early"),
        ("a slip above", 2, "'colour' is no option"),
    ],
)
def test_a_slip_is_named_with_file_line_and_reason(name: str, line: int, why: str, tmp_path: Path) -> None:
    path = written(tmp_path / "allowed_signers", LISTS[name], *keys(tmp_path))
    slip = read_signers(path).slips[line - 1]
    assert slip.startswith(f"{path}, line {line}: ")
    assert why in slip


def test_what_is_no_text_is_a_slip_of_its_line_alone(tmp_path: Path) -> None:
    one, _ = keys(tmp_path)
    path = tmp_path / "allowed_signers"
    path.write_bytes(b"t1 \xff\nt1\x0c" + one.public.encode() + b"\nt1 " + one.public.encode())
    read = read_signers(path)
    assert [slip.split(": ")[1] for slip in read.slips] == [
        "it is not UTF-8 text. Write one key a line.",
        "it holds a control character.",
    ]
    assert [signer.line for signer in read.lines] == [3]


def test_where_there_is_no_list_nobody_is_let_sign(tmp_path: Path) -> None:
    read = read_signers(tmp_path / "allowed_signers")
    assert (read.lines, read.slips) == ((), ())
    assert read.leave(PublicKey(b""), NAMESPACE, AT_S) is None


def test_a_file_far_too_large_is_no_list(tmp_path: Path) -> None:
    path = tmp_path / "allowed_signers"
    path.write_bytes(b"#" * (LARGEST + 1))
    with pytest.raises(BenchFailed, match="no list of keys"):
        read_signers(path)


@pytest.mark.parametrize(
    ("principals", "person"),
    [("t1,t2", "t1"), ("*@shop,t2", "t2"), ("!t1,t1,t2", "t2"), ("*@shop", "*@shop"), ("!t1", "!t1")],
)
def test_the_person_is_the_first_plain_name_that_the_line_lets_through(
    principals: str, person: str, tmp_path: Path
) -> None:
    one, two = keys(tmp_path)
    path = written(tmp_path / "allowed_signers", f"{principals} KEY", one, two)
    assert read_signers(path).leave(read_public_key(one.public), NAMESPACE, AT_S) == Leave(person, "", 1)


def test_the_reason_names_what_the_key_is_for_and_since_or_until_when(tmp_path: Path) -> None:
    one, two = keys(tmp_path)
    for options, why in (
        ('namespaces="file"', "this key signs for file and not for passcheck-journal"),
        ('valid-after="20320101Z"', "this key signs from 2032-01-01 00:00:00 UTC on"),
        ('valid-before="20300101Z"', "this key signed until 2030-01-01 00:00:00 UTC"),
    ):
        path = written(tmp_path / "allowed_signers", f"t1 {options} KEY", one, two)
        assert read_signers(path).leave(read_public_key(one.public), NAMESPACE, AT_S) == Leave("t1", why, 1)


def test_revoked_keys_are_lines_of_public_keys_and_a_slip_counts_against_all(tmp_path: Path) -> None:
    one, two = keys(tmp_path)
    path = written(tmp_path / "revoked_keys", "# lost in May\n\nKEY t1's old one\n", one, two)
    revoked = read_revoked(path)
    assert revoked.line_of(read_public_key(one.public)) == 3
    assert revoked.line_of(read_public_key(two.public)) is None
    assert revoked.slips == ()
    assert len(read_revoked(written(path, "SHA256:abc\nKEY", one, two)).slips) == 1


@given(
    text=st.text("ab*", max_size=6),
    patterns=st.lists(st.tuples(st.booleans(), st.text("ab*?", max_size=5)), min_size=1, max_size=4),
)
def test_patterns_fit_as_the_manual_says(text: str, patterns: list[tuple[bool, str]]) -> None:
    def fits(pattern: str) -> bool:
        expression = "".join({"*": ".*", "?": "."}.get(sign, re.escape(sign)) for sign in pattern)
        return re.fullmatch(expression, text) is not None

    said = ",".join("!" * negated + pattern for negated, pattern in patterns)
    wanted = any(fits(pattern) for negated, pattern in patterns if not negated)
    barred = any(fits(pattern) for negated, pattern in patterns if negated)
    assert matches(text, said) == (wanted and not barred)


def test_no_pattern_takes_long() -> None:
    assert not matches("a" * 5_000, "*a" * 2_000 + "b")


@given(st.text(max_size=200))
def test_no_line_whatever_ends_in_anything_but_a_signer_or_a_slip(
    tmp_path_factory: pytest.TempPathFactory, text: str
) -> None:
    path = tmp_path_factory.getbasetemp() / "any_list"
    path.write_text(f"t1 {text}", encoding="utf-8", errors="surrogatepass")
    read = read_signers(path)
    assert read.lines == ()
    assert read.slips


@pytest.mark.skipif(not hasattr(time, "tzset"), reason="this system's time zone can't be set for one process")
def test_a_time_without_z_is_the_machine_s_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    one, two = keys(tmp_path)
    path = written(tmp_path / "allowed_signers", 't1 valid-after="20310701120000" KEY', one, two)
    monkeypatch.setenv("TZ", "XYZ-05:30")
    time.tzset()
    try:
        assert read_signers(path).lines[0].after_s == calendar.timegm((2031, 7, 1, 6, 30, 0, 0, 0, 0))
    finally:
        monkeypatch.undo()
        time.tzset()
