"""What is wrong with a sheet that cannot be taken apart into cells, in our words."""


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
    told = str(error)
    if "unexpected end" in told:
        return "the file is cut short inside quotes"
    if "expected after" in told:
        return "a cell goes on after its closing quote: write a quote inside a quoted cell twice"
    if "field larger" in told:
        return "a cell is far too long: is it a table, and are its quotes closed?"
    if "new-line character" in told:
        return "a row is broken by a line end of another kind: save the file as CSV again"
    return "it holds binary data" if "NUL" in told else "it is no table of cells"
