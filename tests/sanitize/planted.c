/* Faults on purpose, one a word: each sanitizer must report its own before its silence about the program counts, and must
 * be silent about `clean`, which shares a sum as `race` does but by an atomic. volatile keeps the compiler from seeing
 * through them.                                                                                                        */
#include "base/team.h"

#include <limits.h>
#include <sched.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int overflow(void)
{
    volatile size_t beyond = 4;
    int *few = calloc(4, sizeof *few);
    const int found = few ? few[beyond] : 0;
    free(few);
    return found;
}

static int leak(void)
{
    void *volatile lost = malloc(32);
    lost = NULL;
    return lost != NULL;
}

static int whole(void)
{
    volatile int most = INT_MAX;
    volatile int next = most + 1; /* a comparison in its place would be worked out without the sum */
    return next < 0;
}

static int unset(void)
{
    int *volatile never = malloc(sizeof *never);
    if (!never) return 1;
    const int code = *never > 7 ? 2 : 3; /* a branch on what nobody wrote */
    free(never);
    return code;
}

/* On a busy machine one thread could do all items before another begins, and there would be no race: an item waits a
 * while for a second one, and lets others in between: of races that are over at once half went unseen. Relaxed, so that
 * the wait itself puts nothing in order.                                                                             */
static brv_status add(void *context, size_t i, struct brv_error *error)
{
    static atomic_uint begun;
    volatile size_t *sum = context;
    (void)error;
    atomic_fetch_add_explicit(&begun, 1, memory_order_relaxed);
    for (long k = 0; k < 100000000 && atomic_load_explicit(&begun, memory_order_relaxed) < 2; k++) {
    }
    for (size_t k = 0; k < 1000; k++) {
        *sum += i;
        sched_yield();
    }
    return BRV_OK;
}

static brv_status add_together(void *context, size_t i, struct brv_error *error)
{
    (void)error;
    for (size_t k = 0; k < 1000; k++) atomic_fetch_add((atomic_size_t *)context, i);
    return BRV_OK;
}

static int race(void)
{
    size_t sum = 0;
    return (int)brv_team_run(64, 4, add, &sum, NULL);
}

static int clean(void)
{
    atomic_size_t sum = 0;
    const int status = (int)brv_team_run(64, 4, add_together, &sum, NULL);
    return status || sum != 1000u * (63 * 64 / 2);
}

int main(int n, char **word)
{
    static const struct {
        const char *word;
        int (*work)(void);
    } faults[] = {{"overflow", overflow}, {"leak", leak}, {"whole", whole},
                  {"unset", unset},       {"race", race}, {"clean", clean}};
    for (size_t i = 0; n == 2 && i < sizeof faults / sizeof *faults; i++)
        if (strcmp(word[1], faults[i].word) == 0) return faults[i].work();
    fputs("usage: planted overflow|leak|whole|unset|race|clean\n", stderr);
    return 2;
}
