/* Hands one target, named when this is compiled, to libFuzzer; at the end it says how much the model solved. */
#include "fuzz/fuzz.h"

#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);
int LLVMFuzzerInitialize(int *argc, char ***argv);
size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t room, unsigned seed);
size_t LLVMFuzzerMutate(uint8_t *data, size_t size, size_t room);

static void tell(void)
{
    if (fuzz_sound)
        fprintf(stderr, "model: %lu sound, %lu solved, %lu given up with words\n", fuzz_sound, fuzz_solved,
                fuzz_given_up);
}

int LLVMFuzzerInitialize(int *argc, char ***argv)
{
    (void)argc;
    (void)argv;
    fuzz_sparing = true;
    return atexit(tell);
}

/* Most of what is changed at random is no scenario any more. For the target that wants one that is, three changes of four
 * put another value in a range of the table of keys in place of a number of the text.                               */
static size_t change_number(uint8_t *data, size_t size, size_t room, unsigned seed)
{
    char text[FUZZ_LONGEST + 1];
    const size_t changed = fuzz_change(text, sizeof text, data, size, seed);
    if (changed == 0 || changed > room) return 0;
    memcpy(data, text, changed);
    return changed;
}

size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t room, unsigned seed)
{
    size_t changed = 0;
    if (FUZZ_TARGET == fuzz_whole && seed % 4) changed = change_number(data, size, room, seed / 4);
    return changed ? changed : LLVMFuzzerMutate(data, size, room);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    FUZZ_TARGET(data, size);
    return 0;
}
