"""`heapwright completion`: a script by which bash, zsh or fish completes commands, options and their words.

It is made from the same parser that reads the command line, so nothing is written twice.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from advisor.records import dataclass
from advisor.services.table import COMMANDS

SHELLS = ("bash", "zsh", "fish")


@dataclass(frozen=True, slots=True)
class Completed:
    """What can stand behind a command: its options with their help, the words of each, and words without an option."""

    command: str
    about: str
    options: tuple[tuple[str, str], ...]
    words: dict[str, tuple[str, ...]]
    names: tuple[str, ...]
    bare: frozenset[str]  # options behind which nothing stands


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("shell", choices=SHELLS, help="the shell that reads it")
    parser.epilog = (
        'bash: eval "$(heapwright completion bash)" in ~/.bashrc. zsh: the same in ~/.zshrc, behind compinit. '
        "fish: heapwright completion fish > ~/.config/fish/completions/heapwright.fish."
    )


def run(arguments: argparse.Namespace) -> int:
    """Print the script of a shell."""
    makers = {"bash": _bash, "zsh": _zsh, "fish": _fish}
    print("\n".join(makers[arguments.shell](tuple(commands()))))
    return 0


def commands() -> Iterator[Completed]:
    """Every command with what can stand behind it, read from its parser."""
    from advisor.commands.parsing import parser, summaries

    about, of_facts = summaries(), _words_of_facts()
    whole = parser(*about)
    found = next(action for action in whole._actions if isinstance(action, argparse._SubParsersAction))
    for name, sub in found.choices.items():
        options: list[tuple[str, str]] = []
        words: dict[str, tuple[str, ...]] = {}
        names: tuple[str, ...] = ()
        bare: set[str] = set()
        for action in sub._actions:
            picked = tuple(str(one) for one in action.choices or ()) or of_facts.get((name, action.dest), ())
            if not action.option_strings:
                names += picked or (_shipped(name) if action.dest in ("file", "name") else ())
            for option in action.option_strings:
                if option.startswith("--"):
                    options.append((option, (action.help or "") % {"prog": "heapwright"}))
                    if picked:
                        words[option] = picked
                    if action.nargs == 0:
                        bare.add(option)
        yield Completed(name, about[name], tuple(options), words, names, frozenset(bare))


def _words_of_facts() -> dict[tuple[str, str], tuple[str, ...]]:
    """The words of rules/facts.toml that an option takes, by the command and where its value is kept."""
    from advisor.commands.told import ANSWERS
    from advisor.counsel.in_use import in_use
    from advisor.household.files import answer_attributes

    knowledge = in_use()
    answers = {key: one for attributes in answer_attributes(knowledge).values() for key, one in attributes.items()}
    found: dict[tuple[str, str], tuple[str, ...]] = {}
    for name, service in COMMANDS.items():
        for each in service.parameters:
            if each.words_of and each.tells:
                found[name, f"told_{each.name}"] = tuple(each.words(knowledge))
        if service.takes == "all":
            found.update({(name, key): tuple(answers[key].words) for key in ANSWERS})
    return found


def _shipped(command: str) -> tuple[str, ...]:
    """The names of the files that come with the program and that a command takes."""
    from advisor.places import scenarios_folder

    grounds = sorted(path.stem for path in (scenarios_folder() / "soil").glob("*.toml"))
    households = sorted(path.stem for path in scenarios_folder().glob("*.toml"))
    if command in COMMANDS and COMMANDS[command].takes in ("beds", "a bed"):
        return tuple(grounds)
    return (*households, *grounds) if command == "households" else tuple(households)


def _bash(every: tuple[Completed, ...]) -> Iterator[str]:
    yield "_heapwright() {"
    yield '    local word="${COMP_WORDS[COMP_CWORD]}" before="${COMP_WORDS[COMP_CWORD-1]}" words=""'
    yield "    if (( COMP_CWORD == 1 )); then"
    yield f'        words="{" ".join(each.command for each in every)} --help --version"'
    yield '    else case "${COMP_WORDS[1]}:$before" in'
    for each in every:
        for option, words in each.words.items():
            yield f'        {each.command}:{option}) words="{" ".join(words)}" ;;'
        taking = [option for option, _ in each.options if option not in each.bare and option not in each.words]
        for option in taking:
            yield f"        {each.command}:{option}) ;;"
        plain = " ".join((*each.names, *(option for option, _ in each.options)))
        yield f'        {each.command}:*) words="{plain}" ;;'
    yield "    esac; fi"
    yield '    COMPREPLY=($(compgen -W "$words" -- "$word"))'
    yield "}"
    yield "complete -o default -F _heapwright heapwright"


def _zsh(every: tuple[Completed, ...]) -> Iterator[str]:
    yield "#compdef heapwright"
    yield "_heapwright() {"
    yield "    local -a commands"
    yield "    commands=("
    for each in every:
        yield f"        {_quoted(f'{each.command}:{each.about}')}"
    yield "    )"
    yield "    if (( CURRENT == 2 )); then _describe command commands; return; fi"
    yield "    case $words[2] in"
    for each in every:
        yield f"    {each.command})"
        specs = []
        for option, tells in each.options:
            tells = tells.replace("[", "(").replace("]", ")").replace(":", ";")
            behind = "" if option in each.bare else f":word:({' '.join(each.words.get(option, ()))})"
            behind = behind if option in each.bare or option in each.words else ":word:_files"
            specs.append(_quoted(f"*{option}[{tells}]{behind}"))
        names = f"({' '.join(each.names)})" if each.names else "_files"
        yield f"        _arguments {' '.join(specs)} {_quoted(f'*:name:{names}')}"
        yield "        ;;"
    yield "    esac"
    yield "}"
    yield "(( $+functions[compdef] )) && compdef _heapwright heapwright"


def _fish(every: tuple[Completed, ...]) -> Iterator[str]:
    for each in every:
        yield f"complete -c heapwright -n __fish_use_subcommand -f -a {each.command} -d {_quoted(each.about)}"
        seen = f"-n '__fish_seen_subcommand_from {each.command}'"
        if each.names:
            yield f"complete -c heapwright {seen} -a '{' '.join(each.names)}'"
        for option, tells in each.options:
            takes = "" if option in each.bare else " -r"
            words = f" -f -a '{' '.join(each.words[option])}'" if option in each.words else ""
            yield f"complete -c heapwright {seen} -l {option[2:]}{takes}{words} -d {_quoted(tells)}"


def _quoted(text: str) -> str:
    """A text in single quotes, as all three shells read it."""
    return "'" + text.replace("\\", "").replace("'", "’") + "'"
