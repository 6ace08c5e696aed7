from django.core.files.base import File
from whitenoise.storage import CompressedManifestStaticFilesStorage

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
