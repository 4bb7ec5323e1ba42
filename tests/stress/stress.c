/* 2,000 scenarios over all that the key table allows: `make stress`, N= how many, SEED= others, ONLY= one of them with its
 * text. Ends with 1 when a run died, hung, or broke a bound; what they are: hold.h and below.                      */
#include "stress/pool.h"

#include <stdlib.h>
#include <string.h>

enum { THREADS_EVERY = 20, LINEAR_EVERY = 8, PROGRAM_IN_ALL = 50, MOST_SECONDS = 100, MOST_MEGABYTES = 1536 };

struct story {
    unsigned long seed;
    size_t n;
    const size_t *number;
    const char *program;
    struct stress_design design;
};

static struct story story;

static void examine(struct stress_finding *finding, size_t i, const void *context)
{
    const struct story *all = context;
    const size_t every = all->n > PROGRAM_IN_ALL ? all->n / PROGRAM_IN_ALL : 1;
    const struct stress_more more = {.threads = i % THREADS_EVERY == 0,
                                     .linear = i % LINEAR_EVERY == 0, /* three more solves of the heat */
                                     .program = i % every ? NULL : all->program};
    struct stress_drawn one;
    stress_draw(&one, &all->design, all->seed, all->number[i], NULL);
    stress_examine(finding, &one, &more);
}

/* How much was drawn again, and by which rules: the same draws as in the processes. */
static void print_draws(FILE *file)
{
    struct stress_refusals refusals = {.n_rule = 0};
    struct stress_drawn one;
    for (size_t i = 0; i < story.n; i++)
        if (story.number[i] >= STRESS_WIDE) stress_draw(&one, &story.design, story.seed, story.number[i], &refusals);
    fprintf(file,
            "pairs of values: %zu in all, %zu of them met in %zu rows; the others were refused, each alone with the "
            "rest at defaults, by\n",
            story.design.n_pair, story.design.n_covered, story.design.n_row);
    stress_refusals_print(file, &story.design.refusals);
    fprintf(file, "drawn at random (refused ones are drawn again)\n");
    stress_refusals_print(file, &refusals);
}

static int run_all(const char *table)
{
    struct stress_pool pool;
    if (!stress_pool_build(&pool, story.n)) return EXIT_FAILURE;
    stress_pool_number(&pool, &story.design);
    story.number = pool.number;
    stress_pool_run(&pool, examine, &story, MOST_SECONDS, MOST_MEGABYTES, true);
    stress_pool_again(&pool, examine, &story, MOST_SECONDS, MOST_MEGABYTES);
    FILE *file = fopen(table, "w");
    if (!file) {
        perror(table);
        return EXIT_FAILURE;
    }
    fprintf(file, "seed %lu\n", story.seed);
    print_draws(file);
    const size_t bad = stress_table(file, &pool, true);
    fclose(file);
    print_draws(stdout);
    stress_table(stdout, &pool, true);
    printf("%s; ONLY=NUMBER repeats one; the table is in %s\n", bad ? "BROKEN" : "all hold", table);
    stress_pool_free(&pool);
    return bad ? EXIT_FAILURE : EXIT_SUCCESS;
}

static int run_one(size_t number)
{
    struct stress_pool pool;
    struct stress_drawn one;
    if (!stress_pool_build(&pool, 1)) return EXIT_FAILURE;
    pool.number[0] = number % (STRESS_WIDE + STRESS_MOST);
    story.number = pool.number;
    story.n = 1;
    stress_draw(&one, &story.design, story.seed, number, NULL);
    printf("# seed %lu, scenario %zu\n", story.seed, number);
    stress_write(stdout, &one.drawn);
    fflush(stdout);
    stress_pool_run(&pool, examine, &story, MOST_SECONDS, MOST_MEGABYTES, false);
    const size_t bad = stress_table(stderr, &pool, true);
    stress_pool_free(&pool);
    return bad ? EXIT_FAILURE : EXIT_SUCCESS;
}

/* usage: stress PROGRAM TABLE [N [SEED [ONLY]]]; an empty word stands for the usual. */
int main(int argc, char *argv[])
{
    const char *word[6] = {"", "", "", "", "", ""};
    for (int i = 1; i < argc && i < 6; i++) word[i] = argv[i];
    if (!*word[2]) {
        fprintf(stderr, "usage: stress PROGRAM TABLE [N [SEED [ONLY]]]\n");
        return 2;
    }
    story.program = *word[1] ? word[1] : NULL;
    story.n = *word[3] ? strtoul(word[3], NULL, 10) : STRESS_USUAL_N;
    story.seed = *word[4] ? strtoul(word[4], NULL, 10) : STRESS_USUAL_SEED;
    if (story.n == 0 || story.n > STRESS_MOST) {
        fprintf(stderr, "stress: N is 1 to %d\n", (int)STRESS_MOST);
        return 2;
    }
    stress_design_make(&story.design);
    return *word[5] ? run_one(strtoul(word[5], NULL, 10)) : run_all(word[2]);
}
