import os
import secrets
from pathlib import Path


def ensure_secret_key(path: Path) -> bool:
    """Write a new random key to `path` unless a file is there; say whether one was made.

    Only the owner may read the file. An existing key is never replaced: signed links
    and sessions depend on it.
    """
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    try:
        descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return False
    with os.fdopen(descriptor, "w") as file:
        file.write(secrets.token_urlsafe(64) + "\n")
    return True
