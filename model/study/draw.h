/* One draw of the uncertain inputs of a scenario: a scenario again.
 * u is even over 0 to 1. Half of the draws lie between low and the scenario's value, half between value and high, evenly
 * in the logarithm where high is 4 times low or more and low is above 0, else evenly; so the median is the scenario's
 * value. Where the value is itself an end, as the criterion is, draws lie in the same way between low and high.
 *
 * Every draw is a scenario that brv_scenario_check accepts: what would not fit is brought to the nearest value that
 * does. Tests: tests/unit/test_inputs.c, tests/property/test_draws.c. */
#ifndef BRV_STUDY_DRAW_H
#define BRV_STUDY_DRAW_H

#include "study/inputs.h"

/* The value of one input at u [0, 1]. */
double brv_draw_at(const struct brv_input *input, double u);

/* `draw` becomes the scenario with every input at its u: u[inputs->n]. */
void brv_draw_apply(struct brv_scenario *draw, const struct brv_scenario *ask, const struct brv_inputs *inputs,
                    const double u[]);

#endif
