import hashlib

from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.core.management import call_command

STAMP_FILE = "static.stamp"


def collect_when_changed() -> bool:
    """Collect static files if any was added, removed or touched; say whether it was needed."""
    stamp_file = settings.DATA_DIR / STAMP_FILE
    stamp = _stamp()
    if stamp_file.is_file() and stamp_file.read_text() == stamp and settings.STATIC_ROOT.is_dir():
        return False
    call_command("collectstatic", verbosity=0, interactive=False, clear=True)
    stamp_file.write_text(stamp)
    return True


def _stamp() -> str:
    digest = hashlib.sha256()
    for finder in get_finders():
        for name, storage in finder.list([]):
            touched = storage.get_modified_time(name).isoformat()
            digest.update(f"{name} {touched} {storage.size(name)}\n".encode())
    return digest.hexdigest()
