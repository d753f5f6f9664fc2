# The two commands: `make demo` and `make test`. The rest: check, fix, bench, docs, pictures, clean.
# Works on a machine with only Python 3.11 or later, make and a package registry.

PYTHON ?= $(shell for name in python3 python3.14 python3.13 python3.12 python3.11; do \
	"$$name" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null && { echo "$$name"; break; }; done)
BIN := .venv/bin
PIP := $(BIN)/python -m pip install --quiet --no-compile --disable-pip-version-check
RUN := .venv/run.stamp
TEST := .venv/test.stamp
OUT ?= out/demo
WORKERS ?= 2

.PHONY: help demo test check fix bench docs pictures clean ruff format types floors pytest
help:
	@echo "make demo: set up, design the example, say where the results lie"
	@echo "make test: set up, run every check and every test"
	@echo "also: make check | fix | bench | docs | pictures | clean"

$(BIN)/python:
	@[ -n "$(PYTHON)" ] || { echo "fencewright needs Python 3.11 or later: install it, or name it with make PYTHON=/path/to/python3" >&2; exit 1; }
	@"$(PYTHON)" -m venv .venv || { rm -rf .venv; echo "Python cannot make a virtual environment: install its venv package (Debian, Ubuntu: python3-venv)" >&2; exit 1; }

$(RUN): requirements/run.txt pyproject.toml | $(BIN)/python
	@echo "Setting up: the packages that the program runs on"
	@$(PIP) --requirement requirements/run.txt
	@$(PIP) --no-deps --editable .
	@touch $@

$(TEST): requirements/test.txt $(RUN)
	@echo "Setting up: the packages that its tests need"
	@$(PIP) --requirement requirements/test.txt
	@touch $@

demo: $(RUN)
	@$(BIN)/fencewright demo --out $(OUT)

test: $(TEST)
	@$(MAKE) --no-print-directory --keep-going check pytest \
		&& echo "make test: every check and every test passed" \
		|| { echo "make test: FAILED, see above" >&2; exit 1; }

check: ruff format types floors
ruff: $(TEST)
	@$(BIN)/ruff check .
format: $(TEST)
	@$(BIN)/ruff format --check .
types: $(TEST)
	@$(BIN)/mypy
floors: $(TEST)
	@$(BIN)/lint-imports
pytest: $(TEST)
	@$(BIN)/python -m pytest -n $(WORKERS)

fix: $(TEST)
	@$(BIN)/ruff check --fix .
	@$(BIN)/ruff format .

bench: $(TEST)
	@set -e; for file in bench/*.py; do echo "== $$file"; $(BIN)/python "$$file"; done

docs: $(TEST)
	@$(BIN)/python docs/make_docs.py

pictures: $(TEST)
	@if [ -d tests/pictures ]; then FENCEWRIGHT_RENEW_PICTURES=1 $(BIN)/python -m pytest tests/pictures; \
		else echo "there are no picture tests yet"; fi

clean:
	rm -rf .venv out .pytest_cache .mypy_cache .ruff_cache .import_linter_cache .hypothesis
