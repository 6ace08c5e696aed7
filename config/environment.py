"""What the environment says, before Django starts.

Variables win over the `.env` file at the project root.
"""

from pathlib import Path

from environs import Env

BASE_DIR = Path(__file__).resolve().parent.parent

env = Env()
env.read_env(BASE_DIR / ".env", recurse=False)

DATA_DIR: Path = BASE_DIR / env.path("DATA_DIR", default=Path("data"))
SECRET_KEY_FILE: Path = DATA_DIR / "secret_key"
