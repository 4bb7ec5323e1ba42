/* Texts of scenarios of the stress run, for programs that are not in it: see commands.sh.
 * usage: texts FOLDER EVERY SEED N: every EVERY-th of the first N random ones and of the rows, as FOLDER/NUMBER.yaml */
#include "stress/draw.h"

#include <stdlib.h>

static struct stress_design design;

static bool write_one(const char *folder, unsigned long seed, size_t number)
{
    struct stress_drawn one;
    char path[4096];
    snprintf(path, sizeof path, "%s/%zu.yaml", folder, number);
    FILE *file = fopen(path, "w");
    if (!file) return false;
    stress_draw(&one, &design, seed, number, NULL);
    stress_write(file, &one.drawn);
    return fclose(file) == 0;
}

int main(int argc, char *argv[])
{
    if (argc != 5) return 2;
    const size_t every = strtoul(argv[2], NULL, 10), n = strtoul(argv[4], NULL, 10);
    const unsigned long seed = strtoul(argv[3], NULL, 10);
    if (every == 0) return 2;
    stress_design_make(&design);
    for (size_t i = 0; i < design.n_row; i += every)
        if (!write_one(argv[1], seed, i)) return EXIT_FAILURE;
    for (size_t i = 0; i < n; i += every)
        if (!write_one(argv[1], seed, STRESS_WIDE + i)) return EXIT_FAILURE;
    return EXIT_SUCCESS;
}
