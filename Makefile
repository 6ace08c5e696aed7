PYTHON ?= python3
PORT ?= 8000
VENV ?= .venv
VENV_PYTHON := $(VENV)/bin/python
export PORT VENV

.DEFAULT_GOAL := help
.PHONY: help serve setup test test-quick test-newer bench lint format lock clean python dev

help:  ## List the commands
	@echo "make serve   install what is missing, then start Bakebench on this machine (PORT=8000)"
	@echo "make setup   everything serve does, short of serving"
	@echo "make test    run all tests, browser tests included (ARGS= goes to pytest)"
	@echo "make test-quick  run the tests of the pure cores alone, in less than a minute"
	@echo "make test-newer  run what fits into 15 minutes on newer Pythons, where there are any"
	@echo "make bench   measure speed, one JSON object a line"
	@echo "make lint    check style, types, migrations, settings and pins"
	@echo "make format  bring code and templates into the style that lint checks"
	@echo "make lock    pin the Python packages anew (UPGRADE=1 takes newer ones)"
	@echo "make clean   remove what tests and tools left; your data stays"

python:
	@command -v $(PYTHON) >/dev/null || { \
		echo "Python 3.11 or newer is needed, and there is no $(PYTHON)."; \
		echo "On Debian and Ubuntu: sudo apt-get install python3 python3-venv"; exit 1; }
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { \
		echo "Python 3.11 or newer is needed; $(PYTHON) is $$($(PYTHON) --version 2>&1)."; \
		echo "With a newer one beside it: make serve PYTHON=python3.12"; exit 1; }

serve: python
	@$(PYTHON) tools/setup.py --port "$(PORT)"
	@$(VENV_PYTHON) manage.py prepare --port "$(PORT)"
	@exec $(VENV_PYTHON) -m gunicorn -c config/server/gunicorn.py

setup: python
	@$(PYTHON) tools/setup.py
	@$(VENV_PYTHON) manage.py prepare

dev: python
	@$(PYTHON) tools/setup.py --dev

PYTEST = PYTHONDONTWRITEBYTECODE= $(VENV_PYTHON) -m pytest -n 2 --dist loadfile --no-loadscope-reorder

test: dev
	@$(VENV_PYTHON) -m tools.webfonts
	$(PYTEST) $(ARGS)

test-quick: dev
	$(PYTEST) tests/recipes/core tests/recipes/importing tests/classes/core tests/wording tests/outside $(ARGS)

test-newer: dev
	@$(VENV_PYTHON) tools/newer_pythons.py $(MINUTES)

bench: dev
	@DJANGO_SETTINGS_MODULE=config.testing $(VENV_PYTHON) -m tests.bench

lint: dev
	.venv/bin/ruff check
	.venv/bin/ruff format --check
	find templates -name '*.html' -exec .venv/bin/djade --check --target-version 5.2 {} +
	.venv/bin/mypy
	@! grep -n '://' requirements.txt requirements-dev.txt || { \
		echo "The pins must hold no address."; exit 1; }
	DJANGO_SETTINGS_MODULE=config.testing $(VENV_PYTHON) manage.py makemigrations --check --dry-run
	DEBUG=False HTTPS=True ALLOWED_HOSTS=bakebench.example DATA_DIR=.test-data \
		SECRET_KEY="$$($(VENV_PYTHON) -c 'import secrets; print(secrets.token_urlsafe(64))')" \
		$(VENV_PYTHON) manage.py check --deploy --fail-level WARNING

format: dev
	.venv/bin/ruff check --fix
	.venv/bin/ruff format
	find templates -name '*.html' -exec .venv/bin/djade --target-version 5.2 {} +

UV = .venv/bin/uv pip compile --quiet --universal --python-version 3.11 --fork-strategy fewest \
	--generate-hashes --no-emit-index-url --no-emit-find-links \
	--custom-compile-command "make lock" $(if $(UPGRADE),--upgrade)

lock: dev
	@test -x .venv/bin/uv || $(VENV_PYTHON) -m pip install --quiet uv
	$(UV) pyproject.toml --output-file requirements.txt
	$(UV) pyproject.toml --group dev --constraint requirements.txt \
		--output-file requirements-dev.txt

clean:
	rm -rf .venv-* .test-data .pytest_cache .mypy_cache .ruff_cache .hypothesis test-results
	find . -name __pycache__ -type d -not -path './.venv*/*' -prune -exec rm -rf {} +
