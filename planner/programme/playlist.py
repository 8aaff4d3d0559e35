"""Sets of recordings: the sound files of a folder, or those that a playlist names."""

from __future__ import annotations

import os
from pathlib import Path

from planner.programme.sound_faults import RecordingError
from planner.programme.sound_file import SUFFIXES

__all__ = ["is_set", "members_of"]

_LISTS = (".m3u", ".m3u8")


def is_set(path: str | os.PathLike[str]) -> bool:
    """Whether a path is a folder or a playlist rather than one recording.

    Parameters
    ----------
    path : path
        Any path [dimensionless].

    Returns
    -------
    bool
        True for folders and for names that end in .m3u or .m3u8 [dimensionless].

    Examples
    --------
    >>> is_set("evening.m3u"), is_set("waltz.flac")
    (True, False)
    """
    return os.path.isdir(path) or Path(path).suffix.lower() in _LISTS


def members_of(path: str | os.PathLike[str]) -> list[Path]:
    """The recordings of a set, in the order in which they are played.

    A folder gives its sound files and those of the folders in it, by name; a playlist the files that its
    lines name, from its own folder on.

    Parameters
    ----------
    path : path
        Folder or playlist [dimensionless].

    Returns
    -------
    list of Path
        Files; those of a playlist may not exist [dimensionless].

    Raises
    ------
    RecordingError
        If the playlist cannot be read, or nothing is in the set.

    Examples
    --------
    >>> import tempfile
    >>> folder = Path(tempfile.mkdtemp())
    >>> for name in ("b.wav", "a.flac", "cover.png"):
    ...     (folder / name).touch()
    >>> [file.name for file in members_of(folder)]
    ['a.flac', 'b.wav']
    """
    folder = Path(path)
    found = _in_folder(folder) if folder.is_dir() else _in_list(folder)
    if not found:
        fault = "holds no sound files" if folder.is_dir() else "names no sound files"
        raise RecordingError(path, fault, f"sound files end in {', '.join(SUFFIXES)}")
    return found


def _in_folder(folder: Path) -> list[Path]:
    files = (file for file in folder.rglob("*") if file.suffix.lower() in SUFFIXES and file.is_file())
    shown = (
        file for file in files if not any(part.startswith(".") for part in file.relative_to(folder).parts)
    )
    return sorted(shown, key=lambda file: [part.casefold() for part in file.parts])


def _in_list(playlist: Path) -> list[Path]:
    try:
        content = playlist.read_bytes()
    except OSError as error:
        raise RecordingError(playlist, f"cannot be read ({error.strerror})", "check the name") from error
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("latin-1")  # what .m3u meant before .m3u8
    lines = (line.strip() for line in text.splitlines())
    names = [line for line in lines if line and not line.startswith("#")]
    return [playlist.parent / name.replace("\\", "/") for name in names]
