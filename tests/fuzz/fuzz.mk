# Inputs that nobody wrote. `make fuzz SECONDS=n` runs every target so long, `make fuzz RUNS=n TARGET=x` one so often;
# the inputs kept in corpus/ are a test of `make test`, which needs no fuzzer.
.PHONY: fuzz fuzz-programs fuzz-corpus need-fuzz

FUZZ_TARGETS := scenario quantity set vary csv part json whole
FUZZ_SOURCES := $(sort $(wildcard tests/fuzz/fuzz_*.c)) tests/fuzz/fuzz.c tests/fuzz/json_check.c tests/fuzz/change.c
FUZZ_PARTS    = $(call OBJECT,$(FUZZ_SOURCES))
FUZZ_PROGRAMS = $(patsubst %,$(BUILD)/tests/fuzz/run_%,$(FUZZ_TARGETS))
FUZZ_FLAGS   := -fsanitize=fuzzer-no-link,address,undefined,float-cast-overflow -fno-sanitize-recover=all \
                -fno-omit-frame-pointer
FUZZ_BUILD    = $(BUILD)/fuzz
SECONDS ?= 60

# Object files that do not come from a wildcard of the main rules.
$(BUILD)/tests/unit/test_corpus: $(FUZZ_PARTS)

# Words come from the dictionary and from what strcmp is given; following every other comparison as well took up to two
# thirds of the time, which is better spent on more inputs.
ifneq (,$(findstring fuzzer,$(EXTRA)))
CFLAGS += -fno-sanitize-coverage=trace-cmp
endif

need-fuzz:
	@sh .ci/need.sh fuzz

FUZZ_MAKE = $(MAKE) --no-print-directory BUILD=$(FUZZ_BUILD) CC=clang OPENMP=0 EXTRA='$(FUZZ_FLAGS)' fuzz-programs
fuzz: need-fuzz
	@$(FUZZ_MAKE)
	@sh tests/fuzz/fuzz.sh $(FUZZ_BUILD) '$(or $(TARGET),$(FUZZ_TARGETS))' '$(SECONDS)' '$(RUNS)'

# What was kept and what was found since, down to the inputs that reach something no other one does.
fuzz-corpus: need-fuzz
	@$(FUZZ_MAKE)
	@sh tests/fuzz/corpus.sh $(FUZZ_BUILD) '$(or $(TARGET),$(FUZZ_TARGETS))'

fuzz-programs: $(FUZZ_PROGRAMS) $(BUILD)/tests/fuzz/words.dict

FUZZ_LINKED = $(FUZZ_PARTS) $(call OBJECT,$(wildcard cli/scenario/*.c cli/report/*.c)) $(BUILD)/libbrevis.a
$(FUZZ_PROGRAMS): $(BUILD)/tests/fuzz/run_%: $(BUILD)/tests/fuzz/driver_%.o $(FUZZ_LINKED)
	@echo '  LINK  $@'
	@$(CC) $(CFLAGS) -fsanitize=fuzzer -o $@ $^ $(LDLIBS)

$(BUILD)/tests/fuzz/driver_%.o: tests/fuzz/driver.c Makefile
	@mkdir -p $(@D)
	@$(CC) $(CFLAGS) $(WARN) $(DEFINE) -DFUZZ_TARGET=fuzz_$* $(INCLUDE) -Icli -Itests -MMD -MP -c -o $@ $<

$(BUILD)/tests/fuzz/words.dict: $(BUILD)/tests/fuzz/words.o $(call OBJECT,$(wildcard cli/scenario/*.c cli/report/*.c)) \
                                $(BUILD)/libbrevis.a
	@$(CC) $(CFLAGS) -o $(@D)/words $^ $(LDLIBS)
	@$(@D)/words | LC_ALL=C sort -u >$@

-include $(patsubst %.o,%.d,$(FUZZ_PARTS) $(BUILD)/tests/fuzz/words.o)
