"""Files that depend on nothing but what is put into them, and how a list describes them."""

import base64
import hashlib
import zipfile
from collections.abc import Mapping
from pathlib import Path

import deflate

TIGHTLY = 10
"""Of libdeflate's levels: as long as zlib takes; the tightest, 12, takes three times as long for
three thousandths less."""


def write_archive(file: Path, contents: Mapping[str, bytes]) -> None:
    """Write a zip that depends on nothing but its contents."""
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, data in contents.items():
            entry = zipfile.ZipInfo(name, date_time=(1980, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, data)


def read_archive(file: Path) -> dict[str, bytes]:
    """Return what a zip holds by name, folders left out."""
    with zipfile.ZipFile(file) as archive:
        return {
            each.filename: archive.read(each) for each in archive.infolist() if not each.is_dir()
        }


def write_compressed(file: Path, data: bytes) -> dict[str, object]:
    """Write bytes with gzip, without a date, and describe the file and what is in it."""
    file.write_bytes(deflate.gzip_compress(data, TIGHTLY))
    return {**entry(file, file.parent), "size": len(data), "unpacked": sha256(data)}


def entry(file: Path, folder: Path) -> dict[str, object]:
    """Describe a file: its name as seen from a folder, its bytes, their hash."""
    data = file.read_bytes()
    name = file.relative_to(folder).as_posix()
    return {"name": name, "bytes": len(data), "sha256": sha256(data)}


def sha256(data: bytes) -> str:
    """Return the hash of bytes as browsers write it: base64."""
    return base64.b64encode(hashlib.sha256(data).digest()).decode()


def content_hash(contents: Mapping[str, bytes]) -> str:
    """Return a short hash over names and bytes; it stands in names, so no cache can mix two."""
    digest = hashlib.sha256()
    for name, data in contents.items():
        digest.update(f"{name}\0{len(data)}\0".encode() + data)
    return digest.hexdigest()[:12]
