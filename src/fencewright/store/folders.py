"""Files of the store laid out in folders, so that readers of files can open them; one folder a set of files."""

import os
import secrets
import shutil
import threading
from collections.abc import Callable, Mapping
from pathlib import Path

from fencewright.store.faults import spoken_faults
from fencewright.store.rows import set_digest


class FileFolders:
    """Folders by the digest of their files, made when first asked for and never changed."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self._lock = threading.Lock()

    def folder_of(self, files: Mapping[str, str], content: Callable[[str], bytes]) -> Path:
        """Give the folder that holds a set of files.

        Parameters
        ----------
        files : mapping of str to str
            Digest of each file by its path; paths stay in their folder, which the caller has seen to.
        content : callable
            Gives a file by its digest.

        Returns
        -------
        Path
            Whole, or not there at all: it is made under another name first.
        """
        folder = self.root / "sets" / set_digest(files)
        if folder.is_dir():
            return folder
        with self._lock, spoken_faults(str(self.root)):
            if folder.is_dir():
                return folder
            part = folder.with_name(f".{folder.name}.{secrets.token_hex(4)}")
            part.mkdir(parents=True, mode=0o700)
            for path, digest in files.items():
                target = part / path
                target.parent.mkdir(parents=True, exist_ok=True)
                self._link(digest, content, target)
            part.replace(folder)
        return folder

    def _link(self, digest: str, content: Callable[[str], bytes], target: Path) -> None:
        """Write a file once by its digest, and give it a second name."""
        blob = self.root / "blobs" / digest
        if not blob.exists():
            blob.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
            part = blob.with_name(f".{digest}.part")
            part.write_bytes(content(digest))
            part.replace(blob)
        try:
            os.link(blob, target)
        except OSError:  # a file system without links
            shutil.copyfile(blob, target)

    def remove(self) -> None:
        """Take all folders away."""
        shutil.rmtree(self.root, ignore_errors=True)
