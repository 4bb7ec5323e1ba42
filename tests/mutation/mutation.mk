# Mutants of model/: small slips, drawn by chance, that a test must turn red for. Hours; never part of `make test`.
#     make mutation SEED=1 N=200     goes on where it was stopped; LONGEST=20 leaves out tests of more seconds,
#                                    ONLY='3 17' looks at these again, AGAIN=1 at all that have survived
.PHONY: mutation mutation-ready mutation-try

MUTATION := $(BUILD)/mutation
# Nothing between calls within a file, so that a kernel keeps its speed in a shared library; no lines for a debugger, so
# that two objects are the same when they do the same.
MUTANT_FLAGS := -std=c11 -O2 -ffp-contract=off -fno-math-errno -fPIC -fno-semantic-interposition -Wno-unknown-pragmas
MUTANT_CC = $(CC) $(MUTANT_FLAGS) -w -D_POSIX_C_SOURCE=200809L $(INCLUDE)
MUTANT_BIN := $(patsubst tests/%.c,$(MUTATION)/bin/%,$(TESTS))
MUTANT_SHELL := $(call OBJECT,$(filter-out cli/main.c cli/command/%,$(CLI)))

$(MUTATION)/mutate: $(wildcard tests/mutation/*.[ch])
	@mkdir -p $(@D)
	@$(CC) -std=c11 -O2 -Wall -Wextra -Wshadow -o $@ $(filter %.c,$^)

$(MUTATION)/plain/%.o: %.c Makefile
	@mkdir -p $(@D)
	@$(MUTANT_CC) -MMD -MP -c -o $@ $<

$(MUTATION)/reached/%.o: %.c Makefile
	@mkdir -p $(@D)
	@$(MUTANT_CC) -O1 --coverage -MMD -MP -c -o $@ $<

$(MUTATION)/plain/libmodel.so: $(patsubst %.c,$(MUTATION)/plain/%.o,$(MODEL))
	@$(CC) -shared -o $@ $^ $(LDLIBS)

$(MUTATION)/reached/libmodel.so: $(patsubst %.c,$(MUTATION)/reached/%.o,$(MODEL))
	@$(CC) -shared --coverage -o $@ $^ $(LDLIBS)

# Which libmodel.so they meet is said by LD_LIBRARY_PATH.
$(MUTANT_BIN): $(MUTATION)/bin/%: $(BUILD)/tests/%.o $(call OBJECT,$(SUPPORT)) $(MUTANT_SHELL) \
               | $(MUTATION)/plain/libmodel.so
	@mkdir -p $(@D)
	@$(CC) -fopenmp -o $@ $^ -L$(MUTATION)/plain -lmodel $(LDLIBS) -lcmocka

$(MUTATION)/bin/unit/test_corpus: $(FUZZ_PARTS)

$(MUTATION)/brevis: $(call OBJECT,$(CLI)) | $(MUTATION)/plain/libmodel.so
	@$(CC) -fopenmp -o $@ $^ -L$(MUTATION)/plain -lmodel $(LDLIBS)

mutation-ready: $(MUTATION)/mutate $(MUTATION)/brevis $(MUTANT_BIN) $(MUTATION)/plain/libmodel.so \
                $(MUTATION)/reached/libmodel.so

mutation: need-test
	@$(MAKE) --no-print-directory mutation-ready
	@sh tests/mutation/map.sh $(MUTATION) $(patsubst tests/%.c,%,$(TESTS))
	@MUTANT_CC='$(MUTANT_CC)' MUTANT_LINK='$(CC) -shared' MUTANT_LIBS='$(LDLIBS)' \
	    sh tests/mutation/mutation.sh $(MUTATION) $(or $(SEED),1) $(or $(N),200)

# The maker of mutants looked at by itself: half a minute.
mutation-try: $(MUTATION)/mutate
	@sh tests/mutation/try.sh $<

-include $(patsubst %.c,$(MUTATION)/plain/%.d,$(MODEL)) $(patsubst %.c,$(MUTATION)/reached/%.d,$(MODEL))
