# The two commands of the README, and what the tests and checks of this project are.
# Needs Python 3.11 or newer and make; everything else is installed into .venv.

PYTHON ?= python3
BIN := .venv/bin
export PIP_DISABLE_PIP_VERSION_CHECK := 1
export NO_MKDOCS_2_WARNING := 1

.PHONY: site test lint wheel lock label-trials benchmark mutants clean

site: .venv/run  ## check the demo records, build their site, say where it is
	$(BIN)/passport check
	$(BIN)/passport build
	@echo "The site is built. Open site/index.html through: $(BIN)/passport serve  (http://127.0.0.1:8000/)"

test: .venv/dev  ## run all tests; those that need a browser are skipped, with a reason, where there is none
	$(BIN)/python -m pytest -n auto

lint: .venv/dev  ## style, types and the direction of imports
	$(BIN)/ruff format --check
	$(BIN)/ruff check
	$(BIN)/mypy
	$(BIN)/lint-imports

wheel: .venv/dev  ## build the wheel into dist/
	$(BIN)/python -m build --wheel --no-isolation

lock: .venv/dev  ## pin every dependency anew, by name, version and hash
	$(BIN)/uv pip compile --universal --python-version 3.11 --generate-hashes --no-header --no-emit-index-url --no-annotate \
		--extra build -q -o requirements.txt pyproject.toml
	$(BIN)/uv pip compile --universal --python-version 3.11 --generate-hashes --no-header --no-emit-index-url --no-annotate \
		--extra build --extra dev -q -o requirements-dev.txt pyproject.toml

.venv/bin/python:
	$(PYTHON) -m venv .venv

.venv/run: requirements.txt pyproject.toml | .venv/bin/python
	$(BIN)/python -m pip install -q --require-hashes -r requirements.txt
	$(BIN)/python -m pip install -q --no-deps --no-build-isolation -e .
	@touch $@

.venv/dev: requirements-dev.txt pyproject.toml | .venv/bin/python
	$(BIN)/python -m pip install -q --require-hashes -r requirements-dev.txt
	$(BIN)/python -m pip install -q --no-deps --no-build-isolation -e .
	@touch $@

benchmark: .venv/dev  ## how long things take, beside plain MkDocs with Material setting the same records
	$(BIN)/python -m tests.benchmark

label-trials: .venv/dev  ## photograph finished labels in every bad light, and print how many are read
	$(BIN)/python -m tests.labels.trials

mutants: .venv/dev  ## change every sign and number of the sums, one at a time, and print what no test noticed
	$(BIN)/python -m tests.mutants

clean:
	rm -rf .venv site site-shop dist .passport-cache
