"""Are the records and the boards looked for where they were asked for?"""

from pathlib import Path

from passcheck.cli.folders import demo_boards, find_folders


def test_the_option_goes_before_the_environment_and_that_before_the_folder_here(tmp_path: Path) -> None:
    named = {"PASSCHECK_LOGS": "env-logs", "PASSCHECK_SEQUENCES": "env-boards"}
    (tmp_path / "sequences").mkdir()
    asked = find_folders("my-logs", "my-boards", named, tmp_path)
    assert (asked.logs, asked.sequences) == (Path("my-logs"), Path("my-boards"))
    by_environment = find_folders(None, None, named, tmp_path)
    assert (by_environment.logs, by_environment.sequences) == (Path("env-logs"), Path("env-boards"))
    here = find_folders(None, None, {"PASSCHECK_LOGS": ""}, tmp_path)
    assert (here.logs, here.sequences) == (tmp_path / "logs", tmp_path / "sequences")


def test_where_there_are_no_boards_the_demo_boards_stand_in(tmp_path: Path) -> None:
    assert find_folders(None, None, {}, tmp_path).sequences == demo_boards()
    assert (demo_boards() / "ov-24p.yaml").is_file()
