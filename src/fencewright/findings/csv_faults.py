"""What is wrong with a sheet that cannot be taken apart into cells, in our words."""

_SAID = (
    ("unexpected end", "the file is cut short inside quotes"),
    ("expected after", "a cell goes on after its closing quote: write a quote inside a quoted cell twice"),
    ("field larger", "a cell is far too long: is it a table, and are its quotes closed?"),
    ("new-line character", "a row is broken by a line end of another kind: save the file as CSV again"),
    ("NUL", "it holds binary data"),
)


def csv_fault(error: Exception) -> str:
    """Say what the reader of sheets found.

    Parameters
    ----------
    error : Exception
        As the `csv` module raises it.

    Returns
    -------
    str
        A sentence without the file's name.
    """
    return next((said for part, said in _SAID if part in str(error)), "it is no table of cells")
