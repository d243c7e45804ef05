"""The options of `check` for many runs and many machines: the archive and the cluster."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from workbook_tools.checks import Options
    from workbook_tools.fleet.job import Job, Outcome
    from workbook_tools.fleet.run import Work
    from workbook_tools.fleet.sinks import Sink


def scale_options(function: Callable[..., None]) -> Callable[..., None]:
    """The options archive and cluster."""
    for option in (
        click.option(
            "--cluster",
            metavar="ADDRESS",
            help="Do the work on a Dask cluster, by its scheduler's address: tcp://machine:8786.",
        ),
        click.option(
            "--archive",
            type=click.Path(file_okay=False, path_type=Path),
            metavar="DIR",
            help="Add this run to an archive of Parquet files, for trends.",
        ),
    ):
        function = option(function)
    return function


def archive_sink(folder: Path, options: Options) -> Sink:
    """The sink of --archive, which says on the error output where the run is."""
    from workbook_tools.fleet.archive import ArchiveError, ArchiveSink

    try:
        return ArchiveSink(folder, options, lambda text: click.echo(text, err=True))
    except ArchiveError as error:
        raise click.UsageError(f"--archive: {error}") from error


def cluster_work(address: str) -> Work:
    """Work on the cluster at an address; what it cannot do is told in a line."""
    from workbook_tools.fleet.cluster import Cluster, ClusterError

    def work(paths: Sequence[str], job: Job) -> Iterator[tuple[int, Outcome]]:
        try:
            with Cluster(address, job) as cluster:
                yield from cluster.outcomes(paths)
        except ClusterError as error:
            raise click.UsageError(f"--cluster: {error}") from error

    return work
