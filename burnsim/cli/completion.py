"""`burnsim completion SHELL`: print a script that lets a shell complete the command, made from its own parser."""

import argparse
from collections.abc import Iterator
from typing import NamedTuple

from burnsim.cli.command import Commands, add_command

SHELLS = ("bash", "zsh", "fish")
HELP = """\
print a script for completion in a shell

Print a script that lets a shell complete commands, options and their values.

examples:
  bash: burnsim completion bash > ~/.local/share/bash-completion/completions/burnsim
  zsh:  burnsim completion zsh > DIR/_burnsim      where DIR is one of $fpath
  fish: burnsim completion fish > ~/.config/fish/completions/burnsim.fish
"""


class Option(NamedTuple):
    """One option: how it is written, what it is, what may follow it."""

    names: tuple[str, ...]
    words: str
    takes: bool
    choices: tuple[str, ...]


class Command(NamedTuple):
    """One subcommand: its options, and the words that may stand bare in it."""

    name: str
    words: str
    options: tuple[Option, ...]
    bare: tuple[str, ...]


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    completion = add_command(commands, _completion, HELP, None)
    completion.add_argument("shell", choices=SHELLS, help="which shell")


def _completion(options: argparse.Namespace) -> None:
    from burnsim.cli import build_parser

    print(completion_script(options.shell, build_parser()), end="")


def completion_script(shell: str, parser: argparse.ArgumentParser) -> str:
    """The script of a shell for the parser of the whole command."""
    made = {"bash": _bash, "zsh": _zsh, "fish": _fish}[shell]
    return "\n".join(made(parser.prog, read_commands(parser))) + "\n"


def read_commands(parser: argparse.ArgumentParser) -> tuple[Command, ...]:
    """Read the subcommands of a parser, in their order."""
    found = []
    for action in parser._actions:
        if not isinstance(action, argparse._SubParsersAction):
            continue
        helps = {choice.dest: choice.help or "" for choice in action._choices_actions}
        for name, sub in action.choices.items():
            options: list[Option] = []
            bare: list[str] = []
            for one in sub._actions:
                choices = tuple(str(choice) for choice in one.choices or ())
                if one.option_strings:
                    takes = one.nargs != 0
                    options.append(Option(tuple(one.option_strings), one.help or "", takes, choices))
                else:
                    bare += choices
            found.append(Command(name, helps.get(name, ""), tuple(options), tuple(bare)))
    return tuple(found)


def _quoted(text: str) -> str:
    """A text between single quotes, for bash and zsh."""
    return "'" + text.replace("'", "'\\''") + "'"


def _listed(words: tuple[str, ...]) -> str:
    """Words that may hold blanks, one a line, quoted."""
    return _quoted("\n".join(word.replace(" ", "\\ ") for word in words))


def _bash(prog: str, commands: tuple[Command, ...]) -> Iterator[str]:
    yield f"# completion of {prog} in bash"
    yield f"_{prog}() {{"
    yield "    local IFS=$'\\n' cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]}"
    yield '    if [ "$COMP_CWORD" -eq 1 ]; then'
    names = (*(command.name for command in commands), "--help", "--version")
    yield f'        COMPREPLY=($(compgen -W {_listed(names)} -- "$cur")); return'
    yield "    fi"
    yield "    case ${COMP_WORDS[1]} in"
    for command in commands:
        yield f"    {command.name})"
        yield "        case $prev in"
        for option in command.options:
            written = "|".join(option.names)
            words = f"-W {_listed(option.choices)}" if option.choices else "-f"
            if option.takes:
                yield f'        {written}) COMPREPLY=($(compgen {words} -- "$cur")); return ;;'
        yield "        esac"
        flags = tuple(name for option in command.options for name in option.names)
        yield f'        case $cur in -*) COMPREPLY=($(compgen -W {_listed(flags)} -- "$cur")); return ;; esac'
        if command.bare:
            yield f'        COMPREPLY=($(compgen -W {_listed(command.bare)} -- "$cur")); return ;;'
        else:
            yield '        COMPREPLY=($(compgen -f -- "$cur")); return ;;'
    yield "    esac"
    yield "}"
    yield f"complete -o filenames -F _{prog} {prog}"


def _zsh(prog: str, commands: tuple[Command, ...]) -> Iterator[str]:
    yield f"#compdef {prog}"
    yield f"# completion of {prog} in zsh"
    yield f"_{prog}() {{"
    yield "    local -a commands"
    yield "    commands=("
    for command in commands:
        yield f"        {_quoted(command.name + ':' + command.words)}"
    yield "    )"
    yield "    if (( CURRENT == 2 )); then _describe command commands; return; fi"
    yield "    case $words[2] in"
    for command in commands:
        yield f"    {command.name})"
        yield "        _arguments \\"
        for option in command.options:
            values = ""
            if option.takes:
                given = "(" + " ".join(choice.replace(" ", "\\ ") for choice in option.choices) + ")"
                values = ":value:" + (given if option.choices else "_files")
            words = option.words.replace("[", "\\[").replace("]", "\\]").replace(":", "\\:")
            for name in option.names:
                yield f"            {_quoted(f'{name}[{words}]{values}')} \\"
        rest = "(" + " ".join(command.bare) + ")" if command.bare else "_files"
        yield f"            {_quoted('*:file:' + rest)} ;;"
    yield "    esac"
    yield "}"
    yield f"compdef _{prog} {prog}"


def _fish(prog: str, commands: tuple[Command, ...]) -> Iterator[str]:
    def text(words: str) -> str:
        return "'" + words.replace("\\", "\\\\").replace("'", "\\'") + "'"

    yield f"# completion of {prog} in fish"
    yield f"complete -c {prog} -n __fish_use_subcommand -f"
    for command in commands:
        yield f"complete -c {prog} -n __fish_use_subcommand -f -a {command.name} -d {text(command.words)}"
    for command in commands:
        within = f"complete -c {prog} -n '__fish_seen_subcommand_from {command.name}'"
        for option in command.options:
            names = " ".join(f"-l {name[2:]}" if name.startswith("--") else f"-s {name[1:]}" for name in option.names)
            values = ""
            if option.choices:
                values = " -x -a " + text(" ".join(choice.replace(" ", "\\ ") for choice in option.choices))
            elif option.takes:
                values = " -r -F"
            yield f"{within} {names}{values} -d {text(option.words)}"
        if command.bare:
            yield f"{within} -f -a {text(' '.join(command.bare))}"
