"""Why a file could not be opened, in the house's words instead of the system's."""

import errno

NO_FILE = "there is no such file: check its name and folder"
_SAID = {
    errno.ENOENT: NO_FILE,
    errno.ENOTDIR: NO_FILE,
    errno.EACCES: "it may not be read: check its permissions",
    errno.EPERM: "it may not be read: check its permissions",
    errno.EISDIR: "it is a folder: name the file in it",
    errno.ENAMETOOLONG: "its name is too long for a file: check it",
    errno.ELOOP: "it is a link that leads back to itself: name the file itself",
    errno.EIO: "the disk could not read it: copy it to another disk and try again",
    errno.EMFILE: "too many files are open: close other programs and try again",
}


def cannot_be_read(error: Exception) -> str:
    """Say why a file could not be opened or read, and what to do."""
    if isinstance(error, ValueError):
        return "its name cannot be that of a file: check it"
    return _SAID.get(getattr(error, "errno", None) or 0, "it cannot be read: check the disk that it lies on")
