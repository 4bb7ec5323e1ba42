# brevis: light and heat in skin. `make help` lists the targets.

VERSION := 0.1.0
DATE    := November 26, 2026
BUILD   ?= build
OPENMP  ?= 1
EXTRA   ?=

.SUFFIXES:
.PHONY: all demo figures test check bench validation slips browser clean help pages \
        need-demo need-test

CFLAGS  := -std=c11 -O2 -g -ffp-contract=off -fdebug-prefix-map='$(CURDIR)=.' $(EXTRA) # no path of this machine in them
WARN    := -Wall -Wextra -Wconversion -Wshadow -Wstrict-prototypes -Wmissing-prototypes \
           -Wpointer-arith -Wcast-qual -Wvla
ifeq (,$(findstring clang,$(CC)))
WARN    += -Wdouble-promotion # clang counts every NAN and INFINITY as a promotion
endif
DEFINE  := -DBRV_VERSION='"$(VERSION)"' -DBRV_DATE='"$(DATE)"' -DBRV_DATA='"$(CURDIR)"' -D_POSIX_C_SOURCE=200809L
LDLIBS   = $(shell pkg-config --libs gsl yaml-0.1) -lm

# A slip that reads or writes past its place ends the program instead of going on; tests/cli/hardened.sh looks for each of
# these in what was built. The library's objects are position-independent, so that they fit into programs that are.
HARDEN  := -fPIE -fstack-protector-strong -fstack-clash-protection -Wformat -Wformat-security -Werror=format-security
HARDEN_LINK := -pie -Wl,-z,relro -Wl,-z,now -Wl,-z,noexecstack
# Checked string functions need an optimiser, and would keep a sanitizer from seeing what it looks for.
ifeq (,$(filter -O0 -fsanitize% --coverage,$(EXTRA)))
HARDEN  += -U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=3
endif
CFLAGS  += $(HARDEN)
INCLUDE  = -Imodel $(shell pkg-config --cflags gsl yaml-0.1)
ifeq ($(OPENMP),1)
CFLAGS  += -fopenmp
else
CFLAGS  += -Wno-unknown-pragmas
endif

