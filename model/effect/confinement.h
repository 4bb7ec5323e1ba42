/* Stress confinement: how long sound takes across a grain. A pulse much shorter than this builds up pressure as if
 * it were instantaneous; pulses of 5-10 ns are not that short for a grain. Source: [photoacoustic], speed of sound
 * from memory.                                                                                                  */
#ifndef BRV_EFFECT_CONFINEMENT_H
#define BRV_EFFECT_CONFINEMENT_H

double brv_confinement_time(double diameter, double sound_speed); /* diameter / speed [s] */

#endif
