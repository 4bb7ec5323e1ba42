/* Scenarios for the stress run, over the whole ranges of the key table and on their ends.
 * Two ways, told apart by the number of a scenario:
 *     below STRESS_WIDE   rows of a covering design: some keys at the least or the most that they may be (a word at each
 *                         of its words), the rest at defaults, so that over all rows every two such values meet that the
 *                         check lets meet. They do not depend on the seed.
 *     STRESS_WIDE + k     drawn at random: every key may be given, even in the logarithm where its range spans a decade,
 *                         one in eight on an end of it.
 * The scenarios of support/random.h are a gentler set: endless beams or spots without walks of photons, 6 layers at most,
 * lesions in one layer, a dozen pulses, no film and no body site, indices of skin only, and never on the end of a range.
 * What every scenario may hold but no run looks at is left out: ladder, cover, room, visits, a measured colour.        */
#ifndef BRV_TESTS_STRESS_DRAW_H
#define BRV_TESTS_STRESS_DRAW_H

#include "scenario/keys.h"

#include <stdio.h>

enum { STRESS_WIDE = 10000, STRESS_MOST_RULES = 64, STRESS_MOST_ROWS = 4000, STRESS_ROW_KEYS = 10 };

/* Of a run that asks for nothing else. */
enum { STRESS_USUAL_N = 2000 };
#define STRESS_USUAL_SEED 20261126UL

/* A walk stops after so many photons: what a scenario may ask for takes hours, and the next one does the same thing again. */
#define STRESS_MOST_PHOTONS 1e4

/* What the check refused, by the rule that refused it. */
struct stress_rule {
    char text[160]; /* the key and what was wrong with it */
    size_t n;
};

struct stress_refusals {
    size_t n_rule, drawn, accepted;
    struct stress_rule rule[STRESS_MOST_RULES];
};

struct stress_drawn {
    size_t number, redrawn;
    struct brv_scenario drawn; /* what is given */
    struct brv_scenario ask;   /* the same, filled; sound */
};

/* Value `level` of factor `factor`. */
struct stress_pick {
    int factor, level;
};

struct stress_row {
    size_t n;
    struct stress_pick pick[STRESS_ROW_KEYS];
};

struct stress_design {
    size_t n_row, n_pair, n_covered; /* pairs that there are, and that stand in some row; the others were refused */
    struct stress_row row[STRESS_MOST_ROWS];
    struct stress_refusals refusals; /* of pairs, each tried with the rest at defaults */
};

void stress_design_make(struct stress_design *design);

/* The scenario of this number. Refused ones are drawn again, and counted where `refusals` is not NULL. */
void stress_draw(struct stress_drawn *one, const struct stress_design *design, unsigned long seed, size_t number,
                 struct stress_refusals *refusals);

/* Draws at random: not filled, maybe refused. */
struct brv_scenario stress_wide(unsigned long seed, size_t number, size_t again);

/* Fills and checks; false and counted when it is refused. */
bool stress_sound(struct brv_scenario *filled, const struct brv_scenario *drawn, struct stress_refusals *refusals);

/* Sets a key and marks it as given, rounded to what its text holds. */
void stress_set(void *scope_struct, enum brv_scope scope, const char *name, double value);
void stress_set_key(void *scope_struct, size_t key, double value);
void stress_take_back(void *scope_struct, enum brv_scope scope, const char *name);

/* The scenario as a file, exactly. */
void stress_write(FILE *file, const struct brv_scenario *drawn);

void stress_refusals_print(FILE *file, const struct stress_refusals *refusals);

#endif
