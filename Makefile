# Two commands do all the set-up on a fresh machine: `make brief` and `make test`.

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
OUT := build
# Whole sheets, whole files, whole commands: without counting branches, which would take as long again.
WHOLE := tests/bad tests/render tests/rules tests/studies tests/test_cli.py tests/test_docs.py tests/test_filing.py tests/test_wheel.py

.PHONY: help brief test lint bench golden gallery clean

help:
	@echo "make brief   set up, build the example brief, say where it is"
	@echo "make test    set up, run every check"
	@echo "make bench   print the benchmarks' ratios"
	@echo "make gallery build the example in every size and trips that try a page hard, look every page over"
	@echo "make golden  write the golden files anew (read the difference before you commit it)"
	@echo "make clean   remove what these made"

brief: $(VENV)/.runtime
	@mkdir -p $(OUT)
	@if .ci/system-libraries $(BIN)/python; then \
		$(BIN)/briefgen build examples/quillmere/trip.yaml -o $(OUT)/brief.pdf; \
	else \
		echo "No PDF without those libraries; here is the same sheet as HTML:"; \
		$(BIN)/briefgen build examples/quillmere/trip.yaml -o $(OUT)/brief.html; \
	fi

test: lint
	@.ci/system-libraries $(BIN)/python
	$(BIN)/python -m pytest -n 2 --dist worksteal --cov --cov-report=term-missing:skip-covered $(WHOLE:%=--ignore=%)
	$(BIN)/python -m pytest -n 2 --dist worksteal $(WHOLE)

lint: $(VENV)/.development
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

bench: $(VENV)/.development
	@.ci/system-libraries $(BIN)/python
	@$(BIN)/python -m compileall -q briefgen
	$(BIN)/python tests/benchmarks/run.py
	$(BIN)/python tests/benchmarks/slips.py
	$(BIN)/python tests/benchmarks/pages.py
	$(BIN)/python tests/benchmarks/tables.py

# In $(OUT)/gallery, with index.html; NAMES="A5 'long names'" builds those alone. Status 1 where a page has a fault.
gallery: $(VENV)/.development
	@.ci/system-libraries $(BIN)/python
	$(BIN)/python tests/render/gallery.py $(NAMES)

golden: $(VENV)/.development
	$(BIN)/python -m pytest tests/render tests/test_facts.py --update-golden -q
	$(BIN)/python tests/render/picture.py

$(VENV)/.python:
	@.ci/virtual-environment $(PYTHON) $(VENV)
	@touch $@

$(VENV)/.runtime: $(VENV)/.python pyproject.toml
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable .
	$(BIN)/python -m compileall -q briefgen
	@touch $@

$(VENV)/.development: $(VENV)/.python pyproject.toml
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[dev]'
	$(BIN)/python -m compileall -q briefgen
	@touch $@ $(VENV)/.runtime

clean:
	rm -rf $(VENV) $(OUT) dist .pytest_cache .mypy_cache .ruff_cache .hypothesis .coverage
