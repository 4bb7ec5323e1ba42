# Scenarios over all that the key table allows, each in a process of its own; see tests/stress/draw.h and examine.h.
#     make stress               2,000 of them, two at a time; the table goes to build/stress/worst.txt
#     make stress N=200 SEED=7  other ones
#     make stress ONLY=10017    one of them again, with its text
#     make stress-commands      the other commands on every 50th of them; see commands.sh
.PHONY: stress stress-commands

STRESS_PARTS := $(filter-out tests/stress/stress.c tests/stress/texts.c tests/stress/test_%,$(sort $(wildcard tests/stress/*.c)))
STRESS       := $(patsubst %.c,$(BUILD)/%,$(wildcard tests/stress/test_*.c)) $(BUILD)/tests/stress/stress $(BUILD)/tests/stress/texts
TESTBIN      += $(filter $(BUILD)/tests/stress/test_%,$(STRESS))

$(STRESS): $(BUILD)/tests/%: $(BUILD)/tests/%.o $(call OBJECT,$(STRESS_PARTS)) $(call OBJECT,$(SUPPORT)) \
           $(call OBJECT,$(filter-out cli/main.c cli/command/%,$(CLI))) $(BUILD)/libbrevis.a
	@$(CC) $(CFLAGS) -o $@ $^ $(LDLIBS) -lcmocka

stress: need-test
	@$(MAKE) --no-print-directory $(BUILD)/brevis $(BUILD)/tests/stress/stress
	@mkdir -p $(BUILD)/stress
	@$(BUILD)/tests/stress/stress $(BUILD)/brevis $(BUILD)/stress/worst.txt '$(N)' '$(SEED)' '$(ONLY)'

stress-commands: need-test
	@$(MAKE) --no-print-directory $(BUILD)/brevis $(BUILD)/tests/stress/texts
	@sh tests/stress/commands.sh '$(BUILD)/brevis' '$(BUILD)/tests/stress/texts' '$(or $(EVERY),50)' '$(SEED)'

-include $(patsubst %.o,%.d,$(call OBJECT,$(wildcard tests/stress/*.c)))
