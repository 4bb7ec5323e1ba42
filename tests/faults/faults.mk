# What happens when memory, disk, time or another program fails: `make faults`. Needs a program of its own, in which every
# call for memory passes tests/faults/allocation.c, under the address sanitizer.

.PHONY: faults faults-build

FAULTS    := $(BUILD)/faults
FAULTWRAP := malloc calloc realloc aligned_alloc memalign posix_memalign strdup strndup fopen fdopen open_memstream getline \
             opendir nftw vasprintf posix_spawn_file_actions_init posix_spawn_file_actions_addopen \
             posix_spawn_file_actions_adddup2 posix_spawnp pthread_create
# Archives where there are any: what a shared library asks for is out of the wrapper's reach.
ARCHIVE    = $(or $(filter /%,$(shell $(CC) -print-file-name=lib$(1).a)),-l$(1))
FAULTLIBS  = $(call ARCHIVE,gsl) $(call ARCHIVE,gslcblas) $(call ARCHIVE,yaml) $(call ARCHIVE,gomp) -lm -lpthread -ldl
comma     := ,

# The sanitized objects stand beside the others; -O1 so that a stack in a complaint can be read.
faults-build:
	@$(MAKE) -s --no-print-directory BUILD=$(FAULTS)/sanitized EXTRA='-O1 -fno-omit-frame-pointer -fsanitize=address,undefined' \
	    $(patsubst %.c,$(FAULTS)/sanitized/%.o,$(CLI)) $(FAULTS)/sanitized/libbrevis.a
	@$(CC) -std=c11 -O2 -Wall -Wextra -o $(FAULTS)/every_allocation tests/faults/every_allocation.c
	@$(CC) -std=c11 -O2 -Wall -Wextra -fPIC -shared -DPRELOAD -o $(FAULTS)/allocation.so tests/faults/allocation.c
	@$(CC) -std=c11 -O2 -Wall -Wextra -fPIC -shared -o $(FAULTS)/ending.so tests/faults/ending.c -ldl
	@$(CC) -std=c11 -O1 -g -c -o $(FAULTS)/allocation.o tests/faults/allocation.c
	@$(CC) -g -fsanitize=address,undefined -o $(FAULTS)/brevis $(patsubst %.c,$(FAULTS)/sanitized/%.o,$(CLI)) \
	    $(FAULTS)/sanitized/libbrevis.a $(FAULTS)/allocation.o $(addprefix -Wl$(comma)--wrap=,$(FAULTWRAP)) $(FAULTLIBS)

faults: need-test
	@$(MAKE) --no-print-directory $(BUILD)/brevis faults-build
	@sh tests/faults/faults.sh $(BUILD)
