"""The commands: what they are called, and what is said of them."""

from __future__ import annotations

import pytest

from service import __version__
from service.cli import main

COMMANDS = ("serve", "openapi", "demo", "key")


def test_help_lists_every_command_with_what_it_does(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["--help"])
    assert ended.value.code == 0
    lines = [line.split() for line in capsys.readouterr().out.splitlines()]
    for command in COMMANDS:
        assert any(len(line) > 2 and line[0] == command for line in lines)


def test_without_a_command_the_help_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 0
    written = capsys.readouterr()
    assert all(command in written.out for command in COMMANDS)
    assert written.err == ""


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_explains_itself_without_being_run(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main([command, "--help"])
    assert ended.value.code == 0
    assert capsys.readouterr().out.startswith(f"usage: python -m service {command}")


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["--version"])
    assert ended.value.code == 0
    assert capsys.readouterr().out.split() == ["program-adjustment-service", __version__]


@pytest.mark.parametrize("arguments", [["nothing"], ["serve", "more"], ["--nothing"]])
def test_what_is_no_command_is_misuse(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(arguments)
    assert ended.value.code == 2
    written = capsys.readouterr()
    assert written.out == ""
    assert "usage: python -m service" in written.err
