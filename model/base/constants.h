/* Numbers that are the same in every scenario, SI. Names in brackets are keys of docs/sources.md. */
#ifndef BRV_BASE_CONSTANTS_H
#define BRV_BASE_CONSTANTS_H

#define BRV_PI          3.14159265358979323846
#define BRV_ZERO_C      273.15 /* 0 degC [K], exact by definition */
#define BRV_ROOT_HALF   0.70710678118654752440
#define BRV_SOUND_SPEED 1500.0 /* in tissue [m/s]; 1450-1580. Source: [photoacoustic], from memory */

/* Blood that carries heat away, and the spread of a grain's darkness (ten-fold between low and high). */
#define BRV_BLOOD_DENSITY       1050.0 /* [kg/m3]; 1040-1060. Source: [tissue-database], from memory  */
#define BRV_BLOOD_HEAT_CAPACITY 3617.0 /* [J/kg/K]; 3500-3800. Source: [tissue-database], from memory */
#define BRV_DARKNESS_LOW        0.316  /* Source: [jacques-1998], ten-fold variability, seen */
#define BRV_DARKNESS_HIGH       3.16

/* Heat that still air takes from skin, its thermal radiation included [W/m2/K]; 5-20.
 * Source: [surface-coefficients], from memory                                                                   */
#define BRV_AIR_TRANSFER 10.0

/* Diffusivity used in relaxation-time formulas [m2/s]; 1.1e-7 to 1.5e-7. Source: [trade-diffusivity], from memory */
#define BRV_TRADE_DIFFUSIVITY 1.3e-7

#endif
