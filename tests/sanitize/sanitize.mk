# The program under tools that see what no test sees, the same bytes from other builds, and which lines tests reach.
# tests/sanitize/left_out.txt names what each set leaves out, and why.

.PHONY: sanitize builds coverage uncovered programs

SET      ?= full
SANITIZE := -fsanitize=address,undefined -fno-sanitize-recover=undefined
COVERED  := -O1 --coverage -fprofile-update=atomic -DCOUNTS_LINES # -O1: a run of the suite takes half as long as with -O0

# `make sanitize SET=short` is for every change, `make sanitize` for a night or a release.
sanitize: need-test
	@sh .ci/need.sh sanitize || echo 'parts whose tool is not here are left out and named'
	@MAKE='$(MAKE)' SANITIZE='$(SANITIZE)' sh tests/sanitize/sanitize.sh '$(BUILD)' '$(SET)'

# Results of a build without OpenMP and of one by clang, beside those of this one.
builds: need-demo
	@MAKE='$(MAKE)' sh tests/sanitize/builds.sh '$(BUILD)'

# Every test program, for a build that only has to be without a warning.
programs: $(TESTBIN)

# Share of the lines of model/ and cli/ that the tests reach, and the page of those they do not; needs gcovr.
coverage: need-test
	@sh .ci/need.sh coverage
	@rm -rf $(BUILD)/coverage
	@$(MAKE) --no-print-directory test BUILD=$(BUILD)/coverage CC=gcc EXTRA='$(COVERED)'
	@$(MAKE) --no-print-directory uncovered

# The figures and the page again, from a run that is there already.
uncovered:
	@sh tests/sanitize/uncovered.sh '$(BUILD)/coverage'

$(BUILD)/tests/sanitize/planted: $(BUILD)/tests/sanitize/planted.o $(BUILD)/libbrevis.a
	@$(CC) $(CFLAGS) -o $@ $^ $(LDLIBS)

-include $(BUILD)/tests/sanitize/planted.d
