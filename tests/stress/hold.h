/* Bounds: what was found over what it may be, the worst of them and the first that does not hold. */
#ifndef BRV_TESTS_STRESS_HOLD_H
#define BRV_TESTS_STRESS_HOLD_H

#include "run/run.h"
#include "stress/examine.h"

/* |found| may be `bound`; what is no number breaks any bound. */
void stress_hold(struct stress_finding *finding, const char *what, double found, double bound);

/* A thing that holds or not. */
void stress_hold_true(struct stress_finding *finding, const char *what, bool holds);

/* Light, heat and what is read off them, of one site (answers.c). */
void stress_answer(struct stress_finding *finding, const struct brv_scenario *ask, const struct brv_site *site);

/* Twice the light is twice the heat; the layers' heats add up (linear.c). */
void stress_linear(struct stress_finding *finding, const struct brv_scenario *ask, const struct brv_site *site);

/* The text of the scenario is read as it was drawn; what the program does with it (words.c). */
void stress_reading(struct stress_finding *finding, const struct stress_drawn *one);
void stress_telling(struct stress_finding *finding, const struct stress_drawn *one, const struct brv_result *result);
void stress_program(struct stress_finding *finding, const struct stress_drawn *one, const char *program,
                    brv_status status);

/* Highest rise of any cell or curve [K]. */
double stress_warmest(const struct brv_history *history);

#endif
