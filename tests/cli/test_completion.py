"""Completion in the shell: what a person who presses Tab is offered, asked of the shell itself."""

from __future__ import annotations

import shutil
import subprocess

import pytest
from commanded import heapwright

from advisor.commands.parsing import parser, summaries


def completed(*words: str) -> list[str]:
    """What bash offers behind some words, the last of which is being typed."""
    script = heapwright("completion", "bash").stdout
    typed = " ".join(f"'{word}'" for word in words)
    asked = (
        f"COMP_WORDS=(heapwright {typed}); COMP_CWORD={len(words)}; _heapwright; printf '%s\\n' \"${{COMPREPLY[@]}}\""
    )
    done = subprocess.run(["bash", "-c", f"{script}\n{asked}"], capture_output=True, text=True, check=True, timeout=20)
    assert done.stderr == ""
    return done.stdout.split()


@pytest.mark.parametrize(
    ("words", "offered"),
    [
        (("su",), ["substitutes"]),
        (("",), [*summaries(), "--help", "--version"]),
        (("substitutes", "--season", "s"), ["spring", "summer"]),
        (("bedding", "--aim", ""), ["steady", "quick", "fungal"]),
        (("bedding", "--an"), ["--animals"]),
        (("ready", "--reheats", ""), ["yes", "no"]),
        (("plan", "--crop", "p"), ["pots"]),
        (("plan", "six"), ["six-hens"]),
        (("soil", "dead"), ["dead-clay"]),
        (("households", "dead"), ["dead-clay"]),
        (("completion", ""), ["bash", "zsh", "fish", "--help"]),
        (("plan", "--have", ""), []),
    ],
)
def test_bash_offers_what_can_stand_there(words: tuple[str, ...], offered: list[str]) -> None:
    assert completed(*words) == offered


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_every_option_of_every_command_is_in_the_script(shell: str) -> None:
    script = heapwright("completion", shell).stdout
    whole = parser(*summaries())
    for action in whole._actions:
        for name, sub in (action.choices or {}).items() if isinstance(action.choices, dict) else ():
            assert name in script
            for option in (one for each in sub._actions for one in each.option_strings if one.startswith("--")):
                assert (f"-l {option[2:]} " if shell == "fish" else option) in script


@pytest.mark.parametrize("shell", ["zsh", "fish"])
def test_the_shell_reads_the_script(shell: str) -> None:
    if shutil.which(shell) is None:
        pytest.skip(f"there is no {shell} here")
    script = heapwright("completion", shell).stdout
    done = subprocess.run([shell, "-n", "/dev/stdin"], input=script, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
