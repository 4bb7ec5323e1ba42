/* The inputs of tests/fuzz/corpus, through the same targets as the fuzzer's: what was found once stays mended. */
#include "support/check.h"

#include "fuzz/fuzz.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PATH_SIZE = 1024, LEAST = 3 };

/* A file's bytes, to be freed. */
static uint8_t *bytes_of(const char *path, size_t *size)
{
    FILE *from = fopen(path, "rb");
    assert_non_null(from);
    assert_int_equal(fseek(from, 0, SEEK_END), 0);
    *size = (size_t)ftell(from);
    rewind(from);
    uint8_t *bytes = malloc(*size + 1);
    assert_non_null(bytes);
    assert_int_equal(fread(bytes, 1, *size, from), *size);
    fclose(from);
    return bytes;
}

/* Every file of a folder in one target, and what no file is: no bytes at all. */
static void replay(const char *name, fuzz_target *target)
{
    char folder[PATH_SIZE], path[2 * PATH_SIZE];
    size_t n = 0, size;
    snprintf(folder, sizeof folder, "%s/tests/fuzz/corpus/%s", BRV_DATA, name);
    DIR *all = opendir(folder);
    assert_non_null(all);
    for (const struct dirent *file; (file = readdir(all));) {
        if (*file->d_name == '.') continue;
        snprintf(path, sizeof path, "%s/%s", folder, file->d_name);
        uint8_t *bytes = bytes_of(path, &size);
        fuzz_input = path;
        target(bytes, size);
        free(bytes);
        n++;
    }
    closedir(all);
    fuzz_input = "no bytes";
    target((const uint8_t *)"", 0);
    printf("%s: %zu inputs\n", name, n);
    assert_true(n >= LEAST); /* an empty folder tests nothing */
}

#define REPLAY(name)                                                                                                   \
    static void name(void **state)                                                                                     \
    {                                                                                                                  \
        (void)state;                                                                                                   \
        replay(#name, fuzz_##name);                                                                                    \
    }
REPLAY(scenario)
REPLAY(quantity)
REPLAY(set)
REPLAY(vary)
REPLAY(csv)
REPLAY(part)
REPLAY(json)

static void whole(void **state)
{
    (void)state;
    replay("whole", fuzz_whole);
    printf("model: %lu sound, %lu solved, %lu given up with words\n", fuzz_sound, fuzz_solved, fuzz_given_up);
    assert_true(fuzz_solved >= 3); /* or nothing of the model was looked at */
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(scenario), cmocka_unit_test(quantity), cmocka_unit_test(set),
                                       cmocka_unit_test(vary),     cmocka_unit_test(csv),      cmocka_unit_test(part),
                                       cmocka_unit_test(json),     cmocka_unit_test(whole)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
