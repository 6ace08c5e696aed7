from argparse import ArgumentParser
from typing import Any

from django.conf import settings
from django.contrib.auth import get_user_model
from django.core.management import call_command
from django.core.management.base import BaseCommand
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from config.environment import BASE_DIR
from config.setup import demo, static_files
from tools import webfonts


class Command(BaseCommand):
    help = "Bring the database, demo, web fonts and static files up to date; print how to sign in."
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--no-demo", action="store_true", help="do not load the demo class")
        parser.add_argument("--port", type=int, help="the port that the server will use")

    def handle(self, *, no_demo: bool, port: int | None, **options: Any) -> None:
        settings.DATA_DIR.mkdir(mode=0o700, parents=True, exist_ok=True)
        self.migrate()
        if not no_demo:
            self.load_demo_once()
        for name in webfonts.build(BASE_DIR / "static" / "fonts"):
            self.stdout.write(f"Web font made: {name}")
        if static_files.collect_when_changed():
            self.stdout.write("Static files collected.")
        self.say_how_to_get_in(port)

    def migrate(self) -> None:
        executor = MigrationExecutor(connection)
        plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
        if plan:
            call_command("migrate", verbosity=0, interactive=False)
            self.stdout.write(f"Database brought up to date ({len(plan)} migrations).")

    def load_demo_once(self) -> None:
        if not get_user_model().objects.exists():
            call_command("load_demo", stdout=self.stdout)

    def say_how_to_get_in(self, port: int | None) -> None:
        if port is None:
            self.stdout.write("Bakebench is ready. `make serve` starts it.")
        else:
            self.stdout.write(f"Bakebench is at http://127.0.0.1:{port}/ (Ctrl-C stops it).")
        accounts = demo.open_accounts()
        if accounts:
            self.stdout.write("Demo sign-ins (change them before others can reach this machine):")
        for account in accounts:
            self.stdout.write(f"  {account.role:<12} {account.username} / {account.password}")
