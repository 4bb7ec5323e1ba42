# Scenarios over all that the key table allows, each in a process of its own; see tests/stress/draw.h and examine.h.
#     make stress               2,000 of them, two at a time; the table goes to build/stress/worst.txt
#     make stress N=200 SEED=7  other ones
#     make stress ONLY=10017    one of them again, with its text
.PHONY: stress

STRESS_PARTS := $(filter-out tests/stress/stress.c tests/stress/test_%,$(sort $(wildcard tests/stress/*.c)))
STRESS       := $(patsubst %.c,$(BUILD)/%,$(wildcard tests/stress/test_*.c)) $(BUILD)/tests/stress/stress
TESTBIN      += $(filter $(BUILD)/tests/stress/test_%,$(STRESS))

$(STRESS): $(BUILD)/tests/%: $(BUILD)/tests/%.o $(call OBJECT,$(STRESS_PARTS)) $(call OBJECT,$(SUPPORT)) \
           $(call OBJECT,$(filter-out cli/main.c cli/command/%,$(CLI))) $(BUILD)/libbrevis.a
	@$(CC) $(CFLAGS) -o $@ $^ $(LDLIBS) -lcmocka

stress: need-test
	@$(MAKE) --no-print-directory $(BUILD)/brevis $(BUILD)/tests/stress/stress
	@mkdir -p $(BUILD)/stress
	@$(BUILD)/tests/stress/stress $(BUILD)/brevis $(BUILD)/stress/worst.txt '$(N)' '$(SEED)' '$(ONLY)'

-include $(patsubst %.o,%.d,$(call OBJECT,$(wildcard tests/stress/*.c)))
