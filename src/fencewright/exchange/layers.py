"""Choosing a layer of a file by name, with the nearest name where there is none such."""

import difflib
from collections.abc import Sequence

from fencewright.exchange.intake import shown
from fencewright.findings import InputError

_MAX_LISTED = 12


def pick_layer(wanted: str, names: Sequence[str], file: str) -> str:
    """Name of the layer that is meant: the same name, or the only one that differs in case alone.

    Raises
    ------
    InputError
        There is none; the message lists those that there are and asks about the nearest.
    """
    if wanted in names:
        return wanted
    folded = [name for name in names if name.casefold() == wanted.casefold()]
    if len(folded) == 1:
        return folded[0]
    listed = ", ".join(f'"{shown(name)}"' for name in names[:_MAX_LISTED])
    more = f" and {len(names) - _MAX_LISTED} more" if len(names) > _MAX_LISTED else ""
    near = difflib.get_close_matches(wanted.casefold(), [name.casefold() for name in names], n=1, cutoff=0.5)
    meant = next((name for name in names if near and name.casefold() == near[0]), "")
    ask = f'; is "{shown(meant)}" meant?' if meant else ""
    raise InputError(f'it has no layer "{shown(wanted)}", only {listed}{more}{ask}', file=file)