MODEL   := $(sort $(wildcard model/*/*.c))
CLI     := $(sort $(wildcard cli/*/*.c)) cli/main.c
TESTS   := $(wildcard tests/property/test_*.c tests/validation/test_*.c tests/verification/test_*.c tests/unit/test_*.c) # the longest first
SUPPORT := $(sort $(wildcard tests/support/*.c))
OBJECT   = $(patsubst %.c,$(BUILD)/%.o,$(1))
TESTBIN := $(patsubst %.c,$(BUILD)/%,$(TESTS))
MANUAL  := $(BUILD)/pages/brevis.1 $(BUILD)/pages/brevis-scenario.5
COMPLETION := $(BUILD)/pages/brevis.bash $(BUILD)/pages/_brevis
BENCH   := $(patsubst %.c,$(BUILD)/%,$(wildcard tests/bench/*.c))
RIVALS  := $(sort $(wildcard tests/bench/heat/*.c)) tests/support/exact_chain.c

# Parts that ask make once more compile on every core, unless -j was given.
CORES = $(if $(findstring -j,$(MAKEFLAGS)),,-j$(shell nproc 2>/dev/null || echo 1))

# The first goal decides whether the machine is looked over before anything is compiled.
all: $(BUILD)/brevis

# Manual pages and completion, written from the tables of the program: every build writes the same bytes.
PAGES = $(BUILD)/pages
$(MANUAL) $(COMPLETION): pages ;
pages: $(BUILD)/brevis
	@mkdir -p $(PAGES)
	@$(BUILD)/brevis help --page >$(PAGES)/brevis.1
	@$(BUILD)/brevis help --page scenario >$(PAGES)/brevis-scenario.5
	@$(BUILD)/brevis help --shell bash >$(PAGES)/brevis.bash
	@$(BUILD)/brevis help --shell zsh >$(PAGES)/_brevis

help:
	@echo 'make demo        install what is missing, build, run one scenario, name the figure and files to open'
	@echo 'make test        the same for the tests; ends with "N passed, N failed"'
	@echo 'make figures     eight figures for a course into out/course, or OUT=folder; docs/course_figures.md tells of them'
	@echo 'make             build build/brevis and build/libbrevis.a'
	@echo 'make pages       manual pages and completion for bash and zsh, in build/pages'
	@echo 'make check       format, order of the stages, purity of the library, stale pages'
	@echo 'make validation  write docs/validation.md from the checks and docs/reference/scenario.md from the keys'
	@echo 'make sanitize    the tests under sanitizers of gcc and clang, threads, valgrind; SET=short in minutes'
	@echo 'make builds      the same bytes from a build without OpenMP and one by clang'
	@echo 'make analyze     let the analyzer of gcc look at model/ and cli/; part of make check'
	@echo 'make coverage    lines of model/ and cli/ that the tests reach'
	@echo 'make slips       deliberate slips, each of which a named test must catch'
	@echo 'make fuzz        text that nobody wrote, SECONDS=n each or RUNS=n, TARGET=x; needs clang'
	@echo 'make faults      memory, disk, kill -9, two runs, clock and gnuplot made to fail; FULL=1 fails every call'
	@echo 'make stress      2,000 scenarios on and within the ends of all ranges, each in a process of its own; N=, SEED=, ONLY='
	@echo 'make stress-commands  the other commands on some of these scenarios; EVERY=, SEED='
	@echo 'make mutation    small slips of model/ by chance (SEED=1 N=200), and which test notices each; takes hours'
	@echo 'make fresh       the README in a bare Debian 12, as root and as a user; needs root; FRESH_QUICK=1 for the demo only'
	@echo 'make browser     report.html in Chromium, where it is installed; never part of the tests'
	@echo 'make bench       time and memory of this machine, never part of the tests'
	@echo 'make install     into PREFIX (/usr/local), below DESTDIR when given; make uninstall takes all of it away'
	@echo 'make deb         a Debian package of it in build/deb'
	@echo 'make clean       remove build/'
	@echo 'Variables: CC, OPENMP=0 (no threads), EXTRA="-fsanitize=address,undefined", BUILD=folder, PREFIX, DESTDIR'

$(BUILD)/brevis: $(call OBJECT,$(CLI)) $(BUILD)/libbrevis.a
	@echo '  LINK  $@'
	@$(CC) $(CFLAGS) $(HARDEN_LINK) -o $@ $^ $(LDLIBS)

$(BUILD)/libbrevis.a: $(call OBJECT,$(MODEL))
	@echo '  AR    $@'
	@rm -f $@ && ar rcsD $@ $^

$(BUILD)/model/%.o: model/%.c Makefile
	@mkdir -p $(@D)
	@echo '  CC    $<'
	@$(CC) $(CFLAGS) $(WARN) $(DEFINE) $(INCLUDE) -MMD -MP -c -o $@ $<

# Square roots without a look at errno, which nobody reads: no value changes, and several are taken at a time.
$(BUILD)/model/light/lanes.o: CFLAGS += -fno-math-errno

# Most of the time of a run: cells are taken two at a time where they do not wait for each other; no value changes.
$(BUILD)/model/heat/stepper.o $(BUILD)/model/base/ladder.o: CFLAGS += -O3

$(BUILD)/cli/%.o: cli/%.c Makefile
	@mkdir -p $(@D)
	@echo '  CC    $<'
	@$(CC) $(CFLAGS) $(WARN) $(DEFINE) $(INCLUDE) -Icli -MMD -MP -c -o $@ $<

$(BUILD)/tests/%.o: tests/%.c Makefile
	@mkdir -p $(@D)
	@echo '  CC    $<'
	@$(CC) $(CFLAGS) -Wall -Wextra -Wshadow $(DEFINE) $(INCLUDE) -Icli -Itests -MMD -MP -c -o $@ $<

$(TESTBIN): $(BUILD)/tests/%: $(BUILD)/tests/%.o $(call OBJECT,$(SUPPORT)) \
            $(call OBJECT,$(filter-out cli/main.c cli/command/%,$(CLI))) $(BUILD)/libbrevis.a
	@$(CC) $(CFLAGS) $(HARDEN_LINK) -o $@ $^ $(LDLIBS) -lcmocka

# Libraries that the bench compares with, where their headers are; nothing else uses them.
HAS      = $(shell echo '\#include <$(1)>' | $(CC) -E -x c - >/dev/null 2>&1 && echo yes)
SUNDIALS = -lsundials_cvode -lsundials_arkode -lsundials_sunlinsolband -lsundials_sunmatrixband -lsundials_nvecserial
$(BUILD)/tests/bench/bench_heat: LDLIBS += \
    $(if $(call HAS,cvode/cvode.h),$(SUNDIALS)) $(if $(call HAS,lapacke.h),-llapacke -llapack)
$(BUILD)/tests/bench/bench_heat: $(call OBJECT,$(RIVALS))
$(BUILD)/tests/bench/pick_freeze: $(call OBJECT,tests/support/sample.c)

$(BENCH): $(BUILD)/tests/%: $(BUILD)/tests/%.o $(BUILD)/libbrevis.a
	@$(CC) $(CFLAGS) $(HARDEN_LINK) -o $@ $(filter %.o,$^) $(BUILD)/libbrevis.a $(LDLIBS)

.SECONDARY:

need-demo:
	@sh .ci/need.sh demo

need-test:
	@sh .ci/need.sh test

# Sub-makes, so that pkg-config is asked only once everything is there.
demo: need-demo
	@$(MAKE) --no-print-directory $(CORES) all
	@$(BUILD)/brevis run scenarios/hand_532nm.yaml --out out/demo --force

# For a course: eight figures, each as svg, pdf and png.
OUT ?= out/course
figures: need-demo
	@$(MAKE) --no-print-directory $(CORES) all
	@BREVIS=$(BUILD)/brevis sh plots/course/figures.sh $(OUT)

test: need-test
	@$(MAKE) --no-print-directory $(CORES) $(BUILD)/brevis $(TESTBIN)
	@sh tests/run.sh $(BUILD) $(TESTBIN)

check: need-test
	@$(MAKE) --no-print-directory $(CORES) $(BUILD)/brevis $(TESTBIN)
	@sh tests/support/validation.sh $(BUILD) $(BUILD)/tests/validation.md
	@if command -v gcc >/dev/null; then $(MAKE) --no-print-directory -j 2 analyze; fi
	@sh tests/style/check.sh

validation: need-test
	@$(MAKE) --no-print-directory $(CORES) $(BUILD)/brevis $(TESTBIN)
	@sh tests/support/validation.sh $(BUILD) docs/validation.md
	@gnuplot -d -c plots/thresholds.gp $(BUILD)/tests/thresholds.csv $(BUILD)/tests/thresholds.svg svg \
	    'brevis – teaching model, not a medical device' && mv $(BUILD)/tests/thresholds.svg docs/thresholds.svg
	@$(BUILD)/brevis explain --page >docs/reference/scenario.md
	@$(BUILD)/brevis explain --page terms >docs/theory/glossary.md

# Deliberate slips, each of which a named test must catch; takes five minutes.
slips: need-test
	@sh tests/slips/slips.sh

# Pages in a browser, on a phone and on paper; says so where no Chromium is found.
browser: need-demo
	@$(MAKE) --no-print-directory $(CORES) all
	@BREVIS=$(BUILD)/brevis sh tests/browser/report.sh

bench: need-demo
	@$(MAKE) --no-print-directory $(CORES) all $(BENCH)
	@sh tests/bench/bench.sh $(BUILD)

include $(sort $(wildcard .packaging/*.mk tests/*/*.mk))

clean:
	rm -rf $(BUILD)

-include $(patsubst %.o,%.d,$(call OBJECT,$(MODEL) $(CLI) $(TESTS) $(SUPPORT) $(wildcard tests/bench/*.c tests/bench/*/*.c)))
