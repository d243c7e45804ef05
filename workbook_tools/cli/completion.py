"""davitbook completion."""

from __future__ import annotations

import click
from click.shell_completion import get_completion_class

_VARIABLE = "_DAVITBOOK_COMPLETE"  # the name that click derives from the command's


@click.command()
@click.argument("shell", type=click.Choice(["bash", "zsh", "fish"]))
@click.pass_context
def completion(context: click.Context, shell: str) -> None:
    """Print what makes a shell complete commands, options and codes.

    \b
    bash   davitbook completion bash > ~/.davitbook-complete.bash
           then, once: echo '. ~/.davitbook-complete.bash' >> ~/.bashrc
    zsh    davitbook completion zsh > ~/.davitbook-complete.zsh
           then, once: echo '. ~/.davitbook-complete.zsh' >> ~/.zshrc
    fish   davitbook completion fish > ~/.config/fish/completions/davitbook.fish

    It takes effect in the next shell. bash must be 4.4 or later.
    """
    completing = get_completion_class(shell)
    if completing is None:
        raise click.UsageError(f"this version of click knows no completion for {shell}")
    # click's own script, not its check of the bash on the path: the script may be made for another machine
    script = completing(context.find_root().command, {}, "davitbook", _VARIABLE)
    click.echo(script.source_template % script.source_vars())
