/* What the layers would do with paler and with darker grains: part of the front of this folder.
 * The light of such skin is known as a ratio to the light that was solved for (light/light_sensitivity.h). Heat laid down by
 * it, and by what such grains take up, is conducted again in the layers; a rise that has come from elsewhere cannot be had
 * from the light at the place where it is read. What leaves sideways is scaled by the energies instead.
 * Test: tests/verification/test_sensitivity.c.                                                                      */
#ifndef BRV_HEAT_HEAT_ANSWER_H
#define BRV_HEAT_HEAT_ANSWER_H

#include "heat/heat.h"
#include "heat/heat_layers.h"

/* Call it when the layers have run and nothing has left sideways: keeps their curves. */
void brv_answer_begin(struct brv_history *history, const struct brv_layers *layers);

/* When all of it has: fills history->other at the probes of the layers, whose chain is run again. */
brv_status brv_answer_run(struct brv_history *history, struct brv_layers *layers, const struct brv_heat_ask *ask,
                          struct brv_error *error) BRV_MUST_CHECK;

#endif
