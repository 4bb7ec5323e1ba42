/* Texts of scenarios of the stress run, for programs that are not in it: see commands.sh.
 * usage: texts FOLDER EVERY [SEED]: every EVERY-th row as FOLDER/row_NUMBER.yaml, and of the random ones of a usual run as
 * FOLDER/random_NUMBER.yaml; an empty word stands for the usual.                                                   */
#include "stress/draw.h"

#include <stdlib.h>

static struct stress_design design;

static bool write_one(const char *folder, unsigned long seed, size_t number)
{
    struct stress_drawn one;
    char path[4096];
    snprintf(path, sizeof path, "%s/%s_%zu.yaml", folder, number < STRESS_WIDE ? "row" : "random", number);
    FILE *file = fopen(path, "w");
    if (!file) return false;
    stress_draw(&one, &design, seed, number, NULL);
    stress_write(file, &one.drawn);
    return fclose(file) == 0;
}

int main(int argc, char *argv[])
{
    const size_t every = argc > 2 ? strtoul(argv[2], NULL, 10) : 0;
    const unsigned long seed = argc > 3 && *argv[3] ? strtoul(argv[3], NULL, 10) : STRESS_USUAL_SEED;
    if (every == 0) {
        fprintf(stderr, "usage: texts FOLDER EVERY [SEED]\n");
        return 2;
    }
    stress_design_make(&design);
    for (size_t i = 0; i < design.n_row; i += every)
        if (!write_one(argv[1], seed, i)) return EXIT_FAILURE;
    for (size_t i = 0; i < STRESS_USUAL_N; i += every)
        if (!write_one(argv[1], seed, STRESS_WIDE + i)) return EXIT_FAILURE;
    return EXIT_SUCCESS;
}
