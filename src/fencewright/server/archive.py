"""One archive of everything, the same bytes for the same files."""

import io
import json
import zipfile
from collections.abc import Mapping

from fencewright.store.files import MANIFEST, manifest_text

_DATE = (1980, 1, 1, 0, 0, 0)  # the first that the format knows: nothing is taken from the clock


def archive_of(files: Mapping[str, bytes]) -> bytes:
    """Pack files into a zip archive, by name; the same files give the same bytes."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
        for name in sorted(files):
            info = zipfile.ZipInfo(name, _DATE)
            info.compress_type = zipfile.ZIP_DEFLATED
            info.external_attr = 0o644 << 16
            archive.writestr(info, files[name])
    return packed.getvalue()


def with_manifest(files: Mapping[str, bytes], text: str) -> dict[str, bytes]:
    """Add the job file and the manifest, as the command line writes it, to the outputs of a design."""
    record = json.loads(files["design.json"])
    about = {key: record[key] for key in ("program", "version", "digest", "may_be_built")}
    manifest = manifest_text(files, {**about, "job": record["job"]["name"]})
    return {**files, MANIFEST: manifest, "job.toml": text.encode()}
