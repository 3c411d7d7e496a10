"""Our own wheel, made by hand so that its bytes depend on nothing but the sources."""

from __future__ import annotations

import base64
import hashlib
import zipfile
from pathlib import Path

from build_page.fetch.tools import ROOT, version

FIXED = (2020, 1, 1, 0, 0, 0)


def sources() -> list[Path]:
    """The files of the core that it needs to run."""
    found = (ROOT / "py" / "thickset").rglob("*")
    return sorted(path for path in found if path.is_file() and path.suffix not in {".pyc", ".md"})


def make_wheel(folder: Path) -> Path:
    """Write the core's wheel into a folder."""
    name = f"thickset-{version()}"
    info = f"{name}.dist-info"
    files = {path.relative_to(ROOT / "py").as_posix(): path.read_bytes() for path in sources()}
    metadata = f"Metadata-Version: 2.1\nName: thickset\nVersion: {version()}\nRequires-Dist: pint\n"
    files[f"{info}/METADATA"] = metadata.encode()
    files[f"{info}/WHEEL"] = b"Wheel-Version: 1.0\nGenerator: thickset\nRoot-Is-Purelib: true\nTag: py3-none-any\n"
    record = [f"{path},sha256={_sum(data)},{len(data)}" for path, data in files.items()] + [f"{info}/RECORD,,"]
    files[f"{info}/RECORD"] = ("\n".join(record) + "\n").encode()
    out = folder / f"{name}-py3-none-any.whl"
    with zipfile.ZipFile(out, "w") as wheel:
        for path, data in files.items():
            wheel.writestr(
                zipfile.ZipInfo(path, FIXED), data
            )  # stored: compressed, its bytes would be this machine's zlib's
    return out


def _sum(data: bytes) -> str:
    return base64.urlsafe_b64encode(hashlib.sha256(data).digest()).rstrip(b"=").decode()
