# Laying the program, the library, its headers, figures, scenarios and pages out under PREFIX, and taking them away again.
# DESTDIR goes in front of every path and stands in none of the files. No rights are needed where DESTDIR may be written.

PREFIX  ?= /usr/local
LIBDIR  ?= $(PREFIX)/lib
ZSHDIR  ?= $(PREFIX)/share/zsh/site-functions
DESTDIR ?=

.PHONY: install uninstall deb need-deb

# The program again with the place where its files will lie in the place of this folder: put together aside, so that
# installing as root leaves nothing of root's in build/.
install: private DEFINE := $(subst BRV_DATA='"$(CURDIR)"',BRV_DATA='"$(PREFIX)/share/brevis"',$(DEFINE))
install: $(BUILD)/brevis $(MANUAL) $(COMPLETION)
	@part=$$(mktemp -d) && trap 'rm -rf "$$part"' EXIT && \
	$(CC) $(CFLAGS) $(WARN) $(DEFINE) $(INCLUDE) -Icli -c -o "$$part/place.o" cli/report/place.c && \
	$(CC) $(CFLAGS) $(HARDEN_LINK) -o "$$part/brevis" $(filter-out %/report/place.o,$(call OBJECT,$(CLI))) "$$part/place.o" \
	    $(BUILD)/libbrevis.a $(LDLIBS) && \
	VERSION='$(VERSION)' PREFIX='$(PREFIX)' LIBDIR='$(LIBDIR)' ZSHDIR='$(ZSHDIR)' DESTDIR='$(DESTDIR)' \
	PROGRAM="$$part/brevis" LIBRARY='$(BUILD)/libbrevis.a' MANUAL='$(MANUAL)' COMPLETION='$(COMPLETION)' \
	LINK='$(strip $(filter -fopenmp -fsanitize% --coverage,$(CFLAGS)) -lm)' sh .packaging/install.sh install

uninstall:
	@PREFIX='$(PREFIX)' DESTDIR='$(DESTDIR)' sh .packaging/install.sh uninstall

# A package for this machine's Debian, built in a copy of what it needs.
need-deb:
	@sh .ci/need.sh deb

deb: need-deb
	@VERSION='$(VERSION)' BUILD='$(BUILD)' sh .packaging/deb.sh
