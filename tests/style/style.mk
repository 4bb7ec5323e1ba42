# What gcc's analyzer says of each file of model/ and cli/, again only for files that changed since; tests/style/check.sh
# reads it and says what is wrong. No code is made. Where gcc is missing nothing is looked at, and check.sh says so.

.PHONY: analyze
ANALYZED := $(patsubst %.c,$(BUILD)/analyzed/%.txt,$(MODEL) $(CLI))
WATCH    := -std=c11 -O2 -ffp-contract=off $(if $(filter 1,$(OPENMP)),-fopenmp,-Wno-unknown-pragmas) \
            -fanalyzer -fdiagnostics-plain-output

analyze: $(ANALYZED)

$(BUILD)/analyzed/%.txt: %.c tests/style/analyzed.h
	@mkdir -p $(@D)
	@gcc $(WATCH) $(DEFINE) $(INCLUDE) -Icli $(if $(filter %/status.c,$<),,-include tests/style/analyzed.h) \
	    -MMD -MP -MF $(@:.txt=.d) -MT $@ -c -o /dev/null $< 2>$@.part || { cat $@.part; exit 1; }
	@mv $@.part $@

-include $(ANALYZED:.txt=.d)
