"""`burnsim completion SHELL`: print a script by which a shell asks the command itself for what may follow."""

import argparse

from burnsim.cli.command import Commands, add_command

HELP = """\
print a script for completion in a shell

Print a script that lets a shell complete commands, options and their values.

examples:
  bash: burnsim completion bash > ~/.local/share/bash-completion/completions/burnsim
  zsh:  burnsim completion zsh > DIR/_burnsim      where DIR is one of $fpath
  fish: burnsim completion fish > ~/.config/fish/completions/burnsim.fish
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    completion = add_command(commands, _completion, HELP, None)
    completion.add_argument("shell", choices=("bash", "zsh", "fish"), help="which shell")


def _completion(options: argparse.Namespace) -> None:
    from argcomplete.shell_integration import shellcode

    print(shellcode(["burnsim"], shell=options.shell), end="")
