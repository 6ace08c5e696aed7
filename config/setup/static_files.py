import hashlib

from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.core.files.base import File
from django.core.management import call_command
from whitenoise.storage import CompressedManifestStaticFilesStorage

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


GENERATED = "fonts/"


class StaticStorage(CompressedManifestStaticFilesStorage):
    """Hashed and compressed static files; a web font that was never made keeps its plain name.

    The fonts are cut from the machine's own at set-up, so a style sheet may point at
    files that are not there; browsers then use the next face in the list.
    """

    def hashed_name(
        self, name: str, content: File[bytes] | None = None, filename: str | None = None
    ) -> str:
        try:
            hashed: str = super().hashed_name(name, content, filename)
        except ValueError:
            if name.startswith(GENERATED):
                return name
            raise
        return hashed
