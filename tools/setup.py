"""Install what Bakebench runs on: system packages, `.venv`, and the pinned Python packages.

`python3 tools/setup.py [--dev] [--port PORT]`. It does nothing if everything is there. `VENV` in
the environment names a directory other than `.venv`.
"""

from __future__ import annotations

import argparse
import hashlib
import importlib.util
import os
import platform
import shutil
import socket
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / os.environ.get("VENV", ".venv")
PYTHON = VENV / "bin" / "python"

RUN_PACKAGES = [
    "libpango-1.0-0",
    "libpangoft2-1.0-0",
    "libharfbuzz-subset0",
    "fontconfig",
    "fonts-vollkorn",
    "fonts-lato",
]
TEST_PROGRAMS = {"chromium": "chromium", "pdftotext": "poppler-utils", "qpdf": "qpdf"}

BY_HAND = """\
This is not Debian or Ubuntu, so system packages are yours to install:
  Pango (on macOS with Homebrew: brew install pango) for the PDF papers,
  the fonts Vollkorn and Lato for the intended look,
  and for `make test` also Chromium, poppler and qpdf.
Without them everything but the PDF papers works, in the system's own typefaces.
"""


def main() -> None:
    options = _options()
    if options.port is not None:
        check_port(options.port)
    install_system_packages(dev=options.dev)
    install_requirements("requirements-dev.txt" if options.dev else "requirements.txt")


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--dev", action="store_true", help="also what the tests need")
    parser.add_argument("--port", type=_port, help="stop early if this port is taken")
    return parser.parse_args()


def _port(text: str) -> int:
    if not (text.isascii() and text.isdigit()) or not 1 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError(f"{text!r} is not a port; take one from 1024 to 65535")
    return int(text)


def check_port(port: int) -> None:
    """Stop with a clear message if the port on this machine cannot be taken."""
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except PermissionError:
            sys.exit(f"Port {port} is reserved for the system. Try: make serve PORT=8000")
        except OSError:
            sys.exit(
                f"Port {port} is taken: another program, perhaps another Bakebench, listens there."
                f"\nStop that program, or take another port: make serve PORT={port % 65535 + 1}"
            )


def install_system_packages(*, dev: bool) -> None:
    """Install missing system packages with apt, or print the command for it."""
    if not (shutil.which("apt-get") and shutil.which("dpkg-query")):
        if not PYTHON.exists():
            print(BY_HAND if platform.system() != "Windows" else "Use Linux, macOS or WSL.")
        return
    missing = _missing_packages(dev=dev)
    if not missing:
        return
    prefix = _root_prefix()
    install = ["apt-get", "install", "--no-install-recommends", *missing]
    if prefix is None:
        sys.exit(
            "These system packages are missing, and installing them needs root:\n"
            f"  sudo {' '.join(install)}\n"
            "Run that line (after `sudo apt-get update` if it finds no such package), "
            "then try again."
        )
    print(f"Installing system packages: {' '.join(missing)}", flush=True)
    _apt(prefix, install)


def _missing_packages(*, dev: bool) -> list[str]:
    known = subprocess.run(
        ["dpkg-query", "-W", "-f", "${db:Status-Abbrev} ${Package}\n", *RUN_PACKAGES],
        capture_output=True,
        text=True,
        check=False,
    ).stdout
    installed = {line.split()[-1] for line in known.splitlines() if line.startswith("ii")}
    missing = [name for name in RUN_PACKAGES if name not in installed]
    if importlib.util.find_spec("ensurepip") is None and not PYTHON.exists():
        missing.append(f"python{sys.version_info.major}.{sys.version_info.minor}-venv")
    if dev:
        missing += [name for program, name in TEST_PROGRAMS.items() if not shutil.which(program)]
    return missing


def _root_prefix() -> list[str] | None:
    environment = ["env", "DEBIAN_FRONTEND=noninteractive"]
    if os.geteuid() == 0:
        return environment
    if shutil.which("sudo"):
        may = subprocess.run(["sudo", "-n", "true"], capture_output=True, check=False)
        if may.returncode == 0:
            return ["sudo", "-n", *environment]
    return None


def _apt(prefix: list[str], install: list[str]) -> None:
    """Install; if the package lists are missing or old, refresh them and try again."""
    quiet = ["-y", "-qq", "-o", "DPkg::Lock::Timeout=120"]
    command = [*prefix, *install, *quiet]
    if subprocess.run(command, capture_output=True, check=False).returncode == 0:
        return
    subprocess.run([*prefix, "apt-get", "update", *quiet], check=False)
    if subprocess.run(command, stdout=subprocess.DEVNULL, check=False).returncode != 0:
        sys.exit(f"apt could not install them. Its words are above; by hand: {' '.join(install)}")


def install_requirements(name: str) -> None:
    """Make `.venv` and bring it to the pins of this requirements file, if they changed."""
    requirements = ROOT / name
    stamp = VENV / f".{name}.sha256"
    wanted = hashlib.sha256(requirements.read_bytes()).hexdigest()
    runs = PYTHON.exists() and _works("-c", "")
    if runs and stamp.is_file() and stamp.read_text() == wanted:
        return
    if not (runs and _works("-m", "pip", "--version")):
        print("Making .venv", flush=True)
        subprocess.run([sys.executable, "-m", "venv", "--clear", VENV], check=True)
    print(f"Installing Python packages from {name}", flush=True)
    pip = ["-m", "pip", "install", "--quiet", "--no-input", "--disable-pip-version-check"]
    done = subprocess.run([PYTHON, *pip, "--require-hashes", "-r", requirements], check=False)
    if done.returncode != 0:
        sys.exit(f"pip could not install {name}. Its words are above; is the network there?")
    stamp.write_text(wanted)


def _works(*arguments: str) -> bool:
    try:
        run = subprocess.run([PYTHON, *arguments], capture_output=True, check=False)
    except OSError:
        return False
    return run.returncode == 0


if __name__ == "__main__":
    main()
