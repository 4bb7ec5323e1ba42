/* How the light answers to darker and to paler pigment: part of the front of this folder.
 * Pigment that is 3.16 times as dark takes up more light, so there is less of it in and below its layers. Two more solves, for
 * grains BRV_DARKNESS_LOW and BRV_DARKNESS_HIGH times as dark, give the ratio of the light there to the light that was
 * solved for; the heat of a grain and of its layer is then scaled by that and by what a darker grain takes up, and that of
 * depths and other layers is conducted again (heat/heat_answer.h).
 * Good to 1 % of the rise of a grain and of its layer, 2 % of that of the surface and the dermis, 6 % of the threshold of a
 * sign: tests/verification/test_sensitivity.c.                                                                      */
#ifndef BRV_LIGHT_LIGHT_SENSITIVITY_H
#define BRV_LIGHT_LIGHT_SENSITIVITY_H

#include "light/light.h"

/* Fills light->sensitivity of a solved light. A walk of photons is answered by the kernel for spots: its noise would
 * drown the ratio. */
brv_status brv_light_sense(struct brv_light *light, const struct brv_scenario *ask, size_t which,
                           const struct brv_control *control, struct brv_error *error) BRV_MUST_CHECK;

/* Light at a depth over that of the scenario's own darkness, k = 0 paler, 1 darker; 1 where nothing was sensed [1]. */
double brv_light_answer(const struct brv_light *light, size_t k, double depth);

#endif
