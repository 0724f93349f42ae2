# bladehold. A newcomer needs two commands: `make demo` and `make test`.
# They want make and any Python from 3.11 on; everything else is put into .venv, with checked hashes.

.DEFAULT_GOAL := help
.PHONY: help demo test lint bench validation constraints clean

VENV ?= .venv
BIN := $(VENV)/bin
# Pip stays silent about its own updates; everything it installs is named, with hashes, in requirements/.
PIP := PIP_DISABLE_PIP_VERSION_CHECK=1 $(BIN)/python -m pip install --quiet

MADE := $(VENV)/.made
RUN := $(VENV)/.run-installed
DEV := $(VENV)/.dev-installed

help:
	@echo 'make demo         check the example aircraft and chart the example propeller line'
	@echo 'make test         format, lint, types, layers, tests: what CI runs'
	@echo 'make lint         the same without the tests'
	@echo 'make bench        time the benchmarks'
	@echo 'make validation   rewrite docs/validation.md from the validation tests'
	@echo 'make constraints  rewrite the hashed constraints files (UPGRADE=--upgrade: newest releases)'
	@echo 'make clean        remove everything that these make'

# --- the environment ---------------------------------------------------------------------------------------

PYTHON ?=
PYTHONS := $(PYTHON) python3.13 python3.12 python3.11 python3
SUITABLE := import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))

$(MADE):
	@for python in $(PYTHONS); do \
	  if "$$python" -c '$(SUITABLE)' >/dev/null 2>&1; then \
	    echo "Making $(VENV) with $$("$$python" --version)."; \
	    "$$python" -m venv $(VENV) && touch $@; exit; \
	  fi; \
	done; \
	echo 'bladehold needs Python 3.11 or newer with its venv module (on Debian and Ubuntu the package'; \
	echo 'python3-venv). None of these is one: $(PYTHONS). Point to yours with: make PYTHON=... demo'; \
	exit 1

# The package itself cannot be hashed, so it goes in by a command of its own, with what builds it in place.
$(RUN): requirements/run.txt pyproject.toml | $(MADE)
	@echo 'Installing what bladehold runs on (a minute the first time).'
	@$(PIP) --require-hashes --requirement requirements/run.txt
	@$(PIP) --no-deps --no-build-isolation --editable .
	@touch $@

$(DEV): requirements/dev.txt pyproject.toml | $(MADE)
	@echo 'Installing what the tests run on (a minute the first time).'
	@$(PIP) --require-hashes --requirement requirements/dev.txt
	@$(PIP) --no-deps --no-build-isolation --editable .
	@touch $(RUN) $@

# --- the two commands --------------------------------------------------------------------------------------

# A command ends with 0 when the hardware holds and with 1 when it does not: both are answers. Anything
# else is a fault, and so is a traceback, which Python too ends with 1.
define answer
	@echo; echo '$$ bladehold $(1)'
	@mkdir -p out; $(BIN)/bladehold $(1) 2>out/errors.txt; code=$$?; cat out/errors.txt >&2; \
	if [ $$code -gt 1 ] || grep -q Traceback out/errors.txt; then \
	  echo "make demo: this command broke down (exit code $$code)." >&2; exit 2; \
	fi
endef

demo: $(RUN)
	$(call answer,check examples/tarn6_as_delivered.toml)
	$(call answer,check examples/tarn6_repaired.toml)
	$(call answer,range examples/ostrel_line.csv --base examples/tarn6_repaired.toml --out out/ostrel_line.html)
	@rm -f out/errors.txt
	@echo; echo 'The chart is in out/ostrel_line.html. Commands of your own: $(BIN)/bladehold --help'

test: lint
	@$(BIN)/python tools/browser.py
	$(BIN)/pytest

lint: $(DEV)
	$(BIN)/ruff format --check
	$(BIN)/ruff check
	$(BIN)/mypy
	$(BIN)/lint-imports

# --- upkeep ------------------------------------------------------------------------------------------------

bench: $(DEV)
	$(BIN)/pytest benchmarks -o python_files='bench_*.py' --benchmark-only

validation: $(DEV)
	$(BIN)/python tools/validation_tables.py

# Resolved with the oldest Python supported and without this machine's own pip settings, so that the files
# say the same wherever they are made: name==version and hashes, nothing else.
OLDEST := python3.11
PIP_TOOLS := pip-tools==7.6.2
UPGRADE ?=
COMPILE = env -u PIP_FIND_LINKS -u PIP_EXTRA_INDEX_URL -u PIP_CONSTRAINT PIP_CONFIG_FILE=/dev/null \
  build/pip-tools/bin/pip-compile --quiet $(UPGRADE) --generate-hashes --build-deps-for editable \
  --no-emit-index-url --no-emit-find-links --no-header --no-annotate --strip-extras --allow-unsafe

constraints:
	$(OLDEST) -m venv build/pip-tools
	PIP_DISABLE_PIP_VERSION_CHECK=1 build/pip-tools/bin/pip install --quiet '$(PIP_TOOLS)'
	$(COMPILE) --output-file requirements/run.txt pyproject.toml
	$(COMPILE) --output-file requirements/dev.txt --constraint requirements/run.txt --extra dev pyproject.toml

clean:
	rm -rf $(VENV) build dist out .mypy_cache .ruff_cache .import_linter_cache .hypothesis .benchmarks
