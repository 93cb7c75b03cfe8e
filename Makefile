# Two commands matter: `make run` starts the service, `make test` proves it.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
PORT ?= 8017

.PHONY: help run test check bench lock clean

help:            ## list the commands
	@grep -E '^[a-z]+:.*##' $(MAKEFILE_LIST) | sed 's/:.*##/\t/'

$(VENV)/ready-run: requirements.lock pyproject.toml
	@test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	$(BIN)/pip install --quiet --disable-pip-version-check --require-hashes -r requirements.lock
	$(BIN)/pip install --quiet --disable-pip-version-check --no-deps --editable .
	$(BIN)/python -m compileall -q service pairing_data
	@touch $@

$(VENV)/ready-dev: requirements-dev.lock pyproject.toml
	@test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	$(BIN)/pip install --quiet --disable-pip-version-check --require-hashes -r requirements-dev.lock
	$(BIN)/pip install --quiet --disable-pip-version-check --no-deps --editable .
	$(BIN)/python -m compileall -q service pairing_data
	@touch $@ $(VENV)/ready-run

run: $(VENV)/ready-run      ## set up, then serve the demo bar on this machine
	$(BIN)/marc serve --demo --port $(PORT)

check: $(VENV)/ready-dev    ## lint, format, types, rooms (seconds)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports --no-cache

test: check                 ## everything: check, then every test
	$(BIN)/pytest

bench: $(VENV)/ready-dev    ## ratios measured on this machine
	$(BIN)/python -m benchmarks

lock:                       ## resolve the dependencies again (needs uv)
	uv pip compile -q pyproject.toml --extra postgresql --generate-hashes --no-header -o requirements.lock
	uv pip compile -q pyproject.toml --extra postgresql --group dev --generate-hashes --no-header -o requirements-dev.lock

clean:                      ## remove what the commands made
	rm -rf $(VENV) build var .mypy_cache .ruff_cache .pytest_cache
